import { beforeAll, describe, expect, it } from 'vitest';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { findTraps } from '../../../core/racking/find-traps.ts';
import { judgeContactPair } from '../../../core/racking/contact-pairs.ts';
import { prepareHanging } from '../../../core/racking/hang-part.ts';
import { searchAttitudes } from '../../../core/racking/search-attitudes.ts';
import { USUAL_TANK_RULES, type Tank } from '../../../core/racking/tank.ts';
import { createHangingRunners } from '../../../renderer/worker/hanging-runners.ts';
import { Kept } from '../../../renderer/worker/kept.ts';
import { soupOf, startManifold } from '../../core/racking/solids.ts';

let cup: PartGeometry;
beforeAll(async () => {
  const { Manifold } = await startManifold();
  const solid = Manifold.cube([40, 40, 40], true)
    .translate([0, 0, 20])
    .subtract(Manifold.cylinder(30, 10, 10, 64));
  const positions = soupOf(solid);
  const bodies = [{ name: 'cup', firstTriangle: 0, triangleCount: positions.length / 9 }];
  cup = analysePart(positions, bodies, { splitAngleRad: 0.6 });
});

const quiet = (): void => {};
const tank: Tank = {
  name: 'tank',
  vessel: { shape: 'box', lengthM: 0.8, widthM: 0.5, heightM: 0.4 },
  levelM: 0.35,
  cathodes: [
    {
      id: 'back',
      material: 'aluminium',
      place: { on: 'wall', wall: 'y+', alongM: 0 },
      widthM: 0.7,
      bottomM: 0,
      heightM: 0.35,
      thicknessM: 0.003,
      standoffM: 0.007,
      backWorks: false,
    },
  ],
  bars: [],
};

