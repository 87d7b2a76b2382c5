/** What a run keeps of its colour, what differs when it is repeated, and what a colour book can not know of a job. */
import { describe, expect, it } from 'vitest';
import { bathState } from '../../../core/bath/bath-state.ts';
import { dipsApart, type ToBeDyed } from '../../../core/finish/dips-apart.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, changeBath } from '../../../core/job/edit-job.ts';
import { changeFinishSection, setAlloy } from '../../../core/job/edit-wet.ts';
import type { Job } from '../../../core/job/job.ts';
import { newStepClock } from '../../../core/run/step-clock.ts';
import type { BathRecord } from '../../../core/shop/bath-record.ts';
import { repeatDifferences } from '../../../core/shop/repeat-differences.ts';
import { runFinishOf, stepTookS } from '../../../core/shop/run-finish.ts';
import { runRecordSchema, type RunRecord } from '../../../core/shop/run-record.ts';
import { valueOf } from '../value-of.ts';

const START = 1_700_000_000_000;

function dyedJob(): Job {
  let job = addPart(emptyJob('plate'), newPart('p', 'plate.stl', 3, 'mm', true));
  job = setAlloy(addPart(job, newPart('q', 'ring.stl', 3, 'mm', true)), 'p', '6082');
  job = setAlloy(job, 'q', '2024');
  job = changeFinishSection(job, 'dye', {
    use: true,
    name: 'Red',
    timeS: 420,
    temperatureK: 333.15,
    ph: 5.5,
  });
  return changeBath(job, { shopBathId: 'tub', volumeM3: 0.02, acidKgPerM3: 180, aluminiumKgPerM3: 4 });
}

/** Dyed for `dyedS`, sealed for an hour. */
function runOf(job: Job, dyedS: number, change: Partial<RunRecord> = {}): RunRecord {
  const clock = newStepClock([
    { kind: 'dye', label: 'Dye', plannedS: 420 },
    { kind: 'seal', label: 'Seal', plannedS: 3810 },
  ]);
  return runRecordSchema.parse({
    id: 'r1',
    name: 'Red plate',
    createdAtMs: START,
    endedAtMs: START + dyedS * 1000 + 3_600_000,
    outcome: 'good',
    origin: 'typed',
    plan: {
      areaM2: 0.04,
      currentDensityAPerM2: 150,
      chargePerVolumeCPerM3: 1.83e10,
      chargeRelativeUncertainty: 0.1,
      chargeSource: { standing: 'published', text: '' },
      thicknessM: 25.4e-6,
      rampS: 300,
      holdS: 3000,
      supplyCurrentLimitA: null,
      supplyVoltageLimitV: null,
      bathTemperatureK: 293.15,
      acidKgPerM3: 180,
      expectedVoltageV: 15,
    },
    clock: {
      ...clock,
      marks: [
        { kind: 'begin', atMs: START },
        { kind: 'next', atMs: START + dyedS * 1000 },
        { kind: 'next', atMs: START + dyedS * 1000 + 3_600_000 },
      ],
    },
    dye: 'Red',
    finish: runFinishOf(job, [{ partId: 'p', count: 1 }]),
    ...change,
  });
}

describe('a run’s colour record', () => {
  it('holds alloy, dye, seal, bath and what was really done, and is null in older runs', () => {
    const run = runOf(dyedJob(), 450);
    // Only the part that hung in this load.
    expect(run.finish).toMatchObject({
      alloys: ['6082'],
      dye: { timeS: 420, temperatureK: 333.15, ph: 5.5, dyeKgPerM3: 5 },
      seal: { way: 'hot water' },
      shopBathId: 'tub',
      aluminiumKgPerM3: 4,
    });
    expect(stepTookS(run, 'dye')).toBe(450);
    expect(stepTookS(run, 'seal')).toBe(3600);
    expect(stepTookS(run, 'hold')).toBeNull();
    const { finish: _, ...older } = run;
    expect(runRecordSchema.parse(older).finish).toBeNull();
  });
});

