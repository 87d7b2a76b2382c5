import { zipSync, strToU8 } from 'fflate';
import { describe, expect, it } from 'vitest';
import { emptyJob } from '../../../core/job/default-job.ts';
import { takeOwnCharge } from '../../../core/job/edit-own-runs.ts';
import { changeProcess } from '../../../core/job/edit-job.ts';
import { chargeConstantSource } from '../../../core/electrical/charge-source.ts';
import { packReadings } from '../../../core/run/pack-readings.ts';
import { readingsFrom } from '../../../core/run/readings.ts';
import { newStepClock } from '../../../core/run/step-clock.ts';
import {
  bookTexts,
  readBook,
  SHELF_NAMES,
  whichWins,
  type BookRow,
  type ShelfName,
} from '../../../core/shop/book-file.ts';
import { exportRuns } from '../../../core/shop/export-runs.ts';
import { COMMA_CSV } from '../../../core/units/csv-style.ts';
import { findRuns, NO_FILTER } from '../../../core/shop/find-runs.ts';
import { learnFromRuns } from '../../../core/shop/learn-from-runs.ts';
import { dipFromRun } from '../../../core/shop/dip-from-run.ts';
import { runInBath } from '../../../core/shop/run-in-bath.ts';
import { measuredFilm } from '../../../core/shop/measured-film.ts';
import { runRecordSchema, type RunRecord } from '../../../core/shop/run-record.ts';
import { runSummary } from '../../../core/shop/run-summary.ts';

function record(change: Partial<RunRecord> = {}): RunRecord {
  return runRecordSchema.parse({
    id: 'r1',
    name: 'Blue plate',
    createdAtMs: 1_700_000_000_000,
    endedAtMs: 1_700_000_360_000,
    outcome: 'good',
    origin: 'typed',
    plan: {
      areaM2: 0.04,
      currentDensityAPerM2: 129,
      chargePerVolumeCPerM3: 1.83e10,
      chargeRelativeUncertainty: 0.1,
      chargeSource: { standing: 'published', text: '' },
      thicknessM: 25e-6,
      rampS: 300,
      holdS: 3000,
      supplyCurrentLimitA: null,
      supplyVoltageLimitV: null,
      bathTemperatureK: 293.15,
      acidKgPerM3: 180,
      expectedVoltageV: 15,
    },
    clock: newStepClock([{ kind: 'hold', label: 'Hold', plannedS: 3000 }]),
    ...change,
  });
}

const facts = (change: object = {}) => ({
  readings: 100,
  chargeC: 18_300,
  highChargeC: 18_300,
  energyJ: 18_300 * 15,
  gapS: 0,
  durationS: 3600,
  steadyVoltageV: 15,
  steadyCurrentA: 5.16,
  steadyTemperatureK: 293.15,
  firstTemperatureK: 293.15,
  lastTemperatureK: 294.15,
  troubled: false,
  ...change,
});

describe('a run in its bath’s history', () => {
  const powered = () => ({
    ...newStepClock([{ kind: 'hold' as const, label: 'Hold', plannedS: 3000 }]),
    marks: [
      { kind: 'begin' as const, atMs: 1_700_000_000_000, step: 0 },
      { kind: 'end' as const, atMs: 1_700_000_360_000, step: 0 },
    ],
  });

  it('counts with the charge that was delivered, at its end', () => {
    expect(runInBath(record({ facts: facts(), clock: powered() }))).toEqual({
      ok: true,
      value: {
        kind: 'run',
        at: '2023-11-14T22:19:20.000Z',
        chargeC: 18_300,
        areaM2: 0.04,
        chargePerVolumeCPerM3: 1.83e10,
      },
    });
  });

  it('a practise run and one still going on do not; one without readings says so', () => {
    expect(runInBath(record({ facts: facts(), origin: 'simulated' }))).toEqual({ ok: true, value: null });
    expect(runInBath(record({ facts: facts(), endedAtMs: null }))).toEqual({ ok: true, value: null });
    const blind = runInBath(record({ facts: facts({ readings: 0 }), clock: powered() }));
    expect(!blind.ok && blind.error.code).toBe('run-without-charge');
    // Ended before the power came on: there is nothing to count.
    expect(runInBath(record({ facts: null }))).toEqual({ ok: true, value: null });
  });
});

