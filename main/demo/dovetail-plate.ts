import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import { rod, slot } from './demo-solids.ts';

/** Lengths in mm; the test works the volume out from the same numbers by hand. */
export const DOVETAIL_PLATE = {
  length: 200,
  /** Across the widest place, just above the foot's chamfer. */
  width: 44,
  height: 12,
  /** The flanks lean in by this from upright. */
  leanRad: (15 * Math.PI) / 180,
  /** At the four long edges of the section. */
  chamfer: 0.8,
  /** At the four corners seen from above. */
  cornerCut: 4,
  slot: { at: [-52, 52], length: 48, width: 6.6, recessLength: 52.4, recessWidth: 11, recessDepth: 6.5 },
  holes: { at: [-90, -12, 12, 90], diameter: 6.6, recessDiameter: 11, recessDepth: 6.5 },
} as const;

/**
 * A dovetail plate that carries a telescope: sloped flanks for the clamp, two slots for the tube rings' screws and
 * four counterbored holes, both sunk from the foot.
 */
export function drawDovetailPlate(kit: ManifoldToplevel): Manifold {
  const { CrossSection, Manifold } = kit;
  const { length, width, height, leanRad, chamfer, cornerCut, slot: slots, holes } = DOVETAIL_PLATE;
  const half = width / 2;
  const lean = (height - 2 * chamfer) * Math.tan(leanRad);
  const right: [number, number][] = [
    [half - chamfer, 0],
    [half, chamfer],
    [half - lean, height - chamfer],
    [half - lean - chamfer, height],
  ];
  const left = right.map(([y, z]): [number, number] => [-y, z]).reverse();
  // Drawn in y and z, extruded along z, then laid down: (y, z, along) → (along, y, z).
  const bar = CrossSection.ofPolygons([[...right, ...left]])
    .extrude(length, 0, 0, [1, 1], true)
    .rotate([90, 0, 90]);
  const end = length / 2;
  const outline = CrossSection.ofPolygons([
    [
      [end, -half + cornerCut],
      [end, half - cornerCut],
      [end - cornerCut, half],
      [-end + cornerCut, half],
      [-end, half - cornerCut],
      [-end, -half + cornerCut],
      [-end + cornerCut, -half],
      [end - cornerCut, -half],
    ],
  ]).extrude(height);
  const cuts = [
    ...slots.at.flatMap((x) => [
      slot(kit, slots.length, slots.width, height + 2, x, -1),
      slot(kit, slots.recessLength, slots.recessWidth, slots.recessDepth + 1, x, -1),
    ]),
    ...holes.at.flatMap((x) => [
      rod(kit, 'z', holes.diameter, height + 2, [x, 0, -1]),
      rod(kit, 'z', holes.recessDiameter, holes.recessDepth + 1, [x, 0, -1]),
    ]),
  ];
  return Manifold.difference([Manifold.intersection(bar, outline), ...cuts]);
}
