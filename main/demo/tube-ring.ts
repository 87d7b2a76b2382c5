import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import { rod } from './demo-solids.ts';

/** Lengths in mm. The ring's axis is y, its centre the origin, the foot below, the ears above. */
export const TUBE_RING = {
  bore: 90,
  outside: 106,
  width: 22,
  chamfer: 1,
  facets: 128,
  foot: { width: 60, bottom: -62, edgeCut: 2 },
  /** Tap drill of M6 (6 − 1 pitch), blind, with the drill's 118° point. */
  tapped: { apart: 40, diameter: 5, depth: 8 },
  ears: { width: 40, top: 72, gap: 4, boltDiameter: 5.5, boltHeight: 62 },
  /** Parting line of the two halves, left and right. */
  groove: { width: 1, depth: 1 },
} as const;

/** A clamping ring for a telescope tube: split ears with a bolt hole, a flat foot with two tapped-size holes. */
export function drawTubeRing(kit: ManifoldToplevel): Manifold {
  const { CrossSection, Manifold } = kit;
  const { bore, outside, width, chamfer, facets, foot, tapped, ears, groove } = TUBE_RING;
  const inner = bore / 2;
  const outer = outside / 2;
  const half = width / 2;
  const profile: [number, number][] = [
    [inner + chamfer, -half],
    [outer - chamfer, -half],
    [outer, -half + chamfer],
    [outer, half - chamfer],
    [outer - chamfer, half],
    [inner + chamfer, half],
    [inner, half - chamfer],
    [inner, -half + chamfer],
  ];
  const lie = (solid: Manifold): Manifold => solid.rotate([90, 0, 0]);
  const ring = lie(CrossSection.ofPolygons([profile]).revolve(facets));
  const block = (x: number, y: number, z: number, at: [number, number, number]): Manifold =>
    Manifold.cube([x, y, z]).translate([at[0] - x / 2, at[1] - y / 2, at[2]]);
  const footWidth = foot.width;
  const cut = foot.edgeCut;
  const footOutline: [number, number][] = [
    [-footWidth / 2 + cut, foot.bottom],
    [footWidth / 2 - cut, foot.bottom],
    [footWidth / 2, foot.bottom + cut],
    [footWidth / 2, -outer * 0.75],
    [-footWidth / 2, -outer * 0.75],
    [-footWidth / 2, foot.bottom + cut],
  ];
  const base = lie(CrossSection.ofPolygons([footOutline]).extrude(width, 0, 0, [1, 1], true));
  const ear = block(ears.width, width, ears.top - inner, [0, 0, inner]);
  const tubeSpace = rod(kit, 'y', bore, width + 2, [0, -half - 1, 0], facets);
  // The chamfer at the bore would be filled again by foot and ears, so it is cut last, with the tube's space.
  const mouth = Manifold.cylinder(chamfer, inner + chamfer, inner, facets);
  const mouths = [lie(mouth).translate([0, half, 0]), lie(mouth).mirror([0, 1, 0]).translate([0, -half, 0])];
  const tapX = tapped.apart / 2;
  const tip = tapped.diameter / 2 / Math.tan((59 * Math.PI) / 180);
  const taps = [-tapX, tapX].flatMap((x) => [
    rod(kit, 'z', tapped.diameter, tapped.depth, [x, 0, foot.bottom]),
    Manifold.cylinder(tip, tapped.diameter / 2, 0, 96).translate([x, 0, foot.bottom + tapped.depth]),
  ]);
  const slit = block(ears.gap, width + 2, ears.top, [0, 0, inner - 10]);
  const bolt = rod(kit, 'x', ears.boltDiameter, ears.width + 2, [-ears.width / 2 - 1, 0, ears.boltHeight]);
  const parting = [-1, 1].map((side) =>
    Manifold.cube([groove.depth + 1, width + 2, groove.width], true).translate([
      side * (outer - groove.depth + (groove.depth + 1) / 2),
      0,
      0,
    ]),
  );
  return Manifold.difference([
    Manifold.union([ring, base, ear]),
    tubeSpace,
    ...mouths,
    ...taps,
    slit,
    bolt,
    ...parting,
  ]);
}
