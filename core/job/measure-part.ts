import { areasByTreatment, areasTimes } from '../faces/areas-by-treatment.ts';
import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import { faceTreatments } from '../faces/face-treatments.ts';
import { cavityFinding } from '../mesh/find-problems.ts';
import { coverageOn, pinsOn } from '../mesh/mesh-triangles.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { Finding, PartGeometry, SealedVoid } from '../mesh/part-geometry.ts';
import { contactPatches } from '../racking/contact-patch.ts';
import { facetQuestions, type FacetQuestion } from './facet-questions.ts';
import type { Part } from './job.ts';
import { trueAreas, type ThreadMeasure } from './true-areas.ts';

/** What one clamp covers, m². coated + masked + contact = patch; show is the part of it on show faces. */
export interface ContactMeasure {
  readonly contactId: string;
  readonly patchM2: number;
  readonly coatedM2: number;
  readonly maskedM2: number;
  readonly showM2: number;
}

/** A hollow without a way out. */
export interface VoidMeasure {
  /** Stands for it in the job, see SealedVoid. */
  readonly anchor: number;
  readonly areaM2: number;
  readonly volumeM3: number;
  /** The user says acid gets in: its walls count. */
  readonly vented: boolean;
}

/** One part as the user treats it: areas of one piece, in SI. coated + masked + contact = total. */
export interface PartMeasure {
  /** What the acid touches, masks included: walls of sealed voids and what hangs above the level are left out. */
  readonly totalM2: number;
  readonly totalLowM2: number;
  readonly totalHighM2: number;
  readonly coatedM2: number;
  readonly coatedLowM2: number;
  readonly coatedHighM2: number;
  readonly maskedM2: number;
  /** Bare contact faces, and what the clamps cover of coated faces. */
  readonly contactM2: number;
  /** Plain sum of all the mesh's triangles (of a CAD file: of its exact faces). */
  readonly meshM2: number;
  /** Walls of voids no acid reaches. */
  readonly sealedM2: number;
  /** Above the level of the bath. */
  readonly aboveM2: number;
  /** Signed; a true volume only where the mesh is closed. */
  readonly volumeM3: number;
  /** Along the model's axes. */
  readonly sizeM: readonly [number, number, number];
  readonly faceCount: number;
  /** Per face row, the whole face: facets and threads corrected, range, and as meshed. */
  readonly areaOfFaceM2: readonly number[];
  readonly lowOfFaceM2: readonly number[];
  readonly highOfFaceM2: readonly number[];
  readonly meshOfFaceM2: readonly number[];
  /** Per face row, what of it is below the level, as areaOfFaceM2 counts it. */
  readonly wettedOfFaceM2: readonly number[];
  readonly treatmentOfFace: readonly ('coat' | 'mask' | 'contact' | 'mixed')[];
  readonly showOfFace: readonly boolean[];
  /** Per triangle, see faces/coverage-flags.ts. */
  readonly flags: Uint8Array;
  /** In the job's order; a pin that lies off the part (of a damaged job) has none. */
  readonly contacts: readonly ContactMeasure[];
  readonly voids: readonly VoidMeasure[];
  readonly threads: readonly ThreadMeasure[];
  readonly questions: readonly FacetQuestion[];
  readonly findings: readonly Finding[];
  /** Why these areas are not certain yet; absent when they are. */
  readonly unconfirmed?: string;
}

