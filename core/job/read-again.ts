import type { CadFaces } from '../faces/cad-faces.ts';
import { runsWhere } from '../faces/triangle-runs.ts';
import { nearestOnTriangle } from '../field/nearest-on-triangle.ts';
import type { Failure } from '../result.ts';
import { cadFacePrints, type CadFacePrints } from './job-cad-faces.ts';
import type { Part } from './job.ts';
import { drawnAlike, faceAt, faceNow, faceStarts } from './match-cad-faces.ts';
import { fileOf } from './part-source.ts';
import { readOtherwise } from './read-otherwise.ts';

export interface ReadAgain {
  /** What was said of the file's triangles, said of those it is read into now. */
  readonly part: Part;
  /** The part says something else than it did. */
  readonly isMoved: boolean;
  /** Where something could not be found again. */
  readonly notice?: Failure;
}

/**
 * A part of a saved job whose file was read again. Another version of the program may draw a CAD file's faces with other
 * triangles: what was said of a face is then said of the same face as it is drawn now, found by its number, kind, area and
 * middle. What is not found again is told and left out, never put on another face.
 *
 * @param now the file's own triangles, before repairs and fusing
 */
export function readAgain(
  part: Part,
  now: { readonly positions: Float32Array; readonly cad?: CadFaces | undefined },
): ReadAgain {
  const file = fileOf(part);
  if (!file) return { part, isMoved: false };
  const triangleCount = now.positions.length / 9;
  if (!now.cad || !file.cadFaces) {
    const notice = readOtherwise(part, triangleCount);
    if (notice || !now.cad) return { part, isMoved: false, ...(notice ? { notice } : {}) };
    const source = { ...file, triangleCount, cadFaces: cadFacePrints(now.positions, now.cad) };
    return { part: { ...part, source }, isMoved: false };
  }
  const cadFaces = cadFacePrints(now.positions, now.cad);
  if (drawnAlike(file.cadFaces, cadFaces)) return { part, isMoved: false };
  const move = new Move(file.cadFaces, cadFaces, now.positions);
  const moved = { ...move.part(part), source: { ...file, triangleCount, cadFaces } };
  const lost = move.lost.size;
  if (lost === 0) return { part: moved, isMoved: true };
  const notice = {
    code: 'faces-lost',
    message: `${lost === 1 ? 'One face' : `${lost} faces`} of “${part.name}” that you had set ${lost === 1 ? 'is' : 'are'} not found again in the model as it is read now: ${lost === 1 ? 'its mask, contact, thread or fit is' : 'their masks, contacts, threads or fits are'} left out.`,
    remedy: 'Look at the part in Faces, Hanging and Fits, and set them again.',
  };
  return { part: moved, isMoved: true, notice };
}

/** Takes what is said of the triangles of one reading over to another. */
class Move {
  /** Faces of the earlier reading, and triangles beyond it, that were not found again. */
  readonly lost = new Set<number>();

  private readonly before: CadFacePrints;
  private readonly now: CadFacePrints;
  private readonly positions: Float32Array;
  private readonly startsBefore: Uint32Array;
  private readonly startsNow: Uint32Array;
  /** A triangle that no mesh has, nor any gap of it (see gapSource): what refers to it is gone, and is shown as such. */
  private readonly gone: number;
  private readonly known = new Map<number, number | undefined>();

  constructor(before: CadFacePrints, now: CadFacePrints, positions: Float32Array) {
    this.before = before;
    this.now = now;
    this.positions = positions;
    this.startsBefore = faceStarts(before);
    this.startsNow = faceStarts(now);
    this.gone = 4 * (positions.length / 9) + 4;
  }

  part(part: Part): Part {
    const { coverage, contacts, fits, leastFaces, surface } = part;
    const { mask, contact, show, pieces = [] } = coverage;
    // A piece is of a triangle that fusing cut: other triangles are cut elsewhere.
    for (const { triangle } of pieces) this.lose(triangle);
    return {
      ...part,
      coverage: { mask: this.runs(mask), contact: this.runs(contact), show: this.runs(show) },
      contacts: contacts.map((pin) => ({ ...pin, triangle: this.triangle(pin.triangle, pin.at) })),
      fits: fits.map((fit) => {
        const faces = this.runs(fit.faces);
        // Without a face it would pass for one typed by hand.
        const isGone = fit.faces.length > 0 && faces.length === 0;
        return { ...fit, faces: isGone ? [this.gone, this.gone + 1] : faces };
      }),
      leastFaces: this.runs(leastFaces),
      surface: {
        ...surface,
        ventedVoids: surface.ventedVoids.map((triangle) => this.triangle(triangle)),
        facetAnswers: surface.facetAnswers.map((one) => ({ ...one, triangle: this.triangle(one.triangle) })),
        threads: surface.threads.map((one) => ({ ...one, triangle: this.triangle(one.triangle) })),
        repairs: surface.repairs.map((repair) =>
          repair.kind === 'drop' ? { ...repair, triangles: this.runs(repair.triangles) } : repair,
        ),
      },
    };
  }

  /** Whole faces as runs; a face of which only some triangles were named is lost: its triangles are others now. */
  private runs(runs: readonly number[]): number[] {
    const named = new Map<number, number>();
    for (let i = 0; i + 1 < runs.length; i += 2) {
      for (let t = runs[i]; t < runs[i + 1];) {
        const face = faceAt(this.startsBefore, t);
        if (face === undefined) {
          this.lose(t);
          break;
        }
        const end = Math.min(runs[i + 1], this.startsBefore[face + 1]);
        named.set(face, (named.get(face) ?? 0) + end - t);
        t = end;
      }
    }
    const faces = new Set<number>();
    for (const [face, count] of named) {
      const found = count === this.before.triangles[face] ? this.find(face) : undefined;
      if (found === undefined) this.lost.add(face);
      else faces.add(found);
    }
    return runsWhere(this.positions.length / 9, (t) => faces.has(faceAt(this.startsNow, t)!));
  }

  /** The triangle of the same face nearest to `at`, or its first. */
  private triangle(triangle: number, at?: readonly [number, number, number]): number {
    const face = faceAt(this.startsBefore, triangle);
    const found = face === undefined ? undefined : this.find(face);
    if (found === undefined) {
      this.lose(triangle);
      return this.gone;
    }
    let best = this.startsNow[found];
    if (!at) return best;
    let best2 = Infinity;
    for (let t = this.startsNow[found]; t < this.startsNow[found + 1]; t++) {
      const near = nearestOnTriangle(Float64Array.from(this.positions.subarray(9 * t, 9 * t + 9)), 0, at);
      const away2 = (near[0] - at[0]) ** 2 + (near[1] - at[1]) ** 2 + (near[2] - at[2]) ** 2;
      if (away2 < best2) {
        best = t;
        best2 = away2;
      }
    }
    return best;
  }

  private find(face: number): number | undefined {
    if (!this.known.has(face)) this.known.set(face, faceNow(this.before, face, this.now));
    return this.known.get(face);
  }

  private lose(triangle: number): void {
    const face = faceAt(this.startsBefore, triangle);
    this.lost.add(face ?? -1 - triangle);
  }
}
