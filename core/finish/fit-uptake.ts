import { DYE_ACTIVATION } from '../reference/dye-practice.ts';
import { GAS_CONSTANT_J_PER_MOL_K } from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';
import type { Dip } from './colour-book.ts';
import { deltaE2000, labFromXyz, xyzFromLab, type Lab } from './colour.ts';
import { UPTAKE_MODELS, uptake, type UptakeModel } from './uptake-models.ts';

/** The part of a dip the curve is fitted to. */
export type DipPoint = Pick<Dip, 'timeS' | 'temperatureK' | 'thicknessM' | 'colour'>;

/** One curve that the dips allow: rate at the reference and, per tristimulus value, ln(bare) and loss at full uptake. */
export interface UptakeCurve {
  readonly ratePerS: number;
  readonly lnBare: readonly [number, number, number];
  readonly lnLoss: readonly [number, number, number];
  /** Sum of squares, in squared ΔE*ab-like units. */
  readonly misfit: number;
}

export interface UptakeFit {
  readonly model: UptakeModel;
  readonly referenceK: number;
  readonly referenceThicknessM: number;
  readonly best: UptakeCurve;
  /** Curves the dips do not rule out at 95 %, slowest and fastest among them; at least `best`. */
  readonly allowed: readonly UptakeCurve[];
  /** Mean and largest CIEDE2000 between dips and curve. */
  readonly meanDeltaE: number;
  readonly worstDeltaE: number;
  readonly longestS: number;
  readonly shortestS: number;
  readonly misfits: Readonly<Record<UptakeModel, number>>;
  readonly notes: readonly string[];
}

const LEAST_DIPS = 3;
const GRID = 160;
const MOST_ALLOWED = 9;
const LEAST_XYZ = 1e-5;
const THICKNESS_SPREAD = 1.3;

/**
 * Fits colour against time to a shop’s own dips of one dye. Light that comes back falls exponentially with the dye in the
 * film (Lambert and Beer), so ln X, ln Y, ln Z are straight in the uptake: for a given rate that is three weighted
 * straight-line fits, and the rate itself is searched on a grid and refined. Weights (value^⅓) make the misfit count as
 * it does in CIELAB. Times are brought to the median temperature with 30 kJ/mol; with diffusion, thickness counts as L².
 * Fails with `too-few-dips` (three dips, two of them at different times, are needed).
 */
export function fitUptake(dips: readonly DipPoint[]): Result<UptakeFit> {
  const times = new Set(dips.map((dip) => dip.timeS));
  if (dips.length < LEAST_DIPS || times.size < 2 || Math.max(...times) === 0) {
    return failure(
      'too-few-dips',
      'At least three dips with two different times are needed before a curve can be drawn.',
      'Dip more test pieces and note time and colour; a bare film counts as a dip of no time.',
    );
  }
  const referenceK = median(dips.map((dip) => dip.temperatureK));
  const referenceThicknessM = median(dips.map((dip) => dip.thicknessM));
  const longest = Math.max(...times);
  const shortest = Math.min(...[...times].filter((t) => t > 0));
  const problem = prepare(dips, referenceK, referenceThicknessM);
  const candidates = UPTAKE_MODELS.map((model) => {
    const from = Math.log(1e-3 / longest);
    const to = Math.log(30 / shortest);
    const curves = Array.from({ length: GRID + 1 }, (_, i) =>
      curveAt(problem, model, Math.exp(from + ((to - from) * i) / GRID)),
    );
    const start = curves.reduce((a, b) => (b.misfit < a.misfit ? b : a));
    const step = (to - from) / GRID;
    return { model, curves, best: refine(problem, model, Math.log(start.ratePerS), step) };
  });
  const chosen = candidates.reduce((a, b) => (b.best.misfit < a.best.misfit * (1 - 1e-9) ? b : a));
  const freedom = 3 * dips.length - 7;
  const limit = chosen.best.misfit * (1 + quantileF(freedom) / freedom) + 1e-12;
  const allowed = [chosen.best, ...thinned(chosen.curves.filter((curve) => curve.misfit <= limit))];
  const errors = dips.map((dip) =>
    deltaE2000(dip.colour, colourOf(chosen.model, chosen.best, referenceK, referenceThicknessM, dip)),
  );
  const notes: string[] = [];
  const thicknesses = dips.map((dip) => dip.thicknessM);
  if (
    Math.max(...thicknesses) / Math.min(...thicknesses) > THICKNESS_SPREAD &&
    chosen.model !== 'diffusion'
  ) {
    notes.push('The dips were on films of different thickness, which this curve does not tell apart.');
  }
  if (dips.length < 5) {
    notes.push('Few dips: they can agree by chance, so the true range may be wider than the one shown.');
  }
  return success({
    model: chosen.model,
    referenceK,
    referenceThicknessM,
    best: chosen.best,
    allowed,
    meanDeltaE: errors.reduce((sum, e) => sum + e, 0) / errors.length,
    worstDeltaE: Math.max(...errors),
    longestS: longest,
    shortestS: shortest,
    misfits: Object.fromEntries(candidates.map((c) => [c.model, c.best.misfit])) as Record<
      UptakeModel,
      number
    >,
    notes,
  });
}

/** Where and how a part is to be dyed. */
export interface DyeSetting {
  readonly temperatureK: number;
  readonly thicknessM: number;
}

/** Colour a curve gives after a time in a setting; Infinity for the film full of dye. */
export function predictColour(fit: UptakeFit, curve: UptakeCurve, setting: DyeSetting, timeS: number): Lab {
  return colourOf(fit.model, curve, fit.referenceK, fit.referenceThicknessM, { ...setting, timeS });
}

