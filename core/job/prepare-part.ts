import type { CadFaces } from '../faces/cad-faces.ts';
import type { KnownAreas } from '../faces/known-areas.ts';
import { analysePart } from '../mesh/analyse-part.ts';
import { applyRepairs, type RepairStep } from '../mesh/apply-repairs.ts';
import { derivedCad } from '../mesh/derived-cad.ts';
import type { CutPolygon } from '../mesh/fill-gaps.ts';
import { fuseBodies } from '../mesh/fuse-bodies.ts';
import type { Body } from '../mesh/mesh.ts';
import { crossingFinding, FEW_TO_CROSS, withOffers } from '../mesh/offer-repairs.ts';
import type { Finding, PartGeometry } from '../mesh/part-geometry.ts';
import type { SolidKit } from '../mesh/solid-kit.ts';
import { asSource, type SourcedMesh } from '../mesh/source-triangles.ts';
import { thickenedAreas } from '../mesh/thickened-areas.ts';
import type { Failure } from '../result.ts';
import { withFacets } from './correct-facets.ts';
import type { Part } from './job.ts';
import { nearBodiesFinding } from './near-bodies.ts';
import { thickenedFindings } from './thickened-findings.ts';

/** A part's surface as its file (or recipe) gives it. */
export interface SourceSurface {
  readonly positions: Float32Array;
  readonly bodies: readonly Body[];
  readonly cad?: CadFaces;
}

/** What preparing needs of the libraries; `kit` only where bodies are to be fused. */
export interface PrepareTools {
  readonly cutPolygon: CutPolygon;
  readonly kit?: SolidKit;
}

/** What fusing did. Areas in model units squared. */
export interface FuseReport {
  readonly bodiesBefore: number;
  readonly contacts: number;
  readonly removedArea: number;
}

export interface PreparedPart {
  readonly geometry: PartGeometry;
  /** What each accepted repair did, in order. */
  readonly repairs: readonly RepairStep[];
  /** null where fusing is not asked for. */
  readonly fuse: FuseReport | null;
  /** Why the bodies are not fused although the user asked for it; the part is measured as it is. */
  readonly fuseFailure: Failure | null;
}

/** What the user said that decides the mesh; with the same of these, the mesh is the same. */
export type MeshWishes = Pick<Part, 'splitAngleRad'> & {
  readonly surface: Pick<Part['surface'], 'repairs' | 'fuseGap' | 'facetAnswers'>;
};

/**
 * From a part's source to its measured surface: accepted repairs in order, bodies fused where the user wants it, then
 * analysePart. The worker and the terminal both call this. Failing to fuse is told, never silent, and leaves the part
 * unfused.
 *
 * @throws RangeError when fusing is asked for and there is no `kit`
 */
