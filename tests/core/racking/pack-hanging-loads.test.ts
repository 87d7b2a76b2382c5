import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { barRooms } from '../../../core/racking/bar-rooms.ts';
import {
  packHangingLoads,
  type HangingItem,
  type HangingLoad,
  type LoadLimits,
} from '../../../core/racking/pack-hanging-loads.ts';
import { USUAL_TANK_RULES, type Tank } from '../../../core/racking/tank.ts';

const bar = (lengthM: number, id = 'a') => ({ id, lengthM, acrossM: 0.3, heightM: 0.3 });
const item = (over: Partial<HangingItem>): HangingItem => ({
  name: 'plate',
  quantity: 1,
  areaM2: 0.1,
  currentA: 10,
  alongM: 0.1,
  acrossM: 0.05,
  heightM: 0.1,
  ...over,
});
const limits = (over: Partial<LoadLimits> = {}): LoadLimits => ({
  supplyCurrentA: 30,
  cathodeServesM2: null,
  bars: [bar(0.5)],
  gapM: 0.02,
  ...over,
});

function plan(items: readonly HangingItem[], over: Partial<LoadLimits> = {}) {
  const packed = packHangingLoads(items, limits(over));
  if (!packed.ok) throw new Error(packed.error.message);
  return packed.value;
}
const counts = (load: HangingLoad): number => load.pieces.flat().reduce((sum, n) => sum + n, 0);

describe('what limits a load', () => {
  test('the supply: 10 plates of 10 A on 30 A make four loads, as even as can be', () => {
    const { loads, provenFewest } = plan([item({ quantity: 10 })]);
    expect(loads.map(counts).sort()).toEqual([2, 2, 3, 3]);
    expect(provenFewest).toBe(true);
    const full = loads.find((load) => counts(load) === 3)!;
    expect(full.limitedBy).toBe('supply');
    expect(full.text).toContain('100 %');
    expect(loads.find((load) => counts(load) === 2)!.limitedBy).toBe('none');
  });

  test('the bar: four of 100 mm and three gaps of 20 mm fit on 500 mm, five do not', () => {
    const { loads } = plan([item({ quantity: 8, currentA: 0.1 })]);
    expect(loads.map(counts)).toEqual([4, 4]);
    expect(loads[0].limitedBy).toBe('tank');
    // 4 x 0.1 + 3 x 0.02 of 0.5.
    expect(loads[0].used.tank).toBeCloseTo(0.92, 10);
    expect(plan([item({ quantity: 8, currentA: 0.1 })], { bars: [bar(0.459)] }).loads.map(counts)).toEqual([
      3, 3, 2,
    ]);
    expect(plan([item({ quantity: 8, currentA: 0.1 })], { bars: [bar(0.46)] }).loads).toHaveLength(2);
  });

  test('the cathode: 0.1 m² each, 0.25 m² served', () => {
    const { loads } = plan([item({ quantity: 6 })], { cathodeServesM2: 0.25, supplyCurrentA: null });
    expect(loads.map(counts)).toEqual([2, 2, 2]);
    expect(loads[0].limitedBy).toBe('cathode');
  });

  test('two bars hold twice as many, each only what fits under it', () => {
    const low = { ...bar(0.5, 'b'), heightM: 0.05 };
    expect(
      plan([item({ quantity: 8, currentA: 0.1 })], { bars: [bar(0.5), bar(0.5, 'b')] }).loads,
    ).toHaveLength(1);
    const { loads } = plan([item({ quantity: 8, currentA: 0.1 })], { bars: [bar(0.5), low] });
    expect(loads).toHaveLength(2);
    for (const load of loads) expect(load.pieces[1]).toEqual([0]);
  });

  test.each([
    ['supply', item({ currentA: 31 }), {}, /31\.00 A.*30 A/],
    ['cathode', item({}), { cathodeServesM2: 0.05 }, /cathodes serve/],
  ] as [string, HangingItem, Partial<LoadLimits>, RegExp][])(
    'one piece too large: %s',
    (_, big, over, message) => {
      const packed = packHangingLoads([big], limits(over));
      expect(!packed.ok && packed.error.code).toBe('piece-too-large');
      expect(!packed.ok && packed.error.message).toMatch(message);
    },
  );

  test('one that fits no bar: the least short of them, with what is kept clear there', () => {
    const limit = { to: 'cathode', keptM: 0.15, bySwing: false } as const;
    const room = {
      ...bar(0.5),
      name: 'bar 1',
      own: [
        {
          acrossM: 0.3,
          limits: { along: [], across: [limit], height: [{ ...limit, to: 'floor', keptM: 0.05 }] },
        },
      ],
    } as const;
    const refusal = (over: Partial<HangingItem>, system: 'metric' | 'us' = 'metric'): string => {
      const packed = packHangingLoads(
        [item(over)],
        limits({ bars: [{ ...room, lengthM: 0.01 }, room] }),
        system,
      );
      if (packed.ok) throw new Error('fits');
      expect(packed.error.code).toBe('no-room');
      return `${packed.error.message}\n${packed.error.remedy}`;
    };
    expect(refusal({ acrossM: 0.4 }).split('\n')[0]).toBe(
      'plate does not fit under bar 1: the box around it takes 400 mm across the bar, and 300 mm are free (150 mm kept to the cathode).',
    );
    // 450 × 400 × 250 mm in 500 along, 300 across, 300 high: with 250 mm across, 400 or 450 would stand.
    expect(refusal({ alongM: 0.45, acrossM: 0.4, heightM: 0.25 })).toContain('\nTurn the part, allow less');
    // 200 × 350 × 100 mm: with its 200 mm up, 350 lie along and 100 across.
    expect(refusal({ alongM: 0.2, acrossM: 0.35, heightM: 0.1 })).toContain(
      'at Hanging so that its 200 mm stand upright',
    );
    expect(refusal({ heightM: 0.4 })).toContain(
      'it is 400 mm high, and 300 mm are free (50.0 mm kept over the floor)',
    );
    expect(refusal({ acrossM: 0.4 }, 'us')).toContain('15.7 in across');
    const none = packHangingLoads([item({})], limits({ bars: [] }));
    expect(!none.ok && none.error.code).toBe('no-bar');
  });

  test('fewer are ruled out for certain by supply and cathode alone, not by boxes in a row', () => {
    const bySupply = plan([item({ quantity: 10 })]);
    expect(bySupply.fewestHoweverHung).toBe(4);
    const byRoom = plan([item({ quantity: 8, currentA: 0.1 })]);
    expect(byRoom.provenFewest).toBe(true);
    expect(byRoom.loads).toHaveLength(2);
    expect(byRoom.fewestHoweverHung).toBe(1);
    // 40 % each: two together, so five pieces take three loads though their sum is two supplies' worth.
    expect(plan([item({ quantity: 5, currentA: 12 })]).fewestHoweverHung).toBe(3);
  });

  test('nothing to hang is no load', () => {
    expect(plan([item({ quantity: 0 })]).loads).toEqual([]);
  });
});

