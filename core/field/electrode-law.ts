/**
 * How voltage and current density belong together at a surface in the bath.
 * `linear`: U = restV + slopeVM2PerA · j, either sign of current; cathodes, and reference problems.
 * `power`: U = referenceV · (j / referenceAPerM2)^exponent; the growing film, which lets current out of the metal only.
 * j in A/m², U in V, both positive when current leaves the surface for the bath (a part) or enters it (a cathode).
 */
export type ElectrodeLaw =
  | { readonly kind: 'linear'; readonly restV: number; readonly slopeVM2PerA: number }
  | {
      readonly kind: 'power';
      readonly referenceV: number;
      readonly referenceAPerM2: number;
      readonly exponent: number;
    };

/** Below this share of the reference density the power law goes on as a straight line through zero. */
const STRAIGHT_SHARE = 1e-4;
/** A power law's slope falls with the density; up to this multiple of the reference it is counted on. */
const HIGHEST_SHARE = 20;

/** Throws RangeError for a law that does not rise with the current. */
export function checkLaw(law: ElectrodeLaw): void {
  if (law.kind === 'linear') {
    if (!(law.slopeVM2PerA >= 0)) throw new RangeError(`checkLaw: slopeVM2PerA is ${law.slopeVM2PerA}`);
    if (!Number.isFinite(law.restV)) throw new RangeError(`checkLaw: restV is ${law.restV}`);
    return;
  }
  if (!(law.referenceV > 0)) throw new RangeError(`checkLaw: referenceV is ${law.referenceV}`);
  if (!(law.referenceAPerM2 > 0)) throw new RangeError(`checkLaw: referenceAPerM2 is ${law.referenceAPerM2}`);
  if (!(law.exponent > 0 && law.exponent <= 1)) throw new RangeError(`checkLaw: exponent is ${law.exponent}`);
}

/** Voltage across the surface layer at a density. */
export function voltageAt(law: ElectrodeLaw, currentDensityAPerM2: number): number {
  if (law.kind === 'linear') return law.restV + law.slopeVM2PerA * currentDensityAPerM2;
  const share = currentDensityAPerM2 / law.referenceAPerM2;
  if (share < STRAIGHT_SHARE) return law.referenceV * STRAIGHT_SHARE ** (law.exponent - 1) * share;
  return law.referenceV * share ** law.exponent;
}

/** dU/dj at a density, V·m²/A. */
export function slopeAt(law: ElectrodeLaw, currentDensityAPerM2: number): number {
  if (law.kind === 'linear') return law.slopeVM2PerA;
  const share = currentDensityAPerM2 / law.referenceAPerM2;
  const perDensity = law.referenceV / law.referenceAPerM2;
  if (share < STRAIGHT_SHARE) return perDensity * STRAIGHT_SHARE ** (law.exponent - 1);
  return perDensity * law.exponent * share ** (law.exponent - 1);
}

/** The smallest dU/dj a solution may meet. */
export function leastSlope(law: ElectrodeLaw): number {
  return law.kind === 'linear' ? law.slopeVM2PerA : slopeAt(law, HIGHEST_SHARE * law.referenceAPerM2);
}

/**
 * The density j that solves U(j) + layer · j = voltageV, `layerOhmM2` being the resistance of the liquid between the
 * surface and the point where the potential is known (it may be negative as long as slope + layer stays positive).
 */
export function densityFor(law: ElectrodeLaw, voltageV: number, layerOhmM2: number): number {
  if (law.kind === 'linear') return (voltageV - law.restV) / (law.slopeVM2PerA + layerOhmM2);
  const straight = law.referenceAPerM2 * STRAIGHT_SHARE;
  const straightV = voltageAt(law, straight) + layerOhmM2 * straight;
  if (voltageV <= straightV) return (voltageV / straightV) * straight;
  let low = straight;
  let high = HIGHEST_SHARE * law.referenceAPerM2;
  while (voltageAt(law, high) + layerOhmM2 * high < voltageV) {
    if (high > 1e12 * law.referenceAPerM2) break;
    low = high;
    high *= 4;
  }
  let j = Math.min(
    high,
    Math.max(low, law.referenceAPerM2 * (voltageV / law.referenceV) ** (1 / law.exponent)),
  );
  for (let step = 0; step < 60; step++) {
    const excess = voltageAt(law, j) + layerOhmM2 * j - voltageV;
    if (Math.abs(excess) <= 1e-14 * voltageV) break;
    if (excess > 0) high = j;
    else low = j;
    const next = j - excess / (slopeAt(law, j) + layerOhmM2);
    j = next > low && next < high ? next : (low + high) / 2;
  }
  return j;
}

/**
 * The power law through measured pairs of density and voltage, least squares on logarithms; undefined for fewer than
 * two different densities or a voltage that does not rise with the density.
 */
export function fitPowerLaw(
  pairs: readonly { readonly currentDensityAPerM2: number; readonly voltageV: number }[],
): ElectrodeLaw | undefined {
  const usable = pairs.filter((pair) => pair.currentDensityAPerM2 > 0 && pair.voltageV > 0);
  if (usable.length < 2) return undefined;
  const x = usable.map((pair) => Math.log(pair.currentDensityAPerM2));
  const y = usable.map((pair) => Math.log(pair.voltageV));
  const meanX = x.reduce((a, b) => a + b, 0) / x.length;
  const meanY = y.reduce((a, b) => a + b, 0) / y.length;
  const spread = x.reduce((sum, value) => sum + (value - meanX) ** 2, 0);
  if (!(spread > 1e-6)) return undefined;
  const exponent = x.reduce((sum, value, i) => sum + (value - meanX) * (y[i] - meanY), 0) / spread;
  if (!(exponent > 0 && exponent <= 1)) return undefined;
  return {
    kind: 'power',
    referenceAPerM2: Math.exp(meanX),
    referenceV: Math.exp(meanY),
    exponent,
  };
}