describe('a run that is repeated', () => {
  const job = dyedJob();
  const book: BathRecord = {
    id: 'tub',
    name: 'Blue tub',
    note: '',
    entries: [
      { kind: 'made', at: '2020-01-01T08:00:00Z', volumeM3: 0.02, freeAcidKgPerM3: 180, aluminiumKgPerM3: 4 },
    ],
  };
  const said = (run: RunRecord, record = book): string =>
    repeatDifferences(run, job, { record, state: valueOf(bathState(record.entries)) }, 'metric').join(' ');
  const facts = (change: object) =>
    ({
      readings: 9,
      chargeC: 1,
      highChargeC: 1,
      energyJ: 1,
      gapS: 0,
      durationS: 3300,
      steadyVoltageV: 15,
      steadyCurrentA: 6,
      steadyTemperatureK: 293.15,
      firstTemperatureK: 293.15,
      lastTemperatureK: 294,
      troubled: false,
      ...change,
    }) as RunRecord['facts'];

  it('says nothing where it went as planned in the same bath', () => {
    expect(said(runOf(job, 430, { facts: facts({}) }))).toBe('');
  });

  it('tells the time really dyed, the bath’s temperature, the current and the film', () => {
    const run = runOf(job, 630, {
      facts: facts({ firstTemperatureK: 296.15, steadyCurrentA: 5 }),
      measured: { filmM: [20e-6], massLoss: null },
    });
    expect(said(run)).toMatch(/in the dye for 10:30 min:s; 7:00 min:s are planned/);
    expect(said(run)).toMatch(/bath was at 23\.0 °C at the start; 20\.0 °C is planned/);
    // 0.04 m² · 150 A/m² = 6 A.
    expect(said(run)).toMatch(/5\.00 A flowed; 6\.00 A are planned/);
    expect(said(run)).toMatch(/film came out at 20\.0 µm; 25\.4 µm is planned/);
  });

  it('tells that the bath is older: runs since, acid and aluminium now', () => {
    const older: BathRecord = {
      ...book,
      entries: [
        ...book.entries,
        {
          kind: 'run',
          at: '2030-01-02T08:00:00Z',
          chargeC: 2e4,
          areaM2: 0.04,
          chargePerVolumeCPerM3: 1.83e10,
        },
        { kind: 'titrated', at: '2030-01-03T08:00:00Z', freeAcidKgPerM3: 165, aluminiumKgPerM3: 9 },
      ],
    };
    const text = said(runOf(job, 420), older);
    expect(text).toMatch(
      /Blue tub has had 1 run since\. Blue tub was titrated, topped up or drawn from since\./,
    );
    expect(text).toMatch(/165 g\/L of free acid now; the job has 180 g\/L/);
    expect(text).toMatch(/9\.00 g\/L of aluminium now; the job has 4\.00 g\/L/);
  });
});

describe('dips beside a job', () => {
  const dip = { timeS: 120, thicknessM: 15e-6, alloy: '6082', ph: 5.5, dyeKgPerM3: 5 };
  const same: ToBeDyed = { thicknessM: 15e-6, alloys: [{ name: '6082', loads: [] }], ph: 5.5, dyeKgPerM3: 5 };
  const said = (change: Partial<ToBeDyed>, model: 'diffusion' | 'second order' = 'second order'): string =>
    dipsApart({ model }, [dip, { ...dip, timeS: 300 }], { ...same, ...change }, 'metric').join(' ');

  it('that cover it say nothing; a thicker film, another alloy, pH or strength is told', () => {
    expect(said({})).toBe('');
    expect(said({ alloys: [], ph: null, dyeKgPerM3: null })).toBe('');
    expect(said({ thicknessM: 25e-6 })).toMatch(
      /films of 15 µm.*this job’s is 25 µm.*does not tell films apart/,
    );
    expect(said({ thicknessM: 25e-6 }, 'diffusion')).not.toMatch(/does not tell/);
    expect(said({ alloys: ['6082', '2024'].map((name) => ({ name, loads: [] })) })).toMatch(
      /dips are on 6082; 2024 may take/,
    );
    // Each load is dyed by itself: which of them holds it is said.
    expect(said({ alloys: [{ name: '2024', loads: [2] }] })).toMatch(/6082; 2024 \(load 2\) may take/);
    expect(said({ alloys: [{ name: '2024', loads: [2, 3] }] })).toMatch(/2024 \(loads 2 and 3\) may take/);
    expect(said({ ph: 6.5 })).toMatch(/pH 6\.5, your dips were at 5\.5/);
    expect(said({ dyeKgPerM3: 10 })).toMatch(/made up with 10 g\/L, your dips were in 5\.0 g\/L/);
  });
});