describe('the dip of a run', () => {
  const start = 1_700_000_000_000;
  const dyed = () => ({
    ...newStepClock([
      { kind: 'hold' as const, label: 'Hold', plannedS: 3000 },
      { kind: 'dye' as const, label: 'Dye', plannedS: 600 },
      { kind: 'seal' as const, label: 'Seal', plannedS: 1800 },
    ]),
    marks: [
      { kind: 'begin' as const, atMs: start, step: 0 },
      { kind: 'next' as const, atMs: start + 3_000_000, step: 1 },
      { kind: 'next' as const, atMs: start + 3_450_000, step: 2 },
      { kind: 'end' as const, atMs: start + 5_000_000, step: 2 },
    ],
  });
  const measured = { filmM: [12e-6, 14e-6], massLoss: null };

  it('is the time its dye step took, on the measured film, with the colour that came out', () => {
    const lab = { l: 40, a: 10, b: -50 };
    const dip = dipFromRun(
      record({ clock: dyed(), lab, labFrom: 'white paper', measured }),
      emptyJob('Blue plate'),
    );
    expect(dip).toMatchObject({ ok: true, value: { timeS: 450, colour: lab, note: 'Blue plate' } });
    expect(dip.ok && dip.value.thicknessM).toBeCloseTo(13e-6, 12);
  });

  it('without dye, colour or film there is none, and why is said', () => {
    const code = (change: Partial<RunRecord>): string => {
      const dip = dipFromRun(record(change), emptyJob('job'));
      return dip.ok ? '' : dip.error.code;
    };
    const lab = { l: 40, a: 10, b: -50 };
    expect(code({ lab, measured })).toBe('dip-without-dye');
    expect(code({ clock: dyed(), measured })).toBe('dip-without-colour');
    expect(code({ clock: dyed(), lab, labFrom: 'white paper' })).toBe('dip-without-film');
    // Older books kept the colour as the camera saw it: lamp and exposure would be in every time worked out from it.
    expect(code({ clock: dyed(), lab, measured })).toBe('dip-by-camera');
  });
});

describe('the measured film', () => {
  it('is the mean of the readings, with the smallest and largest', () => {
    const film = measuredFilm(record({ measured: { filmM: [24e-6, 26e-6, 25e-6], massLoss: null } }))!;
    expect(film.valueSi).toBeCloseTo(25e-6, 12);
    expect([film.lowSi, film.highSi]).toEqual([24e-6, 26e-6]);
  });

  it('or from mass loss: 2.5 g of a film of 2.5 g/cm³ on 400 cm² is 25 µm (ISO 2106)', () => {
    const film = measuredFilm(
      record({ measured: { filmM: [], massLoss: { coatedKg: 0.1025, strippedKg: 0.1 } } }),
    )!;
    expect(film.valueSi).toBeCloseTo(0.0025 / (2500 * 0.04), 12);
    expect(film.lowSi!).toBeLessThan(film.valueSi);
    expect(
      measuredFilm(record({ measured: { filmM: [], massLoss: { coatedKg: 0.1, strippedKg: 0.1 } } })),
    ).toBeNull();
  });
});