const randomItem = fc.record({
  quantity: fc.integer({ min: 0, max: 40 }),
  areaM2: fc.double({ min: 0.001, max: 0.3, noNaN: true }),
  alongM: fc.double({ min: 0.01, max: 0.4, noNaN: true }),
  heightM: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
});
const randomLimits = fc.record({
  supplyCurrentA: fc.option(fc.double({ min: 30, max: 90, noNaN: true })),
  cathodeServesM2: fc.option(fc.double({ min: 0.3, max: 1, noNaN: true })),
  bars: fc.array(fc.double({ min: 0.4, max: 1, noNaN: true }), { minLength: 1, maxLength: 3 }),
  gapM: fc.double({ min: 0, max: 0.05, noNaN: true }),
});
const made = (
  items: { quantity: number; areaM2: number; alongM: number; heightM: number }[],
): HangingItem[] =>
  items.map((values, i) => item({ ...values, name: `part ${i}`, currentA: 100 * values.areaM2 }));

/** All limits of a load, from its pieces alone. */
function holds(load: HangingLoad, items: readonly HangingItem[], l: LoadLimits): boolean {
  const sum = (of: (i: HangingItem) => number): number =>
    load.pieces.reduce((total, row) => total + row.reduce((s, n, i) => s + n * of(items[i]), 0), 0);
  const tolerance = 1 + 1e-8;
  if (l.supplyCurrentA !== null && sum((i) => i.currentA) > l.supplyCurrentA * tolerance) return false;
  if (l.cathodeServesM2 !== null && sum((i) => i.areaM2) > l.cathodeServesM2 * tolerance) return false;
  return load.pieces.every((row, b) => {
    const n = row.reduce((s, x) => s + x, 0);
    const along = row.reduce((s, x, i) => s + x * items[i].alongM, 0) + l.gapM * Math.max(0, n - 1);
    const tall = row.every((x, i) => x === 0 || items[i].heightM <= l.bars[b].heightM);
    return along <= l.bars[b].lengthM * tolerance && tall;
  });
}

test('never beyond any limit, every piece hung once (fast-check)', () => {
  fc.assert(
    fc.property(fc.array(randomItem, { minLength: 1, maxLength: 5 }), randomLimits, (raw, l) => {
      const items = made(raw);
      const all = { ...l, bars: l.bars.map((length, i) => bar(length, `b${i}`)) };
      const packed = packHangingLoads(items, all);
      if (!packed.ok) throw new Error(packed.error.message);
      for (const load of packed.value.loads) {
        expect(holds(load, items, all)).toBe(true);
        expect(load.areaM2).toBeGreaterThan(0);
      }
      items.forEach((it, i) => {
        const hung = packed.value.loads.reduce(
          (sum, load) => sum + load.pieces.reduce((s, row) => s + row[i], 0),
          0,
        );
        expect(hung).toBe(it.quantity);
      });
      expect(packed.value.loads.length).toBeGreaterThanOrEqual(packed.value.fewestPossible);
    }),
    { numRuns: 60, seed: 8 },
  );
});

