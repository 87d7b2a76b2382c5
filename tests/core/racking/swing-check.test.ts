import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distanceBody } from '../../../core/racking/body-distance.ts';
import { checkTank, type TankPart } from '../../../core/racking/tank-clearance.ts';
import { USUAL_TANK_RULES, type Placement } from '../../../core/racking/tank.ts';
import { oneSheetTank } from '../../fixtures/one-sheet-tank.ts';

const tank = oneSheetTank('back', 0);
const HALF = [0.05, 0.02, 0.1] as const;
const CUBE = [
  [0, 2, 3, 0, 3, 1],
  [4, 5, 7, 4, 7, 6],
  [0, 1, 5, 0, 5, 4],
  [2, 6, 7, 2, 7, 3],
  [0, 4, 6, 0, 6, 2],
  [1, 3, 7, 1, 7, 5],
].flat();
/** A block 100 × 40 × 200 about its middle; its wires at the top. */
const block = (wires: number[]): TankPart => ({
  name: 'block',
  body: distanceBody(
    [0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => HALF.map((h, axis) => (i & (1 << axis) ? h : -h))),
    Uint32Array.from(CUBE),
    1,
  ),
  coatedAreaM2: 0.01,
  wires: wires.map((x) => ({ at: [x, 0, 0.1], diameterM: 1e-3 })),
});
const ONE = [0];
const TWO = [-0.04, 0.04];
const at = (id: string, x: number, y: number): Placement => ({
  id,
  partId: id,
  pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [x, y, 0.25] },
});
/** Lowest point 150 mm, bar 500 mm: 350 · sin δ. */
const rad = (reachM: number): number => Math.asin(reachM / 0.35);
const swings = (wires: Record<string, number[]>, placements: Placement[], reachM: number) =>
  checkTank(
    tank,
    USUAL_TANK_RULES,
    new Map(Object.entries(wires).map(([id, own]) => [id, block(own)])),
    placements,
    'metric',
    { swingRad: rad(reachM) },
  ).swings;

describe('what a copy hits as it swings', () => {
  it('by one wire every way; held by two that are apart along the bar only across it', () => {
    // 30 mm to the end wall: 500 − 420 − 50.
    const near = [at('a', 0.42, 0)];
    const [free] = swings({ a: ONE }, near, 0.04);
    expect(free!.held).toBeNull();
    expect(free!.reachM).toBeCloseTo(0.04, 12);
    expect(free!.hits).toEqual([{ to: 'wall', toId: '', awayM: expect.closeTo(0.03, 9) }]);
    const [held] = swings({ a: TWO }, near, 0.04);
    expect(held!.held).toBe('x');
    expect(held!.hits).toEqual([]);
    // Wires 10 mm apart hold nothing.
    expect(swings({ a: [0, 0.01] }, near, 0.04)[0]!.held).toBeNull();
  });

  it('across the bar it reaches sheet and wall all the same', () => {
    // The sheet’s face at −295 mm, the block’s at −250: 45 mm. The wall over there at 300: 250 from −250 + … none.
    const [held] = swings({ a: TWO }, [at('a', 0, -0.23)], 0.05);
    expect(held!.hits).toEqual([{ to: 'cathode', toId: 'back', awayM: expect.closeTo(0.045, 3) }]);
    expect(swings({ a: TWO }, [at('a', 0, -0.23)], 0.044)[0]!.hits).toEqual([]);
    // 300 − 240 − 20 = 40 mm.
    const [wall] = swings({ a: TWO }, [at('a', 0, 0.24)], 0.05);
    expect(wall!.hits).toEqual([{ to: 'wall', toId: '', awayM: expect.closeTo(0.04, 9) }]);
  });

  it('beside a narrow sheet a held one passes where a free one would hit', () => {
    const narrow = { ...tank, cathodes: [{ ...tank.cathodes[0]!, widthM: 0.2, standoffM: 0.2 }] };
    // The sheet ends at x = 100 mm, the block begins at 120.
    const look = (wires: number[]) =>
      checkTank(narrow, USUAL_TANK_RULES, new Map([['a', block(wires)]]), [at('a', 0.17, -0.05)], 'metric', {
        swingRad: rad(0.06),
      }).swings[0]!.hits.map(({ to }) => to);
    expect(look(ONE)).toEqual(['cathode']);
    expect(look(TWO)).toEqual([]);
  });

  it('two swing against each other: the sum of both ways free, the side steps of the held', () => {
    // 60 mm between them along the bar.
    const pair = [at('a', -0.08, 0), at('b', 0.08, 0)];
    const hit = (a: number[], b: number[], reachM: number): string[] =>
      swings({ a, b }, pair, reachM)[0]!.hits.map(({ to }) => to);
    expect(hit(ONE, ONE, 0.0301)).toEqual(['part']);
    expect(hit(ONE, ONE, 0.0299)).toEqual([]);
    expect(hit(TWO, ONE, 0.0599)).toEqual([]);
    expect(hit(TWO, ONE, 0.0601)).toEqual(['part']);
    expect(hit(TWO, TWO, 0.1)).toEqual([]);
    // Side by side across the bar, 60 mm between: held, both swing right at each other.
    const beside = [at('a', 0, -0.05), at('b', 0, 0.05)];
    expect(swings({ a: TWO, b: TWO }, beside, 0.0301)[0]!.hits).toEqual([
      { to: 'part', toId: 'b', awayM: expect.closeTo(0.06, 3) },
    ]);
    expect(swings({ a: TWO, b: TWO }, beside, 0.0299)[0]!.hits).toEqual([]);
  });

  it('as a thousand places along the swing say, for two that are held (fast-check)', () => {
    const said = { hit: 0, clear: 0 };
    fc.assert(
      fc.property(
        fc.double({ min: -0.2, max: 0.2, noNaN: true }),
        fc.double({ min: 0.05, max: 0.2, noNaN: true }),
        fc.double({ min: 0.005, max: 0.1, noNaN: true }),
        (x, y, reachM) => {
          const placements = [at('a', 0, -0.05), at('b', x, -0.05 + y)];
          // Two upright blocks: apart along x, or across by what is left of the way.
          const aside = Math.max(0, Math.abs(x) - 2 * HALF[0]);
          let meets = false;
          for (let i = 0; i <= 1000; i++) {
            const way = (2 * reachM * i) / 1000;
            if (aside <= 0 && y - 2 * HALF[1] - way <= 0) meets = true;
          }
          if (
            Math.hypot(aside, Math.max(0, y - 2 * HALF[1])) < 2e-4 ||
            Math.abs(y - 0.04 - 2 * reachM) < 1e-3
          )
            return;
          const found = swings({ a: TWO, b: TWO }, placements, reachM)[0]!.hits.some(
            ({ to }) => to === 'part',
          );
          said[found ? 'hit' : 'clear']++;
          if (aside > 0 && aside < 2e-4) return;
          expect(found).toBe(meets);
        },
      ),
      { numRuns: 150, seed: 4 },
    );
    expect(Math.min(said.hit, said.clear)).toBeGreaterThan(20);
  });
});