describe('finding runs', () => {
  const runs = [
    runSummary(record({ dye: 'Blue 4', note: 'second shelf' })),
    runSummary(record({ id: 'r2', name: 'Red ring', outcome: 'failed' })),
    runSummary(record({ id: 'r3', name: 'Blue plate (practise)', origin: 'simulated' })),
  ];
  const ids = (filter: object): string[] => findRuns(runs, { ...NO_FILTER, ...filter }).map(({ id }) => id);

  it('every word counts, wherever it stands', () => {
    expect(ids({ text: 'BLUE' })).toEqual(['r1', 'r3']);
    expect(ids({ text: 'shelf blue' })).toEqual(['r1']);
    expect(ids({ text: 'green' })).toEqual([]);
    expect(ids({})).toEqual(['r1', 'r2', 'r3']);
  });

  it('by outcome, and real ones apart from practise', () => {
    expect(ids({ outcome: 'failed' })).toEqual(['r2']);
    expect(ids({ kind: 'simulated' })).toEqual(['r3']);
    expect(ids({ kind: 'real' })).toEqual(['r1', 'r2']);
  });

  it('as CSV: commas, quotes and formulas are made safe (RFC 4180)', () => {
    const text = exportRuns([runSummary(record({ name: 'a "b", c', dye: '=1+1' }))]);
    expect(text.startsWith('\uFEFF')).toBe(true); // a spreadsheet on Windows takes it for ANSI else
    const [head, line] = text.slice(1).split('\r\n');
    expect(head!.split(',')[1]).toBe('name');
    expect(line).toContain('"a ""b"", c"');
    expect(line).toContain("'=1+1");
    expect(line).toMatch(/,2023-11-14 22:13:20,/); // 1.7e9 s after 1970
  });

  it('CSV has the notes, whole, and what a spreadsheet with a decimal comma reads', () => {
    const notes = new Map([['r1', '+1, first line\nsecond "line"; Größe']]);
    const text = exportRuns([runSummary(record({ name: 'Öl; rot' }))], notes, COMMA_CSV);
    const [head, ...rest] = text.slice(1).split('\r\n');
    expect(head!.split(';').slice(0, 3)).toEqual(['id', 'name', 'started_utc']);
    expect(head!.split(';').at(-1)).toBe('note');
    const body = rest.join('\r\n');
    expect(body).toContain(';"Öl; rot";');
    expect(body).toContain(';400;1,29;25;'); // cm², A/dm², µm
    expect(body).toContain(`;"'+1, first line\nsecond ""line""; Größe"`);
  });
});

describe('learning', () => {
  const run = (id: string, filmUm: number, change: object = {}) =>
    runSummary(record({ id, facts: facts(change), measured: { filmM: [filmUm * 1e-6], massLoss: null } }));

  it('the charge constant is the mean of Q / (A · d); simulated, troubled and gappy runs teach nothing', () => {
    const runs = [
      run('a', 25),
      run('b', 25),
      run('c', 25),
      run('d', 10, { troubled: true }),
      run('e', 10, { gapS: 600 }),
    ];
    const { charge } = learnFromRuns([
      ...runs,
      runSummary(
        record({
          id: 'f',
          origin: 'simulated',
          facts: facts(),
          measured: { filmM: [10e-6], massLoss: null },
        }),
      ),
    ]);
    expect(charge.runs.map(({ id }) => id)).toEqual(['a', 'b', 'c']);
    if (charge.learnt.state !== 'offered') throw new Error('nothing offered');
    expect(charge.learnt.value.chargePerVolumeCPerM3).toBeCloseTo(18_300 / (0.04 * 25e-6), -3);

    const job = takeOwnCharge(emptyJob('j'), charge.learnt.value, charge.learnt.count);
    expect(chargeConstantSource(job.process)).toEqual({
      standing: 'your own runs',
      text: '3 runs of this shop',
    });
    const typed = changeProcess(job, { chargePerVolumeCPerM3: 2e10 });
    expect(chargeConstantSource(typed.process).standing).toBe('your entry');
  });

  it('too little is said, with how much is missing', () => {
    const { charge, voltage } = learnFromRuns([run('a', 25)]);
    expect(charge.learnt).toMatchObject({ state: 'too-little', count: 1, needed: 3 });
    expect(voltage.learnt).toMatchObject({ state: 'too-little', count: 1 });
  });
});

