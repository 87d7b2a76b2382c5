import { takenAlongM } from './bar-rooms.ts';
import type { BarRoom, HangingItem, HangingLoad, LoadLimit, LoadLimits } from './pack-hanging-loads.ts';

/** Sums of whole pieces: rounding of the last digits must not push one out. */
export const EXACT = 1 + 1e-9;
/** Steps of the search for one load fewer; about a second for the largest jobs. */
const SEARCH_STEPS = 200_000;

export interface OpenLoad {
  pieces: number[][];
  areaM2: number;
  currentA: number;
  /** Per bar: used length, gaps included. */
  usedM: number[];
}

/** @param index of the item, for its own width where it swings its own way */
export const fitsBar = (item: HangingItem, index: number, bar: BarRoom, gapM: number): boolean =>
  takenM(item, gapM) <= (bar.lengthM + gapM) * EXACT &&
  item.acrossM <= (bar.own?.[index]?.acrossM ?? bar.acrossM) * EXACT &&
  item.heightM <= (bar.own?.[index]?.heightM ?? bar.heightM) * EXACT;

/** Of a row's length, its half of the gaps to both sides included. */
export const takenM = (item: HangingItem, gapM: number): number =>
  takenAlongM(item.alongM, item.swingAlongM ?? 0, gapM);

/** The steps of packHangingLoads: a bound, a first fit, a search for fewer, and evening. */
export class LoadPacker {
  readonly #items: readonly HangingItem[];
  readonly #limits: LoadLimits;

  constructor(items: readonly HangingItem[], limits: LoadLimits) {
    this.#items = items;
    this.#limits = limits;
  }