/** Puts what the user said about a part (unit, treatments, pins) together with what its mesh measures. */
export function measurePart(part: Part, geometry: PartGeometry): PartMeasure {
  const scale = metresPerUnit(part.unit);
  const scale2 = scale * scale;
  const { faces } = geometry;
  const treated = coverageOn(geometry, part.coverage);
  const voids = geometry.voids.map((hollow) => ({ hollow, vented: isVented(part, geometry, hollow) }));
  const flags = withSealed(
    treated.slice(),
    voids.filter(({ vented }) => !vented).map(({ hollow }) => hollow),
  );
  const areas = trueAreas(part, geometry);
  // One pass over the triangles: a large mesh is measured in the window's own time.
  const drawn = areasByTreatment(faces, areas.wetted, flags);
  const [best, low, high] = [areas.factors.best, areas.factors.low, areas.factors.high].map((factor) =>
    areasTimes(drawn, factor),
  );
  const treatments = faceTreatments(faces, treated);
  const onPart = pinsOn(geometry, part.contacts);
  const pins = onPart.map((contact) => ({
    at: contact.at,
    triangle: contact.triangle,
    radius: contact.patchDiameterM / 2 / scale,
  }));
  const contacts = contactPatches(geometry, flags, pins).map((patch, index) => {
    // The pad covers the true surface, of which the facets under it are what was drawn.
    const covered = patch.faces.reduce(
      (sum, { row, area }) =>
        sum + area * (faces.area[row] > 0 ? areas.bestOfFace[row] / faces.area[row] : 1),
      0,
    );
    const true2 = patch.area > 0 ? (scale2 * covered) / patch.area : scale2;
    const wet = isBelow(part, onPart[index]!.at, areas.level) ? true2 : 0;
    return {
      contactId: onPart[index]!.id,
      patchM2: patch.area * true2,
      coatedM2: patch.coated * wet,
      maskedM2: patch.masked * wet,
      showM2: patch.shown * wet,
    };
  });
  const underClampsM2 = contacts.reduce((sum, contact) => sum + contact.coatedM2, 0);
  const coatedM2 = Math.max(0, best.coated * scale2 - underClampsM2);
  return {
    totalM2: best.total * scale2,
    totalLowM2: Math.min(best.total, low.total) * scale2,
    totalHighM2: Math.max(best.total, high.total) * scale2,
    coatedM2,
    coatedLowM2: Math.max(0, Math.min(coatedM2, low.coated * scale2 - underClampsM2)),
    coatedHighM2: Math.max(coatedM2, high.coated * scale2 - underClampsM2),
    maskedM2: best.masked * scale2,
    contactM2: best.contact * scale2 + underClampsM2,
    meshM2: geometry.area * scale2,
    sealedM2: best.sealed * scale2,
    aboveM2: areas.above * scale2,
    volumeM3: geometry.volume * scale ** 3,
    sizeM: geometry.max.map((end, k) => (end - geometry.min[k]) * scale) as [number, number, number],
    faceCount: faces.count,
    areaOfFaceM2: Array.from(areas.bestOfFace, (area) => area * scale2),
    lowOfFaceM2: Array.from(areas.lowOfFace, (area) => area * scale2),
    highOfFaceM2: Array.from(areas.highOfFace, (area) => area * scale2),
    meshOfFaceM2: Array.from(faces.area, (area) => area * scale2),
    wettedOfFaceM2: Array.from(areas.wettedOfFace, (area) => area * scale2),
    treatmentOfFace: treatments.map((face) => face.treatment),
    showOfFace: treatments.map((face) => face.show),
    flags,
    contacts,
    voids: voids.map(({ hollow, vented }) => ({
      anchor: hollow.anchor,
      areaM2: hollow.area * scale2,
      volumeM3: hollow.volume * scale ** 3,
      vented,
    })),
    threads: areas.threads,
    questions: facetQuestions(geometry, part, scale2),
    findings: voids.some(({ vented }) => vented)
      ? findingsBesideVents(
          geometry.findings,
          voids.filter(({ vented }) => !vented).map(({ hollow }) => hollow),
        )
      : geometry.findings,
    ...(part.unitConfirmed ? {} : { unconfirmed: `unit not confirmed (${part.unit})` }),
  };
}

/** A hollow that has a vent is spoken of as such, see surface-messages.ts: what is said of cavities is of the others. */
function findingsBesideVents(findings: readonly Finding[], sealed: readonly SealedVoid[]): Finding[] {
  return findings.flatMap((finding) => {
    if (finding.code !== 'closed-cavity') return [finding];
    if (sealed.length === 0) return [];
    const walls = sealed.flatMap(({ triangles }) => [...triangles]);
    return [cavityFinding(sealed.length, Uint32Array.from(walls).sort())];
  });
}

/** A part of which only the area was typed in. */
export function measureTyped(areaM2: number): PartMeasure {
  return {
    totalM2: areaM2,
    totalLowM2: areaM2,
    totalHighM2: areaM2,
    coatedM2: areaM2,
    coatedLowM2: areaM2,
    coatedHighM2: areaM2,
    maskedM2: 0,
    contactM2: 0,
    meshM2: areaM2,
    sealedM2: 0,
    aboveM2: 0,
    volumeM3: 0,
    sizeM: [0, 0, 0],
    faceCount: 0,
    areaOfFaceM2: [],
    lowOfFaceM2: [],
    highOfFaceM2: [],
    meshOfFaceM2: [],
    wettedOfFaceM2: [],
    treatmentOfFace: [],
    showOfFace: [],
    flags: new Uint8Array(0),
    contacts: [],
    voids: [],
    threads: [],
    questions: [],
    findings: [],
    unconfirmed: 'area typed in, not measured',
  };
}

function isVented(part: Part, { sourceTriangle }: PartGeometry, hollow: SealedVoid): boolean {
  if (part.surface.ventedVoids.length === 0) return false;
  if (part.surface.ventedVoids.includes(hollow.anchor)) return true;
  // Another repair may have given it another anchor.
  return hollow.triangles.some((t) =>
    part.surface.ventedVoids.includes(sourceTriangle ? sourceTriangle[t] : t),
  );
}

function withSealed(flags: Uint8Array, hollows: readonly SealedVoid[]): Uint8Array {
  for (const { triangles } of hollows) {
    for (const t of triangles) flags[t] |= COVERAGE_BITS.mask | COVERAGE_BITS.sealed;
  }
  return flags;
}

function isBelow(
  { attitude }: Part,
  at: readonly [number, number, number],
  level: number | undefined,
): boolean {
  if (level === undefined) return true;
  const size = Math.hypot(...attitude.up);
  return (at[0] * attitude.up[0] + at[1] * attitude.up[1] + at[2] * attitude.up[2]) / size <= level;
}