describe('the book as one file', () => {
  const shelves = (rows: Partial<Record<ShelfName, BookRow[]>> = {}) =>
    Object.fromEntries(SHELF_NAMES.map((name) => [name, rows[name] ?? []])) as Record<ShelfName, BookRow[]>;
  const supply = {
    id: 's1',
    changedAtMs: 5,
    record: { id: 's1', name: 'Bench', currentLimitA: 10, voltageLimitV: 30 },
  };
  const readings = packReadings(readingsFrom([{ tS: 0, voltageV: 15, currentA: 4 }], 'typed'));
  const make = (rows = shelves({ supplies: [supply] }), extra: Record<string, Uint8Array> = {}): Uint8Array =>
    zipSync({
      ...Object.fromEntries(
        bookTexts(
          { madeAtMs: 1 },
          rows,
          [{ changedAtMs: 7, record: record(), job: null, models: [] }],
          [{ id: 'p1', ownerId: 'r1', type: 'image/jpeg' }],
        ),
      ),
      'readings/r1': readings,
      'photos/p1': new Uint8Array([1, 2, 3]),
      'models/abc': new Uint8Array([4]),
      ...extra,
    });

  it('comes back as it was', () => {
    const read = readBook(make());
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value.shelves.supplies).toEqual([supply]);
    expect(read.value.runs[0]!.record).toEqual(record());
    expect(read.value.readings.get('r1')).toEqual(readings);
    expect(read.value.photos).toEqual([
      { id: 'p1', ownerId: 'r1', type: 'image/jpeg', bytes: new Uint8Array([1, 2, 3]) },
    ]);
    expect([...read.value.models.keys()]).toEqual(['abc']);
    expect(read.value.refused).toBe(0);
  });

  it('damaged entries are left out and counted, the rest comes', () => {
    const broken = readings.slice();
    broken[8] ^= 0xff;
    const odd = {
      id: 's2',
      changedAtMs: 5,
      record: { id: 's2', name: '', currentLimitA: -1, voltageLimitV: 30 },
    };
    const read = readBook(make(shelves({ supplies: [supply, odd] }), { 'readings/r2': broken }));
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value.shelves.supplies).toEqual([supply]);
    expect([...read.value.readings.keys()]).toEqual(['r1']);
    expect(read.value.refused).toBe(2);
  });

  it.each([
    ['nothing', new Uint8Array(0), 'book-not-a-backup'],
    ['another file', strToU8('solid box'), 'book-not-a-backup'],
    ['another zip', zipSync({ 'job.json': strToU8('{}') }), 'book-not-a-backup'],
    ['half a backup', make().slice(0, 400), 'book-damaged'],
    [
      'one from a later version',
      zipSync({ 'book.json': strToU8(JSON.stringify({ format: 'tankside-book', version: 2, madeAtMs: 1 })) }),
      'book-newer',
    ],
  ])('%s is refused', (_, bytes, code) => {
    const read = readBook(bytes);
    expect(read.ok ? 'read' : read.error.code).toBe(code);
  });

  it('a zip that claims to unfold beyond all measure is refused before it is unfolded', () => {
    const bomb = make();
    // The sizes of the first entry in the central directory (APPNOTE 4.3.12: uncompressed size at +24).
    const view = new DataView(bomb.buffer, bomb.byteOffset);
    for (let i = 0; i < bomb.length - 4; i++) {
      if (view.getUint32(i, true) === 0x02014b50) {
        view.setUint32(i + 24, 0xf0000000, true);
        break;
      }
    }
    const read = readBook(bomb);
    expect(read.ok ? 'read' : read.error.code).toBe('book-too-large');
  });

  it('the newer copy wins, equals stay', () => {
    expect([whichWins(undefined, 1), whichWins(1, 2), whichWins(2, 2), whichWins(3, 2)]).toEqual([
      'added',
      'newer',
      'same',
      'same',
    ]);
  });
});