function colourOf(
  model: UptakeModel,
  curve: UptakeCurve,
  referenceK: number,
  referenceThicknessM: number,
  dip: DyeSetting & { readonly timeS: number },
): Lab {
  const amount = amountOf(model, curve.ratePerS, referenceK, referenceThicknessM, dip);
  const [x, y, z] = [0, 1, 2].map((i) => Math.exp(curve.lnBare[i]! - curve.lnLoss[i]! * amount));
  return labFromXyz({ x: x!, y: y!, z: z! });
}

/** Dye taken up, relative to a full film of the reference thickness. */
function amountOf(
  model: UptakeModel,
  ratePerS: number,
  referenceK: number,
  referenceThicknessM: number,
  dip: DyeSetting & { readonly timeS: number },
): number {
  const warmth = Math.exp(
    (DYE_ACTIVATION.usual / GAS_CONSTANT_J_PER_MOL_K) * (1 / referenceK - 1 / dip.temperatureK),
  );
  const relative = dip.thicknessM / referenceThicknessM;
  if (model !== 'diffusion') return uptake(model, ratePerS * warmth * dip.timeS);
  return relative * uptake(model, (ratePerS * warmth * dip.timeS) / relative ** 2);
}

interface Problem {
  readonly dips: readonly DipPoint[];
  readonly referenceK: number;
  readonly referenceThicknessM: number;
  /** Per channel and dip: ln of the value, weight. */
  readonly ln: readonly Float64Array[];
  readonly weight: readonly Float64Array[];
}

function prepare(dips: readonly DipPoint[], referenceK: number, referenceThicknessM: number): Problem {
  const values = dips.map((dip) => xyzFromLab(dip.colour));
  const channel = (pick: (xyz: { x: number; y: number; z: number }) => number) =>
    Float64Array.from(values, (xyz) => Math.max(LEAST_XYZ, pick(xyz)));
  const raw = [channel((v) => v.x), channel((v) => v.y), channel((v) => v.z)];
  return {
    dips,
    referenceK,
    referenceThicknessM,
    ln: raw.map((values) => values.map(Math.log)),
    // dL* = 116/3 · Y^(1/3) · d(ln Y): the misfit then reads as lightness steps.
    weight: raw.map((values) => values.map((value) => (116 / 3) * Math.cbrt(value))),
  };
}

function curveAt(problem: Problem, model: UptakeModel, ratePerS: number): UptakeCurve {
  const { dips, referenceK, referenceThicknessM, ln, weight } = problem;
  const amount = Float64Array.from(dips, (dip) =>
    amountOf(model, ratePerS, referenceK, referenceThicknessM, dip),
  );
  const bare: number[] = [];
  const loss: number[] = [];
  let misfit = 0;
  for (let channel = 0; channel < 3; channel++) {
    const line = weightedLine(amount, ln[channel]!, weight[channel]!);
    bare.push(line.bare);
    loss.push(line.loss);
    misfit += line.misfit;
  }
  return {
    ratePerS,
    lnBare: bare as unknown as UptakeCurve['lnBare'],
    lnLoss: loss as unknown as UptakeCurve['lnLoss'],
    misfit,
  };
}

/** Weighted least squares of y = bare − loss·x; dye never makes a part lighter, so loss is not below zero. */
function weightedLine(x: Float64Array, y: Float64Array, w: Float64Array) {
  let [s, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const q = w[i]! ** 2;
    s += q;
    sx += q * x[i]!;
    sy += q * y[i]!;
    sxx += q * x[i]! ** 2;
    sxy += q * x[i]! * y[i]!;
  }
  const spread = s * sxx - sx * sx;
  const slope = spread > 1e-14 * s * sxx ? (s * sxy - sx * sy) / spread : 0;
  const loss = Math.max(0, -slope);
  const bare = (sy + loss * sx) / s;
  let misfit = 0;
  for (let i = 0; i < x.length; i++) misfit += (w[i]! * (y[i]! - bare + loss * x[i]!)) ** 2;
  return { bare, loss, misfit };
}

/** Golden section in ln(rate) around the best grid point. */
function refine(problem: Problem, model: UptakeModel, lnRate: number, step: number): UptakeCurve {
  const at = (value: number) => curveAt(problem, model, Math.exp(value));
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [lnRate - step, lnRate + step];
  for (let i = 0; i < 60; i++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (at(left).misfit < at(right).misfit) high = right;
    else low = left;
  }
  return at((low + high) / 2);
}

/** Slowest, fastest and a few between: enough to find the ends of a range, few enough to stay quick. */
function thinned(curves: readonly UptakeCurve[]): UptakeCurve[] {
  if (curves.length <= MOST_ALLOWED) return [...curves];
  return Array.from({ length: MOST_ALLOWED }, (_, i) => {
    return curves[Math.round((i * (curves.length - 1)) / (MOST_ALLOWED - 1))]!;
  });
}

/** 95 % point of F with 1 and ν degrees of freedom (standard tables), read down to the next lower ν. */
function quantileF(freedom: number): number {
  const rows = [
    [1, 161.4],
    [2, 18.51],
    [3, 10.13],
    [4, 7.71],
    [5, 6.61],
    [6, 5.99],
    [8, 5.32],
    [10, 4.96],
    [15, 4.54],
    [20, 4.35],
    [30, 4.17],
    [60, 4.0],
    [120, 3.92],
  ] as const;
  return rows.findLast(([nu]) => nu <= freedom)?.[1] ?? rows[0][1];
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
