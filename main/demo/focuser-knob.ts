import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import { rod } from './demo-solids.ts';

/** Lengths in mm. The axis is z, the front at the top, the pocket open at z = 0. */
export const FOCUSER_KNOB = {
  diameter: 40,
  height: 18,
  chamfer: 1,
  facets: 120,
  scallops: { count: 20, diameter: 5, centreRadius: 21.2 },
  bore: 6,
  pocket: { diameter: 30, depth: 11 },
  hub: { diameter: 16, height: 16 },
  /** Tap drill of M4 (4 − 0.7 pitch) through rim and hub into the bore. */
  setScrew: { diameter: 3.3, atZ: 5.5 },
} as const;

/** A focuser knob: scalloped rim, bore with a set screw's hole, a hollow back with the hub standing in it. */
export function drawFocuserKnob(kit: ManifoldToplevel): Manifold {
  const { CrossSection, Manifold } = kit;
  const { diameter, height, chamfer, facets, scallops, bore, pocket, hub, setScrew } = FOCUSER_KNOB;
  const radius = diameter / 2;
  const body = CrossSection.ofPolygons([
    [
      [0, 0],
      [radius - chamfer, 0],
      [radius, chamfer],
      [radius, height - chamfer],
      [radius - chamfer, height],
      [0, height],
    ],
  ]).revolve(facets);
  const hollow = Manifold.difference(
    rod(kit, 'z', pocket.diameter, pocket.depth + 1, [0, 0, -1]),
    rod(kit, 'z', hub.diameter, hub.height, [0, 0, 0]),
  );
  const flutes = Array.from({ length: scallops.count }, (_, i) => {
    const angle = ((i + 0.5) * 2 * Math.PI) / scallops.count;
    return rod(
      kit,
      'z',
      scallops.diameter,
      height + 2,
      [scallops.centreRadius * Math.cos(angle), scallops.centreRadius * Math.sin(angle), -1],
      64,
    );
  });
  return Manifold.difference([
    body,
    hollow,
    ...flutes,
    rod(kit, 'z', bore, height + 2, [0, 0, -1]),
    rod(kit, 'x', setScrew.diameter, radius + 1, [0, 0, setScrew.atZ], 64),
  ]);
}
