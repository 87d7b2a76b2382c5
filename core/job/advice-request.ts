import { coverageOn, pinsOn } from '../mesh/mesh-triangles.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { AdviserOptions, PinToJudge } from '../racking/advise-contacts.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { Job, Part } from './job.ts';

const MOST_PROPOSALS = 8;

export interface AdviceRequest {
  readonly flags: Uint8Array;
  readonly options: Omit<AdviserOptions, 'centre' | 'metresPerUnit'>;
}

export interface PinsRequest extends AdviceRequest {
  readonly pins: readonly (PinToJudge & { readonly id: string })[];
}

/**
 * What the adviser is asked about a part: its treatments, the way it hangs and its current.
 * @param level see levelOnPart
 */
export function adviceRequest(
  job: Job,
  part: Part,
  geometry: PartGeometry,
  system: UnitSystem,
  coatedM2: number,
  level: number | undefined,
): AdviceRequest {
  return {
    flags: coverageOn(geometry, part.coverage),
    options: {
      up: part.attitude.up,
      ...(level === undefined ? {} : { level }),
      currentA: coatedM2 * job.process.currentDensityAPerM2,
      patchDiameterM: part.contacts.at(-1)?.patchDiameterM ?? 0.003,
      allowShown: false,
      allowMasked: false,
      most: MOST_PROPOSALS,
      system,
    },
  };
}

/** The part's pins on its mesh; those that lie off it are left out. */
export function pinsToJudge(part: Part, geometry: PartGeometry): PinsRequest['pins'] {
  return pinsOn(geometry, part.contacts).map(({ id, at, triangle, patchDiameterM }) => ({
    id,
    at,
    triangle,
    patchDiameterM,
  }));
}
