/**
 * Puts pieces into loads so that no load's area is above what the supply can hold at the planned density.
 *
 * As few loads as can be found, then as equal as can be: giving every piece to the lightest load (longest first) in the
 * fewest loads that it fits, or first-fit decreasing where that needs fewer. For equal pieces both are exact; for mixed
 * ones first-fit decreasing needs at most 11/9 of the fewest loads plus one (Johnson 1974). `fewestPossible` is the bound
 * no packing can beat, so the caller can say whether there is doubt.
 */
export interface LoadItem {
  readonly areaM2: number;
  readonly quantity: number;
}

export interface Load {
  /** Per item: how many of it hang in this load. */
  readonly pieces: readonly number[];
  readonly areaM2: number;
}

export interface Packing {
  readonly loads: readonly Load[];
  readonly fewestPossible: number;
}

interface OpenLoad {
  pieces: number[];
  areaM2: number;
}

function piecesLargestFirst(items: readonly LoadItem[]): number[] {
  const order = items.map((_, index) => index).sort((a, b) => items[b]!.areaM2 - items[a]!.areaM2);
  return order.flatMap((index) => new Array<number>(items[index]!.quantity).fill(index));
}

function put(load: OpenLoad, item: number, areaM2: number): void {
  load.pieces[item]! += 1;
  load.areaM2 += areaM2;
}

/** The most even split into a given number of loads: each piece, largest first, to the lightest load. */
export function spreadOverLoads(items: readonly LoadItem[], loadCount: number): Load[] {
  if (!(Number.isInteger(loadCount) && loadCount > 0)) {
    throw new RangeError(`spreadOverLoads: loadCount is ${loadCount}`);
  }
  const loads: OpenLoad[] = Array.from({ length: loadCount }, () => ({
    pieces: items.map(() => 0),
    areaM2: 0,
  }));
  for (const item of piecesLargestFirst(items)) {
    let lightest = loads[0]!;
    for (const load of loads) if (load.areaM2 < lightest.areaM2) lightest = load;
    put(lightest, item, items[item]!.areaM2);
  }
  return loads.filter((load) => load.pieces.some((count) => count > 0));
}

/**
 * @param capacityM2 area one load may have
 * @returns undefined when a single piece is already above the capacity
 */
export function packLoads(items: readonly LoadItem[], capacityM2: number): Packing | undefined {
  const limit = capacityM2 * (1 + 1e-9);
  if (items.some((item) => item.quantity > 0 && item.areaM2 > limit)) return undefined;
  const loads: OpenLoad[] = [];
  for (const item of piecesLargestFirst(items)) {
    const areaM2 = items[item]!.areaM2;
    let home = loads.find((load) => load.areaM2 + areaM2 <= limit);
    if (!home) {
      home = { pieces: items.map(() => 0), areaM2: 0 };
      loads.push(home);
    }
    put(home, item, areaM2);
  }
  if (loads.length === 0) return { loads, fewestPossible: 0 };
  const totalM2 = loads.reduce((sum, load) => sum + load.areaM2, 0);
  const fewestPossible = Math.max(1, Math.ceil(totalM2 / capacityM2 - 1e-9));
  for (let count = fewestPossible; count <= loads.length; count++) {
    const even = spreadOverLoads(items, count);
    if (even.every((load) => load.areaM2 <= limit)) return { loads: even, fewestPossible };
  }
  return { loads, fewestPossible };
}
