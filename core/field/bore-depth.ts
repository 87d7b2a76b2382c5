import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';

/** A round hole. A through hole is coated from both ends. */
export interface Bore {
  readonly radiusM: number;
  readonly depthM: number;
  readonly through: boolean;
}

export interface BoreConditions {
  readonly conductivitySPerM: number;
  /** dU/dj of the film at the planned density, V·m²/A. */
  readonly filmSlopeVM2PerA: number;
  readonly filmSource: Source;
}

export interface BoreEstimate {
  /** Depth over which the current falls to 1/e, far from the end. */
  readonly penetrationM: Figure;
  /** Thinnest place over the mouth. */
  readonly thinnestShare: Figure;
  /** Mean over the mouth. */
  readonly meanShare: Figure;
  /** From a mouth, down to which at least the asked share of the mouth's thickness holds. */
  readonly depthHeldM: Figure;
}

const FIN: Source = {
  standing: 'published',
  text: 'one-dimensional field in a pore with a linear wall law, as for a cooling fin; Newman and Thomas-Alyea, Electrochemical Systems; ±30 % for a growing film, whose law is not a straight line',
};
const WAGNER: Source = {
  standing: 'published',
  text: 'IUPAC Gold Book, C01456; Pure Appl. Chem. 53 (1981) 1836',
};
const SPREAD = 0.3;

const slopeText = ({ filmSlopeVM2PerA }: BoreConditions): string =>
  `${Number(filmSlopeVM2PerA.toPrecision(3))} V·m²/A`;

/** A formula's source with that of the film's law, which is no part of the formula. */
const withFilm = (source: Source, symbol: string, { filmSource }: BoreConditions): Source => ({
  ...source,
  text: `${source.text} (${source.standing}); ${symbol}: ${filmSource.text}`,
  standing: filmSource.standing,
});

/**
 * What a bore gets, without a solve: λ = √(κ b r / 2), j(x)/j(0) = cosh((L − x)/λ)/cosh(L/λ) with L the depth of a blind hole
 * or half of a through one. Good for L above three radii; the film's law is not linear, so ±30 % on λ.
 * Throws RangeError for a size, slope or conductivity that is not positive, or a share outside 0-1.
 */
export function estimateBore(bore: Bore, at: BoreConditions, shareHeld: number): BoreEstimate {
  for (const [name, value] of [
    ['radiusM', bore.radiusM],
    ['depthM', bore.depthM],
    ['conductivitySPerM', at.conductivitySPerM],
    ['filmSlopeVM2PerA', at.filmSlopeVM2PerA],
  ] as const) {
    if (!(value > 0)) throw new RangeError(`estimateBore: ${name} is ${value}`);
  }
  if (!(shareHeld > 0 && shareHeld < 1)) throw new RangeError(`estimateBore: shareHeld is ${shareHeld}`);
  const lengthM = bore.through ? bore.depthM / 2 : bore.depthM;
  const lambda = Math.sqrt((at.conductivitySPerM * at.filmSlopeVM2PerA * bore.radiusM) / 2);
  const [short, long] = [lambda * (1 - SPREAD), lambda * (1 + SPREAD)];
  const thinnest = (l: number) => 1 / Math.cosh(lengthM / l);
  const mean = (l: number) => Math.tanh(lengthM / l) / (lengthM / l);
  const held = (l: number) => {
    const cosh = shareHeld * Math.cosh(lengthM / l);
    return cosh <= 1 ? lengthM : lengthM - l * Math.acosh(cosh);
  };
  const inputs = [
    figureInput('κ', 'conductivity of the bath', 'conductivity', at.conductivitySPerM),
    figureInput('r', 'radius of the hole', 'length', bore.radiusM, 'mm'),
    figureInput(
      'L',
      bore.through ? 'half the length of the hole' : 'depth of the hole',
      'length',
      lengthM,
      'mm',
    ),
  ];
  const slope = `b = ${slopeText(at)}`;
  const figure = (
    label: string,
    kind: Figure['kind'],
    formula: string,
    of: (l: number) => number,
    unit?: string,
  ): Figure => ({
    label,
    kind,
    valueSi: of(lambda),
    lowSi: of(short),
    highSi: of(long),
    ...(unit === undefined ? {} : { unit }),
    formula: `${formula}, ${slope}`,
    inputs,
    source: withFilm(FIN, 'b', at),
  });
  return {
    penetrationM: figure('Penetration', 'length', 'λ = √(κ · b · r / 2)', (l) => l, 'mm'),
    thinnestShare: figure(
      'Thinnest over mouth',
      'fraction',
      '1 / cosh(L/λ), λ = √(κ · b · r / 2)',
      thinnest,
      '%',
    ),
    meanShare: figure('Mean over mouth', 'fraction', 'tanh(L/λ) / (L/λ), λ = √(κ · b · r / 2)', mean, '%'),
    depthHeldM: figure(
      `Depth with at least ${Math.round(shareHeld * 100)} % of the mouth’s thickness`,
      'length',
      `x = L − λ · arcosh(${shareHeld} · cosh(L/λ)), λ = √(κ · b · r / 2)`,
      held,
      'mm',
    ),
  };
}

