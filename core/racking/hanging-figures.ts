import type { Figure, Source } from '../figure/figure.ts';
import type { Pocket, Traps } from './find-traps.ts';

/** What one attitude traps, as Figures: sums over all pockets, and each pocket. */
export interface TrapFigures {
  readonly gasVolumeM3: Figure;
  readonly gasAreaM2: Figure;
  readonly liquidVolumeM3: Figure;
  readonly gas: readonly PocketFigures[];
  readonly liquid: readonly PocketFigures[];
}

export interface PocketFigures {
  readonly volumeM3: Figure;
  readonly areaM2: Figure;
  readonly depthM: Figure;
}

const ON_MESH: Source = {
  standing: 'measured on the model',
  text: 'exact on the mesh: the space is followed through the surface to where it opens',
};

/** @param unconfirmed why the model's unit is not certain, carried onto every figure */
export function trapFigures(traps: Traps, metresPerUnit: number, unconfirmed?: string): TrapFigures {
  if (!(metresPerUnit > 0)) throw new RangeError(`trapFigures: metresPerUnit is ${metresPerUnit}`);
  const doubt = unconfirmed === undefined ? {} : { unconfirmed };
  const sum = (pockets: readonly Pocket[], of: (pocket: Pocket) => number): number =>
    pockets.reduce((total, pocket) => total + of(pocket), 0);
  const count = (pockets: readonly Pocket[]): Figure['inputs'] => [
    { symbol: 'n', label: 'pockets', kind: 'count', valueSi: pockets.length },
  ];
  const volume = (label: string, valueSi: number, inputs: Figure['inputs']): Figure => ({
    label,
    kind: 'volume',
    unit: 'in³',
    valueSi,
    formula: 'V = Σ (height over the level) · (area seen from above)',
    inputs,
    source: ON_MESH,
    ...doubt,
  });
  const area = (label: string, valueSi: number, inputs: Figure['inputs']): Figure => ({
    label,
    kind: 'area',
    valueSi,
    formula: 'A = Σ area of the surface inside',
    inputs,
    source: ON_MESH,
    ...doubt,
  });
  const each = (pocket: Pocket, what: string): PocketFigures => ({
    volumeM3: volume(what, pocket.volume * metresPerUnit ** 3, []),
    areaM2: area('Surface it covers', pocket.area * metresPerUnit ** 2, []),
    depthM: {
      label: 'Depth to where it opens',
      kind: 'length',
      valueSi: pocket.depth * metresPerUnit,
      formula: 'far end to the level where it opens',
      inputs: [],
      source: ON_MESH,
      ...doubt,
    },
  });
  return {
    gasVolumeM3: volume(
      'Gas that stays',
      sum(traps.gas, (pocket) => pocket.volume) * metresPerUnit ** 3,
      count(traps.gas),
    ),
    gasAreaM2: area(
      'Surface kept from the bath by gas',
      sum(traps.gas, (pocket) => pocket.area) * metresPerUnit ** 2,
      count(traps.gas),
    ),
    liquidVolumeM3: volume(
      'Liquid carried out',
      sum(traps.liquid, (pocket) => pocket.volume) * metresPerUnit ** 3,
      count(traps.liquid),
    ),
    gas: traps.gas.map((pocket) => each(pocket, 'Gas')),
    liquid: traps.liquid.map((pocket) => each(pocket, 'Liquid')),
  };
}