describe('hanging in the worker', () => {
  it('gives what the kernels give, from what it kept', async () => {
    const run = createHangingRunners();
    const facts = await run.prepareHanging(
      { name: 'cup', key: 'a', geometry: cup, metresPerUnit: 1e-3 },
      quiet,
    );
    const direct = prepareHanging(cup, 1e-3);
    expect(facts.ok && facts.value).toEqual({
      open: null,
      moments: direct.moments.ok ? direct.moments.value : null,
      centre: direct.centre,
    });
    const traps = await run.findTraps({ name: 'cup', key: 'a', up: [0, 0, 1], plugs: null }, quiet);
    if (!traps.ok || !direct.trapMesh.ok) throw new Error('not closed');
    expect(traps.value).toMatchObject(findTraps(direct.trapMesh.value, [0, 0, 1]));
    // Closed form, less 0.16 % for the 64 flats.
    expect(traps.value.gas[0]!.volume / (Math.PI * 100 * 30)).toBeCloseTo(1, 2);
  });

  it('keeps an adviser while only pins move, and asks it anew when the flags are others', async () => {
    const run = createHangingRunners();
    await run.prepareHanging({ name: 'cup', key: 'a', geometry: cup, metresPerUnit: 1e-3 }, quiet);
    const phases: string[] = [];
    const report = ({ phase }: { phase: string }): void => void phases.push(phase);
    const options = {
      up: [0, 0, 1],
      patchDiameterM: 3e-3,
      allowShown: false,
      allowMasked: false,
      most: 5,
    } as const;
    const flags = new Uint8Array(cup.triangleCount);
    const first = await run.adviseContacts({ name: 'cup', key: 'a', flags: flags.slice(), options }, report);
    if (!first.ok) throw new Error(first.error.message);
    expect(first.value.advice.length).toBeGreaterThan(0);
    const [best] = first.value.advice;
    // In another order than they are looked up: the corner of the first triangle, then the place that was proposed.
    const corner = Array.from(cup.positions.subarray(0, 3)) as [number, number, number];
    const pins = [
      { id: 'corner', at: corner, triangle: 0 },
      { id: 'best', at: best!.at, triangle: best!.triangle },
    ];
    const judge = (some: typeof pins) =>
      run.judgePins({ name: 'cup', key: 'a', flags: flags.slice(), options, pins: some }, report);
    const again = () => run.adviseContacts({ name: 'cup', key: 'a', flags: flags.slice(), options }, report);
    const second = await judge(pins);
    expect(await again()).toEqual(first);
    expect(phases).toHaveLength(1);
    if (!second.ok) throw new Error(second.error.message);
    // A pin on a proposed place is judged as the place was, and known by its id however many there are.
    const { critique } = second.value;
    // Two pins: each is one of several, and both together are judged as a proposed pair is.
    expect(critique['best']!.score).toBeCloseTo(best!.place, 6);
    expect(critique['corner']!.score).toBeLessThan(best!.place);
    const alone = await judge(pins.slice(1));
    expect(alone.ok && alone.value.critique['best']!.score).toBeCloseTo(best!.score, 6);
    expect(alone.ok && alone.value.together).toBeNull();
    const rim = [-1, 1].map((side, i) => ({
      id: `${i}`,
      at: [15 * side, 0, 500] as [number, number, number],
      triangle: 0,
    }));
    const taken = await judge(rim);
    if (!taken.ok) throw new Error(taken.error.message);
    const { min, max } = cup;
    const direct = judgeContactPair(
      [taken.value.critique['0']!, taken.value.critique['1']!],
      prepareHanging(cup, 1e-3).centre,
      options.up,
      Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]),
    );
    expect(direct.ok && direct.value).toEqual(taken.value.together);
    flags[best!.triangle] = 1;
    await again();
    expect(phases).toHaveLength(2);
  });

  it('judges pins without looking for proposals, as the adviser itself does', async () => {
    const run = createHangingRunners();
    await run.prepareHanging({ name: 'cup', key: 'a', geometry: cup, metresPerUnit: 1e-3 }, quiet);
    const phases: string[] = [];
    const options = {
      up: [0, 0, 1],
      currentA: 30,
      patchDiameterM: 3e-3,
      allowShown: false,
      allowMasked: false,
      most: 5,
    } as const;
    const flags = new Uint8Array(cup.triangleCount);
    const pins = [0, 100].map((triangle) => ({
      id: `${triangle}`,
      at: Array.from(cup.positions.subarray(9 * triangle, 9 * triangle + 3)) as [number, number, number],
      triangle,
      patchDiameterM: 2e-3,
    }));
    const found = await run.judgePins(
      { name: 'cup', key: 'a', flags: flags.slice(), options, pins },
      ({ phase }) => void phases.push(phase),
    );
    expect(phases).toEqual([]);
    const direct = prepareHanging(cup, 1e-3).adviser(flags, options).critique(pins, true);
    expect(found.ok && found.value.critique).toEqual({ '0': direct[0], '100': direct[1] });
    // An even share of the current each.
    expect(direct.map(({ room }) => room?.currentA)).toEqual([15, 15]);
    await run.dropHanging({ name: 'cup', key: 'a' }, quiet);
    const gone = await run.judgePins({ name: 'cup', key: 'a', flags, options, pins }, quiet);
    expect(gone.ok ? '' : gone.error.code).toBe('not-kept');
  });

  it('searches as the kernel does and tells how far it is', async () => {
    const run = createHangingRunners();
    const fractions: number[] = [];
    const input = {
      name: 'cup',
      mesh: cup.graph.indexed,
      directions: 40,
      extra: [],
      contacts: [],
      plugs: null,
    };
    const found = await run.searchAttitudes(input, ({ fraction }) => void fractions.push(fraction!));
    const direct = prepareHanging(cup, 1e-3).trapMesh;
    if (!direct.ok) throw new Error(direct.error.message);
    expect(found).toEqual(searchAttitudes(direct.value, { directions: 40, extra: [], contacts: [] }));
    expect(fractions).toHaveLength(40);
    expect(fractions.at(-1)).toBe(1);
  });

  it('checks the tank with the bodies it kept, all copies or the dragged one', async () => {
    const run = createHangingRunners();
    await run.keepBody({ name: 'cup', key: 'b', mesh: cup.graph.indexed, metresPerUnit: 1e-3 }, quiet);
    const at = (id: string, x: number, y: number) => ({
      id,
      partId: 'p',
      pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [x, y, 0.2] as [number, number, number] },
    });
    const input = {
      name: 'tank',
      tank,
      rules: USUAL_TANK_RULES,
      system: 'metric' as const,
      swingRad: 0,
      parts: [{ partId: 'p', key: 'b', name: 'Cup', coatedAreaM2: 0.01 }],
      placements: [at('a', -0.1, 0), at('b', 0.1, 0)],
    };
    const cathode = async (placements: (typeof input)['placements'], onlyId?: string): Promise<number[]> => {
      const check = await run.checkTank({ ...input, placements, ...(onlyId ? { onlyId } : {}) }, quiet);
      if (!check.ok) throw new Error(check.error.message);
      return check.value.clearances
        .filter(({ to }) => to === 'cathode')
        .map(({ distanceM }) => distanceM.valueSi);
    };
    // 250 mm to the wall less 10 mm of sheet less half the cup.
    for (const found of await cathode(input.placements)) expect(found).toBeCloseTo(0.22, 8);
    // Dragged on, with the hints of the pose before: exact again.
    expect(await cathode([at('a', -0.1, 0.1), at('b', 0.1, 0)], 'a')).toEqual([expect.closeTo(0.12, 8)]);
    expect(await cathode([at('a', -0.1, -0.1), at('b', 0.1, 0)], 'a')).toEqual([expect.closeTo(0.32, 8)]);
  });

  it('says when it no longer has a part: never asked, dropped, or pushed out', async () => {
    const run = createHangingRunners();
    const code = async (): Promise<string> => {
      const found = await run.findTraps({ name: 'cup', key: 'a', up: [0, 0, 1], plugs: null }, quiet);
      return found.ok ? 'ok' : found.error.code;
    };
    expect(await code()).toBe('not-kept');
    await run.prepareHanging({ name: 'cup', key: 'a', geometry: cup, metresPerUnit: 1e-3 }, quiet);
    expect(await code()).toBe('ok');
    await run.dropHanging({ name: 'cup', key: 'a' }, quiet);
    expect(await code()).toBe('not-kept');
  });
});

describe('what a worker keeps', () => {
  it('lets the least recently used go first', () => {
    const kept = new Kept<number>(2);
    kept.put('a', 1);
    kept.put('b', 2);
    expect(kept.get('a')).toBe(1);
    kept.put('c', 3);
    expect(kept.get('b')).toBeUndefined();
    expect(kept.get('a')).toBe(1);
    kept.drop('a');
    expect(kept.get('a')).toBeUndefined();
    expect(() => new Kept(0)).toThrow(RangeError);
  });
});