/**
 * Wagner number of a part: how far the film evens the current out. Well above 1 the coating is even whatever the shape; well
 * below 1 the shape and the cathodes decide.
 */
export function wagnerNumber(sizeM: number, at: BoreConditions): Figure {
  if (!(sizeM > 0)) throw new RangeError(`wagnerNumber: sizeM is ${sizeM}`);
  return {
    label: 'Wagner number',
    kind: 'count',
    valueSi: (at.conductivitySPerM * at.filmSlopeVM2PerA) / sizeM,
    formula: `Wa = κ · (dU/dj) / l, dU/dj = ${slopeText(at)}`,
    inputs: [
      figureInput('κ', 'conductivity of the bath', 'conductivity', at.conductivitySPerM),
      figureInput('l', 'size of the part', 'length', sizeM, 'mm'),
    ],
    source: withFilm(WAGNER, 'dU/dj', at),
  };
}

/**
 * Depth to which a solved map holds a thickness in a bore: the least depth, from the mouth along the axis, at which the
 * mean of a slice falls below `limitM`. `lengthM` when it holds all the way, 0 when the mouth is already thinner.
 * @param positions 9 numbers a triangle, any unit in which mouth and length are given too
 * @param triangles the bore's own
 */
export function depthCoated(
  positions: ArrayLike<number>,
  triangles: ArrayLike<number>,
  thicknessM: ArrayLike<number>,
  areas: ArrayLike<number>,
  bore: {
    readonly mouth: readonly [number, number, number];
    /** Unit vector into the bore. */
    readonly inward: readonly [number, number, number];
    readonly length: number;
  },
  limitM: number,
  slices = 24,
): number {
  if (!(bore.length > 0)) throw new RangeError(`depthCoated: length is ${bore.length}`);
  const volume = new Float64Array(slices);
  const area = new Float64Array(slices);
  for (let n = 0; n < triangles.length; n++) {
    const t = triangles[n];
    let depth = 0;
    for (let c = 0; c < 9; c++)
      depth += ((positions[t * 9 + c] - bore.mouth[c % 3]) * bore.inward[c % 3]) / 3;
    const slice = Math.floor((depth / bore.length) * slices);
    if (slice < 0 || slice >= slices) continue;
    volume[slice] += thicknessM[t] * areas[t];
    area[slice] += areas[t];
  }
  let before = { depth: 0, thickness: Infinity };
  for (let s = 0; s < slices; s++) {
    if (!(area[s] > 0)) continue;
    const depth = ((s + 0.5) * bore.length) / slices;
    const thickness = volume[s] / area[s];
    if (thickness < limitM) {
      if (before.thickness === Infinity) return 0;
      const part = (before.thickness - limitM) / (before.thickness - thickness);
      return before.depth + part * (depth - before.depth);
    }
    before = { depth, thickness };
  }
  return bore.length;
}
