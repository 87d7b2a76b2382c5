import { nextSide } from '../mesh/half-edges.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { arcGain } from './arc-gain.ts';
import type { FacetAnswer } from './facet-doubts.ts';
import { unsureShare } from './facet-unsure.ts';
import type { AmbiguousFace } from './facets-both-ways.ts';
import { dot, length3, type Vec3 } from './fit-vectors.ts';
import { outlineArcs, type OutlineChord } from './outline-arcs.ts';
import { turnedGroups, type TurnedGroup } from './turned-groups.ts';
import { isFlatBand, type TurnedPiece } from './turned-pieces.ts';

/** One entry a face, model units squared. */
export interface TurnedSums {
  readonly gain: Float64Array;
  /** Of it what may be wrong. */
  readonly unsure: Float64Array;
  /** How much less or more it may be because of doubts, beside that; 0 or less, 0 or more. */
  readonly less: Float64Array;
  readonly more: Float64Array;
}

/** How a piece may be taken: groups that are flats, and chords that are arcs or not as the other guess has it. */
interface Way {
  readonly flats: ReadonlySet<TurnedGroup>;
  readonly isOther: boolean;
}

/**
 * True area of a turned piece drawn in rings. Where these are half a step off one another its triangles tell little: edges that do not
 * run along lines of curvature turn by what the drawing makes of it, and low rings fold inward; where its quads are of unlike widths, they
 * tell less than the outline does. But every corner lies on the surface, and the rings give its outline: band by
 * band a cone's flank π (r₁ + r₂) s, and what an arc of the outline adds, see outline-arcs.ts. Flat bands, and faces
 * beside the last ring, gain the segments between chords and circle.
 */
export class TurnedGains {
  private readonly geometry: PartGeometry;
  private readonly piece: TurnedPiece;
  /** Per band whether its gain is worked out: of the others only the outline counts. */
  private readonly told: readonly boolean[];
  /** Half-edges of its rings on whose side another face lies, with the ring. */
  private readonly outer: readonly { readonly h: number; readonly ring: number }[];
  /** Area of each band's triangles. */
  private readonly drawn: readonly number[];
  private readonly chords: readonly OutlineChord[];
  /** Per band: level, and no zone of an arc. */
  private readonly isFlat: readonly boolean[];
  private readonly groups: readonly TurnedGroup[];
  /** Per band, none where it is flat. */
  private readonly groupOf: readonly (TurnedGroup | undefined)[];
  private readonly taken: Way;

  constructor(
    geometry: PartGeometry,
    piece: TurnedPiece,
    told: readonly boolean[],
    answers: ReadonlyMap<number, FacetAnswer> | undefined,
  ) {
    this.geometry = geometry;
    this.piece = piece;
    this.told = told;
    this.drawn = piece.bands.map((band) => band.reduce((sum, t) => sum + geometry.graph.triangleAreas[t], 0));
    this.chords = outlineArcs(piece.rings, piece.isLoop, piece.noise);
    this.isFlat = piece.bands.map((_, i) => isFlatBand(piece, i) && this.chords[i].curvature === 0);
    const { twin } = geometry.graph;
    this.outer = piece.rings.flatMap(({ halfEdges }, ring) => {
      const [own, ...others] = this.bandsBeside(ring).filter((i) => told[i]);
      // What a flat band and a round one that is left to others have in common is theirs.
      if (own === undefined || others.length > 0 || this.isFlat[own]) return [];
      const after = own === ring;
      return halfEdges
        .map((h) => (after ? twin[h] : h))
        .filter((h) => h >= 0)
        .map((h) => ({ h, ring }));
    });
    this.groups = turnedGroups(geometry, piece, this.chords, this.isFlat, told, answers);
    const groupOf = new Map(this.groups.flatMap((group) => group.bands.map((i) => [i, group])));
    this.groupOf = piece.bands.map((_, i) => groupOf.get(i));
    this.taken = { flats: new Set(this.groups.filter(({ taken }) => taken === 'flat')), isOther: false };
  }

  /** Half-edges along its rims, both of each pair: what their arcs add is among the gains. */
  rims(): number[] {
    return this.outer.flatMap(({ h }) => [h, this.geometry.graph.twin[h]]);
  }

  /** Puts what its faces and those beside it gain into the sums. Returns the questions about it. */
  addInto(sums: TurnedSums): AmbiguousFace[] {
    const taken = this.worked(this.taken);
    for (const [f, [gain, unsure]] of taken) {
      sums.gain[f] += gain;
      sums.unsure[f] += unsure;
    }
    const widen = (other: ReadonlyMap<number, readonly [number, number]>): void => {
      for (const [f, [gain, unsure]] of taken) {
        const [otherGain, otherUnsure] = other.get(f)!;
        sums.less[f] += Math.min(0, otherGain - otherUnsure - gain + unsure);
        sums.more[f] += Math.max(0, otherGain + otherUnsure - gain - unsure);
      }
    };
    if (this.chords.some(({ curvature, orElse }) => curvature !== orElse)) {
      widen(this.worked({ ...this.taken, isOther: true }));
    }
    return this.groups
      .filter(({ ask }) => ask)
      .map((group) => {
        const flat = this.worked({ ...this.taken, flats: new Set([...this.taken.flats, group]) });
        widen(flat);
        return this.question(group, taken, flat);
      });
  }

