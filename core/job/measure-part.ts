import { areasByTreatment } from '../faces/areas-by-treatment.ts';
import { coverageFlags } from '../faces/coverage-flags.ts';
import { faceTreatments } from '../faces/face-treatments.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { Finding, PartGeometry } from '../mesh/part-geometry.ts';
import { contactPatches } from '../racking/contact-patch.ts';
import type { Part } from './job.ts';

/** What one clamp covers, m². coated + masked + contact = patch; show is the part of it on show faces. */
export interface ContactMeasure {
  readonly contactId: string;
  readonly patchM2: number;
  readonly coatedM2: number;
  readonly maskedM2: number;
  readonly showM2: number;
}

/** One part as the user treats it: areas of one piece, in SI. coated + masked + contact = total. */
export interface PartMeasure {
  readonly totalM2: number;
  readonly coatedM2: number;
  readonly maskedM2: number;
  /** Bare contact faces, and what the clamps cover of coated faces. */
  readonly contactM2: number;
  /** Signed; a true volume only where the mesh is closed. */
  readonly volumeM3: number;
  readonly faceCount: number;
  /** Per face row. */
  readonly areaOfFaceM2: readonly number[];
  readonly treatmentOfFace: readonly ('coat' | 'mask' | 'contact' | 'mixed')[];
  readonly showOfFace: readonly boolean[];
  /** Per triangle, see faces/coverage-flags.ts. */
  readonly flags: Uint8Array;
  /** In the job's order; a pin that lies off the part (of a damaged job) has none. */
  readonly contacts: readonly ContactMeasure[];
  readonly findings: readonly Finding[];
  /** Why these areas are not certain yet; absent when they are. */
  readonly unconfirmed?: string;
}

/** Puts what the user said about a part (unit, treatments, pins) together with what its mesh measures. */
export function measurePart(part: Part, geometry: PartGeometry): PartMeasure {
  const scale = metresPerUnit(part.unit);
  const scale2 = scale * scale;
  const flags = coverageFlags(geometry.triangleCount, part.coverage);
  const areas = areasByTreatment(geometry.faces, geometry.triangleAreas, flags);
  const treatments = faceTreatments(geometry.faces, flags);
  const onPart = part.contacts.filter((contact) => contact.triangle < geometry.triangleCount);
  const pins = onPart.map((contact) => ({
    at: contact.at,
    triangle: contact.triangle,
    radius: contact.patchDiameterM / 2 / scale,
  }));
  const contacts = contactPatches(geometry, flags, pins).map((patch, index) => ({
    contactId: onPart[index]!.id,
    patchM2: patch.area * scale2,
    coatedM2: patch.coated * scale2,
    maskedM2: patch.masked * scale2,
    showM2: patch.shown * scale2,
  }));
  const underClampsM2 = contacts.reduce((sum, contact) => sum + contact.coatedM2, 0);
  return {
    totalM2: areas.total * scale2,
    coatedM2: Math.max(0, areas.coated * scale2 - underClampsM2),
    maskedM2: areas.masked * scale2,
    contactM2: areas.contact * scale2 + underClampsM2,
    volumeM3: geometry.volume * scale ** 3,
    faceCount: geometry.faces.count,
    areaOfFaceM2: Array.from(geometry.faces.area, (area) => area * scale2),
    treatmentOfFace: treatments.map((face) => face.treatment),
    showOfFace: treatments.map((face) => face.show),
    flags,
    contacts,
    findings: geometry.findings,
    ...(part.unitConfirmed ? {} : { unconfirmed: `unit not confirmed (${part.unit})` }),
  };
}
