import type { Source } from '../figure/figure.ts';

/** ISO 68-1 basic profile, and ASME B1.1's, which is the same: 60°, cut off by H/8 at the major and H/4 at the minor diameter. */
export const THREAD_PROFILE_SOURCE: Source = {
  standing: 'published',
  text: 'ISO 68-1 basic profile (60°, flats P/8 at the major and P/4 at the minor diameter); area of the helicoid in closed form',
};

/** One thread's form, m. Between `minorM` and `majorM` the flanks run straight. */
export interface ThreadForm {
  readonly pitchM: number;
  readonly majorM: number;
  readonly pitchDiameterM: number;
  readonly minorM: number;
}

/** Height of the sharp triangle over its base P. */
export function triangleHeightM(pitchM: number): number {
  return (pitchM * Math.sqrt(3)) / 2;
}

/** The basic profile of a nominal diameter and pitch: D₂ = D − ¾ H, D₁ = D − 1¼ H. */
export function basicForm(nominalM: number, pitchM: number): ThreadForm {
  const h = triangleHeightM(pitchM);
  if (!(pitchM > 0) || !(nominalM > 1.25 * h)) {
    throw new RangeError(`basicForm: nominalM ${nominalM} with pitchM ${pitchM} leaves no core`);
  }
  return { pitchM, majorM: nominalM, pitchDiameterM: nominalM - 0.75 * h, minorM: nominalM - 1.25 * h };
}

/**
 * Area of one turn of a single-start thread over one pitch of its axis, m².
 *
 * A profile r(z) drawn round with lead P covers ∫∫ √(r²(1 + r′²) + (P/2π)² r′²) dφ dz. On the flats r′ = 0; on flanks of
 * 30° r′ = √3, which leaves ∫ √(4r² + 3(P/2π)²) dr / √3, in closed form. With the helix left out (second term dropped) one
 * turn is π P (1.625 D₂ + H/8) for the basic profile: 1.625 of the cylinder at the pitch diameter, and a little.
 */
export function turnAreaM2({ pitchM, majorM, pitchDiameterM, minorM }: ThreadForm): number {
  // The ridge is P/2 wide at the pitch diameter and narrows by Δd/√3.
  const crest = pitchM / 2 - (majorM - pitchDiameterM) / Math.sqrt(3);
  const root = pitchM / 2 - (pitchDiameterM - minorM) / Math.sqrt(3);
  if (!(minorM > 0 && minorM <= pitchDiameterM && pitchDiameterM <= majorM && crest >= 0 && root >= 0)) {
    throw new RangeError(
      `turnAreaM2: ${minorM} ≤ ${pitchDiameterM} ≤ ${majorM} is no 60° thread of pitch ${pitchM}`,
    );
  }
  const lead = (3 * pitchM * pitchM) / (4 * Math.PI * Math.PI);
  const primitive = (r: number): number => {
    const w = Math.sqrt(4 * r * r + lead);
    return (r * w) / 2 + (lead / 4) * Math.log(2 * r + w);
  };
  const flank = (primitive(majorM / 2) - primitive(minorM / 2)) / Math.sqrt(3);
  return 2 * Math.PI * ((crest * majorM) / 2 + (root * minorM) / 2 + 2 * flank);
}
