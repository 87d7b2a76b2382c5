import { beforeEach, describe, expect, it } from 'vitest';
import { solveScene } from '../../../core/field/solve-scene.ts';
import { changeField } from '../../../core/job/edit-field.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { changeProcess } from '../../../core/job/edit-job.ts';
import { editJob, jobOf } from '../../../renderer/state/app-store.ts';
import { createFieldStore, keepResult, type FieldOutcome } from '../../../renderer/state/field-store.ts';
import { rankSides, runTrial, startField } from '../../../renderer/state/run-field.ts';
import { boxInTank } from './stand-ins/box-in-tank.ts';

describe('the map of a part', () => {
  let bench: ReturnType<typeof boxInTank>;
  beforeEach(() => {
    bench = boxInTank();
  });

  it('is not begun before the bores are known, and with them which have a plug', () => {
    const { derived, store, field } = bench;
    const { measures, wet } = derived.getState();
    const settingWith = (fits: typeof wet.fits) =>
      field.deriver.settingOf(store.getState(), { measures, fits }, 'p', field.store.getState());
    expect(settingWith(wet.fits).ok).toBe(true);
    expect(settingWith({})).toMatchObject({ ok: false, error: { code: 'not-measured' } });
  });

  it('is kept by its setting: another thickness reads it anew, another tank makes it old', async () => {
    const { desk, derived, store, worker } = bench;
    expect(derived.getState().field.p!.reading).toBeNull();
    await startField(desk, 'p');
    const first = derived.getState().field.p!;
    expect(first.stale).toBe(false);
    const meanM = first.reading!.map.meanM;
    expect(meanM / jobOf(store.getState()).process.thicknessM).toBeCloseTo(1, 4);
    editJob(store, 'thicker', (job) => changeProcess(job, { thicknessM: 2 * job.process.thicknessM }));
    const thicker = derived.getState().field.p!;
    expect(thicker.stale).toBe(false);
    expect(thicker.reading!.map.meanM / meanM).toBeCloseTo(2, 6);
    editJob(store, 'bath', (job) => changeField(job, { conductivitySPerM: 30 }));
    expect(derived.getState().field.p!.stale).toBe(true);
    editJob(store, 'back', (job) => changeField(job, { conductivitySPerM: null }));
    expect(derived.getState().field.p!.stale).toBe(false);
    expect(worker.asked).toHaveLength(1);
  });

  it('shows progress and the first look, and nothing is left of it once stopped', async () => {
    const { desk, field, derived, worker } = bench;
    worker.waits = true;
    const done = startField(desk, 'p');
    const preview = {
      positions: new Float32Array(9),
      source: new Uint32Array(1),
      triangleAPerM2: new Float32Array(1),
    };
    const step = {
      grid: 'fine',
      stage: 'cutting',
      cells: 1,
      bytes: 5e6,
      relativeResidual: 1,
      iterations: 0,
    } as const;
    worker.waiting[0]!.options.onProgress!({
      phase: 'fine grid',
      fraction: 0.15,
      field: { ...step, preview },
    });
    worker.waiting[0]!.options.onProgress!({ phase: 'fine grid, solving', fraction: 0.4, field: step });
    expect(field.store.getState().run).toMatchObject({ what: 'the map', fraction: 0.4, preview });
    field.store.getState().run!.stop();
    await done;
    expect(field.store.getState().run).toBeNull();
    expect(field.store.getState().failure).toBeNull();
    expect(derived.getState().field.p!.reading).toBeNull();
  });

  it('a new start ends the one under way', async () => {
    const { desk, field, worker } = bench;
    worker.waits = true;
    const first = startField(desk, 'p');
    const second = startField(desk, 'p');
    await first;
    expect(field.store.getState().run).not.toBeNull();
    worker.waiting[1]!.settle(solveScene(worker.waiting[1]!.input.scene));
    await second;
    expect(field.store.getState().run).toBeNull();
    expect(field.store.getState().results.size).toBe(1);
  });

  it('tells why there is none', async () => {
    const { desk, field, store } = bench;
    editJob(store, 'no tank', (job) => chooseTank(job, null));
    await startField(desk, 'p');
    expect(field.store.getState().failure).toMatchObject({ partId: 'p', failure: { code: 'no-tank' } });
  });

  it('a what-if is solved once and leaves the job’s own map alone', async () => {
    const { desk, field, derived, worker } = bench;
    await startField(desk, 'p');
    const key = field.store.getState().lastKeys.p;
    await runTrial(desk, 'p', 'slower', { currentDensityAPerM2: 60 });
    await runTrial(desk, 'p', 'slower', { currentDensityAPerM2: 60 });
    expect(worker.asked).toHaveLength(2);
    expect(field.store.getState().lastKeys.p).toBe(key);
    expect(derived.getState().field.p!.stale).toBe(false);
  });

  it('ranks the sides: sheets all around are more even than one', async () => {
    const { desk, field } = bench;
    await rankSides(desk, 'p');
    const { rows, failed } = field.store.getState().ranking!;
    expect(failed).toEqual([]);
    expect(rows.map(({ layoutId }) => layoutId).sort()).toEqual(['x', 'x+', 'x-', 'xy', 'y', 'y+', 'y-']);
    const spread = (id: string): number => rows.find(({ layoutId }) => layoutId === id)!.spread;
    expect(rows.map((row) => row.spread)).toEqual([...rows.map((row) => row.spread)].sort((a, b) => a - b));
    expect(spread('xy')).toBeLessThan(spread('y-'));
    // Mirrored tanks: one and the other wall are as even; the tolerance is the coarse grid's.
    expect(spread('y-') / spread('y+')).toBeCloseTo(1, 1);
  }, 60_000);
});

describe('keepResult', () => {
  it('lets the oldest go, never the one a part shows', () => {
    const store = createFieldStore();
    const outcome = (key: string): FieldOutcome =>
      ({ setting: { key, partId: 'p' }, seconds: 1 }) as FieldOutcome;
    keepResult(store, outcome('map'), true);
    for (let i = 0; i < 20; i++) keepResult(store, outcome(`trial ${i}`), false);
    const { results, lastKeys } = store.getState();
    expect(lastKeys.p).toBe('map');
    expect(results.has('map')).toBe(true);
    expect(results.has('trial 0')).toBe(false);
    expect(results.has('trial 19')).toBe(true);
    expect(results.size).toBe(12);
  });
});
