import type { Source } from '../figure/figure.ts';
import type { Clearance, Neighbour } from './tank-clearance.ts';
import type { Vec3 } from './vec3.ts';

const ON_MODEL: Source = {
  standing: 'measured on the model',
  text: 'smallest distance between the surfaces as they hang',
};

/** A distance as it is told. @param toId of the sheet or the other placement; empty for wall, floor and surface */
export function clearanceOf(
  placementId: string,
  to: Neighbour,
  toId: string,
  distanceM: number,
  onPart: Vec3,
  onOther: Vec3,
): Clearance {
  return {
    placementId,
    to,
    toId,
    distanceM: {
      label: `Part to ${to === 'part' ? 'next part' : to}`,
      kind: 'length',
      valueSi: distanceM,
      formula: 'smallest distance',
      inputs: [],
      source: ON_MODEL,
    },
    onPart,
    onOther,
  };
}
