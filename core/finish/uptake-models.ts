/**
 * How far dye has gone into the film, 0-1, against rate times time. Three published ways:
 * - `diffusion` into a film of thickness L from one side (Crank, The Mathematics of Diffusion), argument D·t/L²;
 * - `second order`, q/q_e = k·t/(1 + k·t) with k the product of rate constant and q_e (Ho and McKay, from memory);
 * - `first order`, q/q_e = 1 − e^(−k·t) (Lagergren, from memory).
 */
export const UPTAKE_MODELS = ['diffusion', 'second order', 'first order'] as const;
export type UptakeModel = (typeof UPTAKE_MODELS)[number];

/** Crank’s two series are joined here, where both are good to 1e-12 with the terms below. */
const JOIN = 0.2;

export function uptake(model: UptakeModel, rateTime: number): number {
  if (!(rateTime >= 0)) throw new RangeError(`uptake: rateTime is ${rateTime}`);
  switch (model) {
    case 'diffusion':
      return rateTime < JOIN ? shortTime(rateTime) : longTime(rateTime);
    case 'second order':
      return rateTime === Infinity ? 1 : rateTime / (1 + rateTime);
    case 'first order':
      return -Math.expm1(-rateTime);
  }
}

/** 2·√(θ/π) is the half-space; the images at n = 1 to 4 bring in the film’s far side. */
function shortTime(theta: number): number {
  if (theta === 0) return 0;
  const root = Math.sqrt(theta);
  let images = 0;
  for (let n = 1; n <= 4; n++) images += (n % 2 === 0 ? 1 : -1) * ierfc(n / root);
  return 2 * root * (1 / Math.sqrt(Math.PI) + 2 * images);
}

function longTime(theta: number): number {
  let sum = 0;
  for (let k = 0; k < 12; k++) {
    const odd = 2 * k + 1;
    sum += Math.exp((-odd * odd * Math.PI * Math.PI * theta) / 4) / (odd * odd);
  }
  return 1 - (8 / (Math.PI * Math.PI)) * sum;
}

/** Integral of the complementary error function from z to infinity. */
function ierfc(z: number): number {
  return Math.exp(-z * z) / Math.sqrt(Math.PI) - z * erfc(z);
}

/** For z ≥ 2 only (√θ ≤ 0.45): continued fraction, Abramowitz and Stegun 7.1.14, to 1e-14 there. */
function erfc(z: number): number {
  let tail = 0;
  for (let k = 60; k >= 1; k--) tail = k / 2 / (z + tail);
  return Math.exp(-z * z) / Math.sqrt(Math.PI) / (z + tail);
}