  /** Sums over limits, and for each kind of piece how many of it alone fit in one load. */
  lowerBound(): number {
    const { bars, gapM } = this.#limits;
    const room = bars.reduce((total, bar) => total + bar.lengthM + gapM, 0);
    const bounds = [this.lowerBoundWithoutRoom(), this.#sum((item) => takenM(item, gapM)) / room];
    for (const [index, item] of this.#items.entries()) {
      if (item.quantity === 0) continue;
      const load = this.#open();
      let alone = 0;
      while (alone < item.quantity && this.#put(load, index)) alone++;
      bounds.push(item.quantity / alone);
    }
    return Math.max(...bounds.map((bound) => Math.ceil(bound - 1e-9)));
  }

  /** The same by supply and cathode alone. */
  lowerBoundWithoutRoom(): number {
    const { supplyCurrentA, cathodeServesM2 } = this.#limits;
    const bounds = [1];
    const limit = (capacity: number | null, of: (item: HangingItem) => number): void => {
      if (capacity === null) return;
      bounds.push(this.#sum(of) / capacity);
      for (const item of this.#items) {
        const alone = Math.floor((capacity * EXACT) / of(item));
        if (item.quantity > 0 && alone > 0) bounds.push(item.quantity / alone);
      }
    };
    limit(supplyCurrentA, (item) => item.currentA);
    limit(cathodeServesM2, (item) => item.areaM2);
    return Math.max(...bounds.map((bound) => Math.ceil(bound - 1e-9)));
  }

  #sum(of: (item: HangingItem) => number): number {
    return this.#items.reduce((total, item) => total + of(item) * item.quantity, 0);
  }

  firstFit(): OpenLoad[] {
    const { supplyCurrentA, cathodeServesM2, bars } = this.#limits;
    const longest = bars.reduce((sum, bar) => sum + bar.lengthM, 0);
    const demands: ((item: HangingItem) => number)[] = [
      (item) =>
        Math.max(
          supplyCurrentA === null ? 0 : item.currentA / supplyCurrentA,
          cathodeServesM2 === null ? 0 : item.areaM2 / cathodeServesM2,
          item.alongM / longest,
        ),
      (item) => item.areaM2,
      (item) => item.alongM,
    ];
    let best: OpenLoad[] | undefined;
    for (const demand of demands) {
      const loads: OpenLoad[] = [];
      for (const item of this.#largestFirst(demand)) {
        if (loads.some((load) => this.#put(load, item))) continue;
        const load = this.#open();
        this.#put(load, item);
        loads.push(load);
      }
      if (!best || loads.length < best.length) best = loads;
    }
    return best!;
  }

  /** All ways of filling `loadCount` loads, until one holds everything or the steps run out. */
  search(loadCount: number): { readonly loads?: OpenLoad[]; readonly exhausted: boolean } {
    const order = this.#largestFirst((item) => item.areaM2 + item.alongM);
    const loads = Array.from({ length: loadCount }, () => this.#open());
    let steps = 0;
    const place = (at: number, from: number): boolean => {
      if (at === order.length) return true;
      const item = order[at];
      // Equal pieces go to loads in order, and an untouched load is tried once.
      let untouched = false;
      for (let index = from; index < loads.length; index++) {
        const load = loads[index];
        const empty = load.areaM2 === 0 && load.usedM.every((used) => used === 0);
        if (empty && untouched) continue;
        untouched ||= empty;
        for (let bar = 0; bar < this.#limits.bars.length; bar++) {
          if (++steps > SEARCH_STEPS) return false;
          if (!this.#fits(load, item, bar)) continue;
          this.#change(load, item, bar, 1);
          if (place(at + 1, order[at + 1] === item ? index : 0)) return true;
          this.#change(load, item, bar, -1);
        }
      }
      return false;
    };
    // Deeper than this the search would not end anyway, and the call stack would.
    if (order.length > 2000) return { exhausted: false };
    if (place(0, 0)) return { loads, exhausted: false };
    return { exhausted: steps <= SEARCH_STEPS };
  }

  /** Moves single pieces, and swaps pairs, from a fuller load to an emptier one. Changes `loads`. */
  even(loads: OpenLoad[]): void {
    for (let round = 0; round < 1000; round++) {
      loads.sort((a, b) => b.areaM2 - a.areaM2);
      if (!this.#evenOnce(loads)) return;
    }
  }

  #evenOnce(loads: readonly OpenLoad[]): boolean {
    for (const heavy of loads) {
      for (let index = loads.length - 1; loads[index] !== heavy; index--) {
        if (this.#evenPair(heavy, loads[index])) return true;
      }
    }
    return false;
  }

  #evenPair(heavy: OpenLoad, light: OpenLoad): boolean {
    const gap = heavy.areaM2 - light.areaM2;
    if (!(gap > 1e-9 * heavy.areaM2)) return false;
    const least = 1e-9 * heavy.areaM2;
    for (const [item, bar] of this.#contents(heavy)) {
      const area = this.#items[item].areaM2;
      if (area > least && area < gap - least) {
        this.#change(heavy, item, bar, -1);
        if (this.#put(light, item)) return true;
        this.#change(heavy, item, bar, 1);
      }
      for (const [other, otherBar] of this.#contents(light)) {
        const shift = area - this.#items[other].areaM2;
        if (!(shift > least && shift < gap - least)) continue;
        this.#change(heavy, item, bar, -1);
        this.#change(light, other, otherBar, -1);
        if (this.#put(light, item)) {
          if (this.#put(heavy, other)) return true;
          this.#change(light, item, this.#lastBar, -1);
        }
        this.#change(heavy, item, bar, 1);
        this.#change(light, other, otherBar, 1);
      }
    }
    return false;
  }

  #lastBar = 0;

  /** Kinds and bars present in a load. */
  #contents(load: OpenLoad): [item: number, bar: number][] {
    return load.pieces.flatMap((counts, bar) =>
      counts.flatMap((count, item): [number, number][] => (count > 0 ? [[item, bar]] : [])),
    );
  }

  #largestFirst(demand: (item: HangingItem) => number): number[] {
    const order = this.#items
      .map((_, index) => index)
      .sort((a, b) => demand(this.#items[b]) - demand(this.#items[a]) || a - b);
    return order.flatMap((index) => new Array<number>(this.#items[index].quantity).fill(index));
  }

  #open(): OpenLoad {
    const { bars } = this.#limits;
    return {
      pieces: bars.map(() => this.#items.map(() => 0)),
      areaM2: 0,
      currentA: 0,
      usedM: bars.map(() => 0),
    };
  }

  #fits(load: OpenLoad, index: number, bar: number): boolean {
    const item = this.#items[index];
    const { supplyCurrentA, cathodeServesM2 } = this.#limits;
    if (supplyCurrentA !== null && load.currentA + item.currentA > supplyCurrentA * EXACT) return false;
    if (cathodeServesM2 !== null && load.areaM2 + item.areaM2 > cathodeServesM2 * EXACT) return false;
    return this.#hangs(load, index, bar);
  }

  #hangs(load: OpenLoad, index: number, bar: number): boolean {
    const { bars, gapM } = this.#limits;
    const item = this.#items[index];
    return (
      fitsBar(item, index, bars[bar], gapM) &&
      load.usedM[bar] + takenM(item, gapM) <= (bars[bar].lengthM + gapM) * EXACT
    );
  }

  /** On the bar with the least room left over. */
  #put(load: OpenLoad, index: number): boolean {
    let best = -1;
    let least = Infinity;
    for (let bar = 0; bar < this.#limits.bars.length; bar++) {
      if (!this.#fits(load, index, bar)) continue;
      const left = this.#limits.bars[bar].lengthM - load.usedM[bar];
      if (left < least) {
        least = left;
        best = bar;
      }
    }
    if (best < 0) return false;
    this.#change(load, index, best, 1);
    this.#lastBar = best;
    return true;
  }

  #change(load: OpenLoad, index: number, bar: number, by: 1 | -1): void {
    const item = this.#items[index];
    load.pieces[bar][index] += by;
    // Added up anew, so that a thousand moves leave no rounding behind.
    load.areaM2 = this.#total(load, (other) => other.areaM2);
    load.currentA = this.#total(load, (other) => other.currentA);
    load.usedM[bar] += by * takenM(item, this.#limits.gapM);
    if (load.pieces[bar].every((count) => count === 0)) load.usedM[bar] = 0;
  }

  #total(load: OpenLoad, of: (item: HangingItem) => number): number {
    let sum = 0;
    for (const counts of load.pieces) counts.forEach((count, item) => (sum += count * of(this.#items[item])));
    return sum;
  }

  describe(load: OpenLoad): HangingLoad {
    const { supplyCurrentA, cathodeServesM2, bars, gapM } = this.#limits;
    const used: Record<LoadLimit, number> = {
      supply: supplyCurrentA === null ? 0 : load.currentA / supplyCurrentA,
      cathode: cathodeServesM2 === null ? 0 : load.areaM2 / cathodeServesM2,
      tank: Math.max(0, ...bars.map((bar, i) => Math.max(0, load.usedM[i] - gapM) / bar.lengthM)),
    };
    const kinds = this.#items.map((_, index) => index).filter((index) => this.#items[index].quantity > 0);
    const room = kinds.every((item) => bars.some((_, bar) => this.#fits(load, item, bar)));
    const limitedBy = room ? 'none' : this.#blocker(load, kinds, used);
    return {
      pieces: load.pieces.map((counts) => [...counts]),
      areaM2: load.areaM2,
      currentA: load.currentA,
      used,
      limitedBy,
      text: describeLimit(limitedBy, used),
    };
  }

  /** The limit that turns away the most kinds; of equals the one that is used most. */
  #blocker(load: OpenLoad, kinds: readonly number[], used: Record<LoadLimit, number>): LoadLimit {
    const { supplyCurrentA, cathodeServesM2, bars } = this.#limits;
    const turned: Record<LoadLimit, number> = { supply: 0, cathode: 0, tank: 0 };
    for (const index of kinds) {
      const item = this.#items[index];
      if (supplyCurrentA !== null && load.currentA + item.currentA > supplyCurrentA * EXACT) turned.supply++;
      if (cathodeServesM2 !== null && load.areaM2 + item.areaM2 > cathodeServesM2 * EXACT) turned.cathode++;
      if (!bars.some((_, bar) => this.#hangs(load, index, bar))) turned.tank++;
    }
    return (['supply', 'cathode', 'tank'] as const).reduce((best, limit) =>
      turned[limit] > turned[best] || (turned[limit] === turned[best] && used[limit] > used[best])
        ? limit
        : best,
    );
  }
}

function describeLimit(limit: LoadLimit | 'none', used: Record<LoadLimit, number>): string {
  const share = (of: LoadLimit): string => `${Math.round(100 * used[of])} %`;
  switch (limit) {
    case 'supply':
      return `The supply limits this load: ${share('supply')} of its current is used.`;
    case 'cathode':
      return `The cathode limits this load: ${share('cathode')} of the area it serves is hung.`;
    case 'tank':
      return `The bar limits this load: ${share('tank')} of its length is taken.`;
    case 'none':
      return 'One more of any kind would still fit.';
  }
}
