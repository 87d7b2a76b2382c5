import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';
import { SIXTY_DEGREES_RAD, type ThreadLimits } from './thread-limits.ts';

/**
 * ASME B1.1 unified threads, UNC and UNF, from its formulas: pitch-diameter tolerance of 2A
 * 0.0015·D^(1/3) + 0.0015·√D + 0.015·P^(2/3) inch for one diameter of engagement, allowance 0.3 of it, 2B 1.3 of it;
 * the tolerance rounded to 0.000001 in, then diameter, tolerance and allowance each to 0.0001 in before they are added,
 * which gives the printed tables to the digit; minor diameters of 6-32 and larger nuts to 0.001 in, as the tables print them.
 */
const TEXT = 'ASME B1.1 formulas, rounded as its tables';
/** Pitch diameters of 2B, coarse and fine, were read in two open charts; of 2A only allowances and major diameters of #4-#12. */
const SOURCES: Readonly<Record<'2A' | '2B', Source>> = {
  '2B': { standing: 'published', text: `${TEXT}; 2B pitch diameters alike in open charts` },
  '2A': {
    standing: 'from memory',
    text: `${TEXT}; 2A allowances and major diameters of #4-#12 alike in an open chart`,
  },
};

const INCH_M = 0.0254;

/** Number sizes: 0.060 + 0.013 · n inch. */
export function numberSizeInch(n: number): number {
  return Math.round((0.06 + 0.013 * n) * 1000) / 1000;
}

/** Size as written, diameter in inch, threads per inch of UNC and UNF. */
export const UNIFIED_SIZES: readonly (readonly [size: string, inch: number, coarse: number, fine: number])[] =
  [
    ['4', 0.112, 40, 48],
    ['5', 0.125, 40, 44],
    ['6', 0.138, 32, 40],
    ['8', 0.164, 32, 36],
    ['10', 0.19, 24, 32],
    ['12', 0.216, 24, 28],
    ['1/4', 0.25, 20, 28],
    ['5/16', 0.3125, 18, 24],
    ['3/8', 0.375, 16, 24],
    ['7/16', 0.4375, 14, 20],
    ['1/2', 0.5, 13, 20],
    ['9/16', 0.5625, 12, 18],
    ['5/8', 0.625, 11, 18],
    ['3/4', 0.75, 10, 16],
    ['7/8', 0.875, 9, 14],
    ['1', 1, 8, 12],
  ];

/** Where the printed 2A allowance is not the rounded formula's (0.00165 in there), from memory. */
const PRINTED_ALLOWANCE: Readonly<Record<string, number>> = { '5/8-11': 0.0016 };

const to6 = (inch: number): number => Math.round(inch * 1e6) / 1e6;
const to4 = (inch: number): number => Math.round(inch * 1e4) / 1e4;
const to3 = (inch: number): number => Math.round(to4(inch) * 1e3 + 1e-6) / 1e3;

/** Limits of a unified thread #4 to 1 in, UNC or UNF, class 2A or 2B. Fails with `thread-not-held`. */
export function unifiedThread(
  size: string,
  threadsPerInch: number,
  toleranceClass: string,
): Result<ThreadLimits> {
  const row = UNIFIED_SIZES.find(([name]) => name === size);
  const series = row?.[2] === threadsPerInch ? 'UNC' : row?.[3] === threadsPerInch ? 'UNF' : undefined;
  if (!row || !series || (toleranceClass !== '2A' && toleranceClass !== '2B')) {
    return failure(
      'thread-not-held',
      `${size}-${threadsPerInch}-${toleranceClass} is not among the threads held here.`,
      'Use UNC or UNF from #4 to 1 in, class 2A or 2B, or type the pitch-diameter limits.',
    );
  }
  const d = row[1];
  const p = 1 / threadsPerInch;
  const bolt = to6(0.0015 * Math.cbrt(d) + 0.0015 * Math.sqrt(d) + 0.015 * p ** (2 / 3));
  const pitchDiameter = d - 0.649519 * p;
  const minor = d - 1.082532 * p;
  const shared = {
    designation: `${size}-${threadsPerInch} ${series}-${toleranceClass}`,
    nominalM: d * INCH_M,
    pitchM: p * INCH_M,
    flankAngleRad: SIXTY_DEGREES_RAD,
    source: SOURCES[toleranceClass],
  };
  if (toleranceClass === '2B') {
    const low = to4(pitchDiameter);
    const minorTolerance = nutMinorTolerance(d, p);
    const round = d >= 0.138 ? to3 : to4;
    return success({
      ...shared,
      kind: 'internal',
      pitchDiameter: { lowM: low * INCH_M, highM: to4(low + to4(1.3 * bolt)) * INCH_M },
      majorDiameter: { lowM: d * INCH_M, highM: null },
      minorDiameter: {
        lowM: round(minor) * INCH_M,
        highM: round(to4(minor) + to4(minorTolerance)) * INCH_M,
      },
    });
  }
  const allowance = PRINTED_ALLOWANCE[`${size}-${threadsPerInch}`] ?? to4(0.3 * bolt);
  const high = to4(to4(pitchDiameter) - allowance);
  const majorHigh = to4(d - allowance);
  return success({
    ...shared,
    kind: 'external',
    pitchDiameter: { lowM: to4(high - to4(bolt)) * INCH_M, highM: high * INCH_M },
    majorDiameter: { lowM: to4(majorHigh - to4(0.06 * p ** (2 / 3))) * INCH_M, highM: majorHigh * INCH_M },
    minorDiameter: { lowM: null, highM: to4(minor - allowance) * INCH_M },
  });
}

/** Minor-diameter tolerance of 2B: one formula under 1/4 in with two bounds, another from there up. */
function nutMinorTolerance(d: number, p: number): number {
  const large = 0.25 * p - 0.4 * p * p;
  if (d >= 0.25) return large;
  const small = 0.05 * p ** (2 / 3) + (0.03 * p) / d - 0.002;
  return Math.min(0.394 * p, Math.max(large, small));
}
