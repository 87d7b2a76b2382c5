import { describe, expect, it } from 'vitest';
import { changeField } from '../../../core/job/edit-field.ts';
import { changeProcess } from '../../../core/job/edit-job.ts';
import { editJob } from '../../../renderer/state/app-store.ts';
import type { MapRow } from '../../../renderer/state/desk-database.ts';
import { followMaps, type MapShelf } from '../../../renderer/state/kept-maps.ts';
import { createMeshKeys } from '../../../renderer/state/mesh-keys.ts';
import { startField } from '../../../renderer/state/run-field.ts';
import { boxInTank } from './stand-ins/box-in-tank.ts';

class ShelfUnderTest implements MapShelf {
  readonly rows = new Map<string, MapRow>();
  full = false;
  get = (partId: string) => Promise.resolve(this.rows.get(partId));
  put = (row: MapRow) => {
    if (this.full) return Promise.reject(new Error('QuotaExceededError'));
    this.rows.set(row.partId, structuredClone(row));
    return Promise.resolve();
  };
  oldestFirst = () =>
    Promise.resolve([...this.rows.values()].sort((a, b) => a.savedAtMs - b.savedAtMs).map((r) => r.partId));
  bulkDelete = (ids: string[]) => {
    for (const id of ids) this.rows.delete(id);
    return Promise.resolve();
  };
}

/** A window after a reload: everything new but the shelf; it remembers that the part had a map. */
function nextWindow(shelf: MapShelf, nowMs?: () => number) {
  const bench = boxInTank(['p']);
  followMaps(bench.desk, shelf, nowMs);
  const forgotten = (): boolean =>
    bench.derived.getState().messages.some(({ code }) => code === 'map-forgotten');
  return { ...bench, forgotten };
}

/** Longer than it takes to settle. */
const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 450));

describe('a thickness map', () => {
  it('is found again by the next window, to the last digit, without being solved again', async () => {
    const shelf = new ShelfUnderTest();
    const first = nextWindow(shelf);
    await startField(first.desk, 'p');
    const before = first.derived.getState().field.p!.reading!;
    await expect.poll(() => shelf.rows.size).toBe(1);

    const second = nextWindow(shelf);
    // As its file gives it back: the same job, its names in another order.
    editJob(second.store, 'read', (job) => {
      const { tank, ...rest } = job;
      const turned = Object.fromEntries(Object.entries(tank!.tank).reverse()) as unknown as NonNullable<
        typeof tank
      >['tank'];
      return { tank: { ...tank!, tank: turned }, ...rest };
    });
    await expect.poll(() => second.derived.getState().field.p?.reading ?? null).not.toBeNull();
    const after = second.derived.getState().field.p!;
    expect(after.stale).toBe(false);
    expect(after.reading!.map).toEqual(before.map);
    expect(second.worker.asked).toEqual([]);
    expect(second.forgotten()).toBe(false);
  });

  it('of another job is not taken; that it is not known stays an open check until the job is as it was', async () => {
    const shelf = new ShelfUnderTest();
    const first = nextWindow(shelf);
    await startField(first.desk, 'p');
    await expect.poll(() => shelf.rows.size).toBe(1);

    const second = nextWindow(shelf);
    editJob(second.store, 'bath', (job) => changeField(job, { conductivitySPerM: 30 }));
    await settled();
    expect(second.derived.getState().field.p!.reading).toBeNull();
    expect(second.forgotten()).toBe(true);
    editJob(second.store, 'back', (job) => changeField(job, { conductivitySPerM: null }));
    await expect.poll(() => second.forgotten()).toBe(false);
    // The thickness is none of the map's business.
    editJob(second.store, 'thicker', (job) => changeProcess(job, { thicknessM: 5e-5 }));
    expect(second.derived.getState().field.p!.stale).toBe(false);
  });

  it('that there was no room for is lost, and that is said', async () => {
    const shelf = new ShelfUnderTest();
    shelf.full = true;
    const first = nextWindow(shelf);
    await startField(first.desk, 'p');
    const second = nextWindow(shelf);
    await settled();
    expect(second.forgotten()).toBe(true);
  });

  it('takes the place of the oldest of twenty', async () => {
    const shelf = new ShelfUnderTest();
    const { desk } = nextWindow(shelf, () => 1000);
    await startField(desk, 'p');
    await expect.poll(() => shelf.rows.size).toBe(1);
    const row = shelf.rows.get('p')!;
    shelf.rows.clear();
    for (let i = 0; i < 20; i++) shelf.rows.set(`q${i}`, { ...row, partId: `q${i}`, savedAtMs: 100 - i });
    const next = nextWindow(shelf, () => 2000);
    await startField(next.desk, 'p');
    await expect.poll(() => shelf.rows.has('q19')).toBe(false);
    expect(shelf.rows.size).toBe(20);
    expect(shelf.rows.has('p')).toBe(true);
  });
});

describe('a mesh’s word', () => {
  it('is the same for the same triangles and another where one bit differs', () => {
    const positions = Float32Array.from({ length: 900 }, (_, i) => Math.sin(i));
    const word = createMeshKeys()({ positions });
    expect(createMeshKeys()({ positions: positions.slice() })).toBe(word);
    for (const at of [0, 450, 899]) {
      const other = positions.slice();
      new Uint32Array(other.buffer)[at]! ^= 1;
      expect(createMeshKeys()({ positions: other })).not.toBe(word);
    }
    expect(createMeshKeys()({ positions: positions.slice(0, 891) })).not.toBe(word);
  });
});
