/**
 * One byte a triangle tells the 3D view how to draw it: what the surface gets (no bit: coat) and what it is marked
 * with. The view draws each bit by colour and by pattern; see face-legend.ts.
 */
export const TRIANGLE_STYLE = {
  /** Coated is the absence of mask and contact. */
  coat: 0,
  mask: 1,
  contact: 2,
  /** Show face; stands beside any treatment. */
  show: 4,
  selected: 8,
  hovered: 16,
  /** Concerned by a finding of the mesh check. */
  finding: 32,
  /** Kept from the bath by gas, the way the part hangs. */
  gas: 64,
  /** Under liquid that is carried out. */
  liquid: 128,
} as const;

export type TriangleStyleName = keyof typeof TRIANGLE_STYLE;