/** Fewest loads by looking at every subset of pieces (dynamic programming over subsets). */
function fewestByBruteForce(items: readonly HangingItem[], l: LoadLimits): number {
  const pieces = items.flatMap((it, i) => new Array<number>(it.quantity).fill(i));
  const all = 2 ** pieces.length;
  const hangs = (set: number): boolean => {
    const chosen = pieces.filter((_, k) => set & (1 << k));
    const ways = l.bars.length ** chosen.length;
    for (let way = 0; way < ways; way++) {
      const rows = l.bars.map(() => items.map(() => 0));
      let rest = way;
      for (const piece of chosen) {
        rows[rest % l.bars.length][piece]++;
        rest = Math.floor(rest / l.bars.length);
      }
      if (holds({ pieces: rows } as unknown as HangingLoad, items, l)) return true;
    }
    return false;
  };
  const fits = Array.from({ length: all }, (_, set) => hangs(set));
  const fewest = new Array<number>(all).fill(Infinity);
  fewest[0] = 0;
  for (let set = 1; set < all; set++) {
    for (let part = set; part > 0; part = (part - 1) & set) {
      if (fits[part]) fewest[set] = Math.min(fewest[set], 1 + fewest[set ^ part]);
    }
  }
  return fewest[all - 1];
}

test('small cases need no more loads than an exhaustive search (fast-check)', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          quantity: fc.integer({ min: 1, max: 3 }),
          areaM2: fc.double({ min: 0.02, max: 0.3, noNaN: true }),
          alongM: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
          heightM: fc.constant(0.1),
        }),
        { minLength: 2, maxLength: 3 },
      ),
      randomLimits,
      (raw, l) => {
        const items = made(raw);
        const all = { ...l, bars: l.bars.slice(0, 2).map((length, i) => bar(length, `b${i}`)) };
        const packed = packHangingLoads(items, all);
        if (!packed.ok) throw new Error(packed.error.message);
        const fewest = fewestByBruteForce(items, all);
        // One load more is allowed by the task; the search finds the fewest on jobs this small.
        expect(packed.value.loads.length).toBeLessThanOrEqual(fewest + 1);
        expect(packed.value.loads.length).toBe(fewest);
        expect(packed.value.provenFewest).toBe(true);
        expect(packed.value.fewestPossible).toBeLessThanOrEqual(fewest);
        // Supply and cathode alone: as if every bar were endless.
        const endless = { ...all, bars: [bar(1e3)], gapM: 0 };
        expect(packed.value.fewestHoweverHung).toBeLessThanOrEqual(fewestByBruteForce(items, endless));
      },
    ),
    { numRuns: 80, seed: 21 },
  );
});

describe('room under the bars', () => {
  const sheet = {
    id: 's',
    material: 'lead',
    place: { on: 'wall', wall: 'y-', alongM: 0 },
    widthM: 0.3,
    bottomM: 0,
    heightM: 0.3,
    thicknessM: 0.002,
    standoffM: 0.008,
    backWorks: false,
  } as const;
  const work = {
    id: 'bar',
    along: 'x',
    acrossM: 0,
    fromM: -0.4,
    toM: 0.4,
    heightM: 0.5,
    role: 'work',
  } as const;
  const tank: Tank = {
    name: 't',
    vessel: { shape: 'box', lengthM: 0.7, widthM: 0.5, heightM: 0.45 },
    levelM: 0.4,
    cathodes: [sheet, { ...sheet, id: 't', place: { on: 'wall', wall: 'y+', alongM: 0 } }],
    bars: [work],
  };

  test('box: sheets beside, walls at the ends', () => {
    const [room] = barRooms(tank, USUAL_TANK_RULES);
    expect(room.lengthM).toBeCloseTo(0.7 - 2 * 0.03, 12);
    expect(room.acrossM).toBeCloseTo(2 * (0.25 - 0.01 - 0.15), 12);
    expect(room.heightM).toBeCloseTo(0.4 - 0.03 - 0.05, 12);
  });

  test('two bars share the room between them', () => {
    const rooms = barRooms(
      {
        ...tank,
        bars: [
          { ...work, acrossM: -0.03 },
          { ...work, acrossM: 0.03, id: 'b' },
        ],
      },
      USUAL_TANK_RULES,
    );
    for (const room of rooms) expect(room.acrossM).toBeCloseTo(0.06 - 0.03, 12);
  });

  test('round tub: the corners of the room stay inside the clearance', () => {
    const [room] = barRooms(
      { ...tank, vessel: { shape: 'round', diameterM: 0.4, heightM: 0.4 }, cathodes: [] },
      USUAL_TANK_RULES,
    );
    expect(Math.hypot(room.lengthM / 2, room.acrossM / 2)).toBeLessThanOrEqual(0.17 + 1e-12);
    expect(room.lengthM).toBeCloseTo(2 * (0.17 / Math.SQRT2), 12);
  });
});
