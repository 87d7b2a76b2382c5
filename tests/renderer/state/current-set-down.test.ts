import { beforeEach, describe, expect, it } from 'vitest';
import { emptyJob } from '../../../core/job/default-job.ts';
import { loadPlanSchema } from '../../../core/shop/run-record.ts';
import { standingCalls } from '../../../renderer/state/run-calls.ts';
import { openRunJournal } from '../../../renderer/state/run-journal.ts';
import { createRunLock } from '../../../renderer/state/run-lock.ts';
import { createRunRecorder } from '../../../renderer/state/run-recorder.ts';
import type { RunRecorder } from '../../../renderer/state/run-view.ts';
import { loweredCurrentA, stepTitle } from '../../../renderer/state/run-words.ts';
import { leftUnlessSet, stepLeft } from '../../../renderer/state/step-left.ts';
import { MemoryRunStore, MemoryStorage, StandInLocks } from './stand-ins/memory-run-store.ts';

/** 6.75 A on 2.79 dm², 25 µm at 3.051 A·min/(dm²·µm), the 720 rule of the trade journal in metric units. */
const I0 = 6.75;
const plan = loadPlanSchema.parse({
  areaM2: 0.0279,
  currentDensityAPerM2: I0 / 0.0279,
  chargePerVolumeCPerM3: 3.051 * 60 * 1e8,
  chargeRelativeUncertainty: 0.1,
  chargeSource: { standing: 'published', text: '' },
  thicknessM: 25e-6,
  rampS: 300,
  holdS: 1742,
  supplyCurrentLimitA: null,
  supplyVoltageLimitV: null,
  bathTemperatureK: 293.15,
  acidKgPerM3: 180,
  expectedVoltageV: 15.6,
});
const WANTED_C = plan.chargePerVolumeCPerM3 * plan.areaM2 * plan.thicknessM;

let nowMs: number;
let recorder: RunRecorder;

beforeEach(async () => {
  nowMs = 1_800_000_000_000;
  recorder = createRunRecorder({
    store: new MemoryRunStore(),
    lock: createRunLock(new StandInLocks()),
    journal: openRunJournal(new MemoryStorage()),
    machine: { wallMs: () => nowMs, forwardMs: () => nowMs, start: 'first' },
    newId: () => 'run-1',
    onTrouble: ({ message }) => {
      throw new Error(message);
    },
  });
  const steps = [
    { kind: 'ramp', label: 'Ramp', plannedS: 300 },
    { kind: 'hold', label: 'Hold 6.75 A', plannedS: 1742 },
    { kind: 'rinse', label: 'Rinse', plannedS: 60 },
  ] as const;
  const started = await recorder.start({
    name: 'Plate',
    plan,
    steps,
    job: emptyJob('Plate'),
    models: new Map(),
    practise: null,
    supplyId: null,
    jobFacts: { stirred: true, pieces: 2 },
  });
  expect(started.ok).toBe(true);
  recorder.mark('begin');
  // Its time over, the ramp becomes the hold by itself.
  pass(300);
});

function pass(seconds: number): void {
  nowMs += seconds * 1000;
  recorder.tick();
}
function type(voltageV: number, currentA: number): void {
  expect(recorder.addTyped({ voltageV, currentA })).toMatchObject({ ok: true });
}
const view = () => recorder.view.getState();
const leftS = (): number => stepLeft(view()).leftMs! / 1000;

/** Sound from 300 s to 1500 s; at 1553 s some of the area is gone at the same current, and the board says so. */
function loseContact(): number {
  for (let i = 0; i <= 4; i++) {
    type(15.6, I0);
    pass(i < 4 ? 300 : 52);
  }
  // Such a voltage may be misread: asked to, somebody reads it again.
  type(19.4, I0);
  pass(1);
  expect(loweredCurrentA(view())).toBeNull();
  const calls = standingCalls(view(), { status: 'off', gap: null } as never, 'metric');
  expect(calls.map(({ kind, rings }) => [kind, rings])).toEqual([['read-again', false]]);
  type(19.4, I0);
  pass(0);
  expect(view().events.map(({ kind }) => kind)).toContain('contact-lost');
  return loweredCurrentA(view())!;
}

/** What the live part still wants, C: the film it has, on its own share of the area. */
function missingC(): number {
  const { progress, events } = view();
  const { likelyAreaLeft } = events.at(-1)!;
  return (
    (WANTED_C - progress!.thicknessM.valueSi * plan.chargePerVolumeCPerM3 * plan.areaM2) * likelyAreaLeft
  );
}

describe('a current set down because the watch said so', () => {
  it('before anybody types it, the time left is that of the current in the title, and what flowed is told beside it', () => {
    const askedA = loseContact();
    expect(askedA).toBeGreaterThan(3);
    expect(askedA).toBeLessThan(5.5);
    expect(stepTitle(view())).toContain(`Hold ${askedA.toPrecision(3)}`);
    expect(leftS()).toBeCloseTo(missingC() / askedA, 6);
    const unset = leftUnlessSet(view())!;
    expect(unset).toMatchObject({ askedA, flowedA: I0 });
    expect(unset.leftMs / 1000).toBeCloseTo(missingC() / I0, 6);
    const { lowSi, highSi } = view().progress!.endS!;
    expect(lowSi!).toBeLessThan(1553 + missingC() / I0);
    expect(highSi!).toBeGreaterThan(1553 + missingC() / askedA);
    // Dealt with, but not typed yet, it stays the current of title and time.
    recorder.dealWith();
    expect(loweredCurrentA(view())).toBeCloseTo(askedA, 12);
    expect(leftS()).toBeCloseTo(missingC() / askedA, 6);
  });

  it('typed, the time left goes on without a jump and ends when the charge is there', () => {
    const askedA = loseContact();
    pass(32);
    const before = leftS();
    type(15.6, askedA);
    pass(0);
    expect(leftS()).toBeCloseTo(before, 3);
    expect(leftUnlessSet(view())).toBeNull();
    const endS = view().progress!.endS!.valueSi;
    // Set down further and up again a second later: the same current, and nearly the same end.
    pass(70);
    // U goes with the current, E = 9 V does not.
    type(13.6, 3);
    pass(1);
    type(15.6, askedA);
    pass(0);
    expect(Math.abs(view().progress!.endS!.valueSi - endS)).toBeLessThan(20);
    const calls = () => standingCalls(view(), { status: 'off', gap: null } as never, 'metric');
    while (leftS() > 1) {
      pass(1);
      expect(calls().map(({ kind }) => kind)).not.toContain('hold-done');
    }
    // What has flowed by then on what has contact, at the current that stands, is the wanted charge.
    const { readings, powerS } = view();
    expect((powerS! - readings.tS.at(-1)!) * askedA).toBeCloseTo(missingC(), -1);
    pass(2);
    expect(calls().map(({ kind }) => kind)).toContain('hold-done');
  });

  it('is asked for after a minute, and not set it is what flows', () => {
    loseContact();
    const due = () =>
      standingCalls(view(), { status: 'off', gap: null } as never, 'metric').find(
        ({ kind }) => kind === 'reading-due',
      );
    pass(59);
    expect(due()?.message ?? '').not.toContain('set down');
    pass(2);
    expect(due()!.message).toBe('Is the current set down? Type volts and amps.');
    type(19.5, I0);
    pass(0);
    expect(due()).toBeUndefined();
    expect(leftUnlessSet(view())).toBeNull();
    expect(leftS()).toBeCloseTo(missingC() / I0, 3);
  });
});