export function preparePart(
  source: SourceSurface,
  { splitAngleRad, surface }: MeshWishes,
  { cutPolygon, kit }: PrepareTools,
  onProgress: (fraction: number, phase: string) => void = () => {},
): PreparedPart {
  const wantsFuse = surface.fuseGap !== null;
  if (wantsFuse && !kit) throw new RangeError('kit: needed to fuse bodies, not given');
  const plain = surface.repairs.length === 0 && !wantsFuse;
  if (surface.repairs.length > 0) onProgress(0, 'repairing');
  const { steps, ...repaired } = applyRepairs(
    plain ? { positions: source.positions, sourceTriangle: new Uint32Array() } : asSource(source.positions),
    surface.repairs,
    cutPolygon,
  );
  let mesh: SourcedMesh = repaired;
  let fuse: FuseReport | null = null;
  let fuseFailure: Failure | null = null;
  let leftOpen = 0;
  let near: ((geometry: PartGeometry) => Finding | undefined) | undefined;
  if (surface.fuseGap !== null && kit) {
    onProgress(0.1, 'fusing bodies');
    // Of a CAD file's bodies each is one; the groups of a mesh file may be patches of one body.
    const bodyOf = source.cad ? bodyNumbers(mesh, source.bodies) : undefined;
    const gap = Math.max(surface.fuseGap, leastFuseGap(source.cad));
    const fused = fuseBodies(mesh, gap, kit, bodyOf);
    if (fused.ok) {
      const before = mesh;
      // Of a CAD file's bodies the chord tolerance says how far facets keep apart.
      if (!source.cad) near = (geometry) => nearBodiesFinding(before, fused.value, gap, geometry, kit);
      mesh = fused.value;
      const { bodiesBefore, contacts, removedArea } = fused.value;
      fuse = { bodiesBefore, contacts, removedArea };
      leftOpen = fused.value.leftOpen;
    } else fuseFailure = fused.error;
  }
  // See thickened-findings.ts.
  const isThickened = surface.repairs.some(({ kind }) => kind === 'thicken');
  let cad = isThickened ? undefined : source.cad;
  if (cad && !plain) {
    const derived = derivedCad(mesh, source.positions, cad);
    mesh = derived;
    cad = derived.cad;
  }
  const isFused = fuse !== null;
  const known = source.cad && !isFused ? knownOfSheet(mesh, source, source.cad, steps) : undefined;
  const begin = plain ? 0 : 0.4;
  const geometry = analysePart(
    mesh.positions,
    plain ? source.bodies : bodiesOf(mesh, source.bodies),
    {
      splitAngleRad,
      isFused,
      ...(cad ? { cad } : {}),
      ...(known ? { known } : {}),
      ...(plain ? {} : { sourceTriangle: mesh.sourceTriangle }),
    },
    (fraction, phase) => onProgress(begin + fraction * (0.95 - begin), phase),
  );
  onProgress(0.95, 'checking');
  const corrected = withFacets(geometry, surface.facetAnswers);
  const crossing = geometry.triangleCount <= FEW_TO_CROSS ? crossingFinding(geometry, isFused) : undefined;
  const findings = withOffers(
    {
      ...corrected,
      findings: [
        ...geometry.findings,
        ...(crossing ? [crossing] : []),
        ...thickenedFindings(corrected, source, steps),
        ...(leftOpen > 0 ? [leftOpenFinding(leftOpen)] : []),
      ],
    },
    isFused,
  );
  const between = near?.(corrected);
  onProgress(1, 'done');
  return {
    geometry: { ...corrected, findings: between ? [...findings, between] : findings },
    repairs: steps,
    fuse,
    fuseFailure,
  };
}

/** Of a sheet that was given a thickness and is else as its CAD file has it. */
function knownOfSheet(
  mesh: SourcedMesh,
  { positions }: SourceSurface,
  cad: CadFaces,
  steps: readonly RepairStep[],
): KnownAreas | undefined {
  const [step] = steps;
  if (steps.length !== 1 || step?.repair.kind !== 'thicken' || step.trianglesAdded === 0) return undefined;
  return thickenedAreas(mesh, positions, cad, step.repair.thickness);
}

/**
 * Bodies of a CAD file nearer than this, model units, count as touching whatever the user says: a pin and its hole have
 * one radius there, but the facets that both are drawn with lie up to the chord tolerance apart, and both grow by this.
 */
export function leastFuseGap(cad: Pick<CadFaces, 'chordTolerance'> | undefined): number {
  return cad ? cad.chordTolerance / 2 : 0;
}

function leftOpenFinding(count: number): Finding {
  return {
    code: 'fuse-left-open',
    level: 'check',
    message: `${count === 1 ? 'One body is' : `${count} bodies are`} not closed and ${count === 1 ? 'was' : 'were'} left out of fusing: where ${count === 1 ? 'it touches' : 'they touch'} the others, hidden faces still count.`,
    remedy: 'Close its gaps or drop it, then the rest is fused with it.',
    triangles: new Uint32Array(),
  };
}

/** The named runs of the file in a mesh whose triangles still come in the order of their sources. */
function bodiesOf({ sourceTriangle }: SourcedMesh, bodies: readonly Body[]): Body[] {
  const counts = bodies.map(() => 0);
  let rest = 0;
  for (const at of bodyNumbers({ sourceTriangle }, bodies)) {
    if (at === bodies.length) rest++;
    else counts[at]++;
  }
  let first = 0;
  const runs = bodies.map(({ name }, i): Body => {
    const run = { name, firstTriangle: first, triangleCount: counts[i] };
    first += counts[i];
    return run;
  });
  if (rest > 0) runs.push({ name: 'added by repairs', firstTriangle: first, triangleCount: rest });
  return runs.filter(({ triangleCount }) => triangleCount > 0);
}

/** Per triangle the number of its body; the count of bodies for what a repair has added. */
function bodyNumbers(
  { sourceTriangle }: Pick<SourcedMesh, 'sourceTriangle'>,
  bodies: readonly Body[],
): Uint32Array {
  return sourceTriangle.map((source) => {
    const at = bodies.findIndex(
      (b) => source >= b.firstTriangle && source < b.firstTriangle + b.triangleCount,
    );
    return at < 0 ? bodies.length : at;
  });
}