  private question(
    { faces, facetCount, stepRad, taken }: TurnedGroup,
    asRound: ReadonlyMap<number, readonly [number, number]>,
    asFlat: ReadonlyMap<number, readonly [number, number]>,
  ): AmbiguousFace {
    const { area } = this.geometry.faces;
    let [flatArea, roundArea, gainOfPart] = [0, 0, 0];
    for (const f of faces) {
      flatArea += area[f] + asFlat.get(f)![0];
      roundArea += area[f] + asRound.get(f)![0];
    }
    for (const [f, [gain]] of asRound) gainOfPart += gain - asFlat.get(f)![0];
    return { face: faces[0], faces, facetCount, stepRad, flatArea, roundArea, gainOfPart, taken };
  }

  /** What each face gains and what of it may be wrong. */
  private worked(way: Way): Map<number, [number, number]> {
    const { piece, geometry } = this;
    const { faces, graph } = geometry;
    const sums = new Map<number, [number, number]>();
    const add = (f: number, gain: number, unsure: number): void => {
      const own = sums.get(f);
      if (own) {
        own[0] += gain;
        own[1] += unsure;
      } else sums.set(f, [gain, unsure]);
    };
    piece.bands.forEach((band, i) => {
      if (!this.told[i]) return;
      const [facets, arc, unsure] = this.bandGain(i, way);
      const area = this.drawn[i];
      for (let k = 0; k < band.length;) {
        const f = faces.faceOfTriangle[band[k]];
        let own = 0;
        for (; k < band.length && faces.faceOfTriangle[band[k]] === f; k++)
          own += graph.triangleAreas[band[k]];
        if (area > 0) add(f, (own / area) * (facets + arc), (own / area) * unsure);
      }
    });
    for (const { h, ring } of this.outer) {
      const gain = this.isRound(ring, way) ? this.segmentBeside(h, ring) : 0;
      add(faces.faceOfTriangle[(h / 3) | 0], gain, unsureShare(piece.rings[ring].widestRad) * Math.abs(gain));
    }
    return sums;
  }

  /** What a band's facets cut off, what the arc of its outline adds, and what may be wrong of both. */
  private bandGain(i: number, way: Way): readonly [number, number, number] {
    const { piece, chords } = this;
    const one = piece.rings[i];
    const next = (i + 1) % piece.rings.length;
    const two = piece.rings[next];
    const share = unsureShare(Math.max(one.widestRad, two.widestRad));
    const { curvature, orElse, unsure } = chords[i];
    const arc = arcGain(one, two, way.isOther ? orElse : curvature);
    const unsureOfArc = Math.max(share, unsure) * Math.abs(arc);
    if (this.isFlat[i]) {
      const [inner, outer] = one.radius < two.radius ? [i, next] : [next, i];
      const gain =
        (this.isRound(outer, way) ? piece.rings[outer].segments : 0) -
        (this.isRound(inner, way) ? piece.rings[inner].segments : 0);
      return [gain, arc, share * Math.abs(gain) + unsureOfArc];
    }
    const group = this.groupOf[i];
    if (group && way.flats.has(group)) return [0, 0, 0];
    const drawn = this.drawn[i];
    const flank =
      Math.PI * (one.radius + two.radius) * Math.hypot(one.radius - two.radius, one.height - two.height);
    return [flank - drawn, arc, share * Math.abs(flank - drawn) + unsureOfArc];
  }

  /** The segment between a ring's chord and circle, as the triangle at half-edge `h` sees it. */
  private segmentBeside(h: number, ring: number): number {
    const { graph } = this.geometry;
    const { vertices, triangles } = graph.indexed;
    const { point, axis, rings } = this.piece;
    const [a, b] = [3 * triangles[h], 3 * triangles[nextSide(h)]];
    const arm = (v: number): Vec3 => {
      const from: Vec3 = [vertices[v] - point[0], vertices[v + 1] - point[1], vertices[v + 2] - point[2]];
      const along = dot(from, axis);
      return [from[0] - along * axis[0], from[1] - along * axis[1], from[2] - along * axis[2]];
    };
    const [p, q] = [arm(a), arm(b)];
    const chord: Vec3 = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
    const length = length3(...chord);
    const middle: Vec3 = [p[0] + q[0], p[1] + q[1], p[2] + q[2]];
    const across = length3(...middle);
    if (!(length > 0 && across > 0)) return 0;
    const { radius } = rings[ring];
    const step = 2 * Math.asin(Math.min(1, length / (2 * radius)));
    const n = 3 * ((h / 3) | 0);
    const { normals } = graph;
    const outward: Vec3 = [
      chord[1] * normals[n + 2] - chord[2] * normals[n + 1],
      chord[2] * normals[n] - chord[0] * normals[n + 2],
      chord[0] * normals[n + 1] - chord[1] * normals[n],
    ];
    return (((radius * radius) / 2) * (step - Math.sin(step)) * dot(outward, middle)) / (length * across);
  }

  /** Whether a ring stands for a circle: some round band ends at it, or it only parts flat ones. */
  private isRound(ring: number, { flats }: Way): boolean {
    const beside = this.bandsBeside(ring);
    const groups = beside.flatMap((i) => (this.told[i] ? (this.groupOf[i] ?? []) : []));
    if (groups.length > 0) return groups.some((group) => !flats.has(group));
    return beside.every((i) => this.isFlat[i]);
  }

  private bandsBeside(ring: number): number[] {
    const { bands, isLoop } = this.piece;
    return [isLoop && ring === 0 ? bands.length - 1 : ring - 1, ring].filter(
      (i) => i >= 0 && i < bands.length,
    );
  }
}
