import type { CadFaces } from '../faces/cad-faces.ts';
import type { FacetCorrection } from '../faces/facet-correction.ts';
import type { KnownAreas } from '../faces/known-areas.ts';
import type { FaceTable } from '../faces/face-table.ts';
import type { SurfaceGraph } from '../faces/surface-graph.ts';
import type { Repair } from '../job/job-repairs.ts';
import type { Body } from './mesh.ts';
import type { Topology } from './topology.ts';

/** Something about the mesh that the user should know before trusting its area. */
export interface Finding {
  readonly code: string;
  readonly level: 'note' | 'check' | 'stop';
  readonly message: string;
  readonly remedy: string;
  /** Triangles concerned, for the 3D view; possibly empty. */
  readonly triangles: Uint32Array;
  /** What can be done about it here; done only when the user accepts it. */
  readonly offers?: readonly Offer[];
}

/** A repair, or fusing the bodies, with the words for its button. */
export type ReadyOffer =
  { readonly label: string; readonly repair: Repair } | { readonly label: string; readonly fuseGap: number };

/** What can be done about a finding; the user has to say how thick a sheet is before that is a repair. */
export type Offer = ReadyOffer | { readonly label: string; readonly asks: 'sheet thickness' };

/** A hollow without a way out: no bath reaches its walls unless the real part has a vent there. */
export interface SealedVoid {
  readonly triangles: Uint32Array;
  /** Of its walls, model units squared. */
  readonly area: number;
  /** Model units cubed. */
  readonly volume: number;
  /** A triangle of the file that only this void has where there is one: it stands for the void in a job. */
  readonly anchor: number;
}

/** Everything measured on one part's mesh, lengths in model units. Made by analysePart in the worker or the terminal. */
export interface PartGeometry {
  /** 9 floats a triangle, as loaded. */
  readonly positions: Float32Array;
  readonly triangleCount: number;
  readonly bodies: readonly Body[];
  /** Per triangle, model units squared. With `cad`, scaled so that every face sums to its exact area. */
  readonly triangleAreas: Float64Array;
  /** Sum over all triangles, model units squared; with `cad` the sum of the exact areas. */
  readonly area: number;
  /** Signed volume by the divergence theorem, model units cubed; a true volume only where `closed`. */
  readonly volume: number;
  /** Every edge has exactly two triangles that run along it in opposite directions. */
  readonly closed: boolean;
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
  readonly topology: Topology;
  /** Welded mesh, neighbours and normals: what another split angle, a contact patch and a section need. */
  readonly graph: SurfaceGraph;
  readonly faces: FaceTable;
  readonly findings: readonly Finding[];
  readonly voids: readonly SealedVoid[];
  /** Triangles of each piece that touches no other, largest first; empty where all is one piece or it is not known. */
  readonly apart: readonly Uint32Array[];
  /** True area of round faces that the facets cut short, see faces/facet-correction.ts; absent until it is worked out. */
  readonly facets?: FacetCorrection;
  /**
   * Per triangle: the triangle of the file it is a piece of, see source-triangles.ts. Absent where the triangles are
   * the file's own: coverage and pins of a job always refer to those.
   */
  readonly sourceTriangle?: Uint32Array;
  /** Present where the faces come from a CAD file: their areas are exact, and no split angle changes them. */
  readonly cad?: CadFaces;
  /** What is known of areas otherwise than by facets: of a CAD file's sheet that was given a thickness, see thickened-areas.ts. */
  readonly known?: KnownAreas;
}
