import type { Source } from '../figure/figure.ts';
import type { IndexedMesh } from '../mesh/mesh.ts';
import type { Plugs } from '../racking/plugs.ts';
import type { Pose } from '../racking/pose.ts';
import type { Tank } from '../racking/tank.ts';
import type { Vec3 } from '../racking/vec3.ts';
import type { ElectrodeLaw } from './electrode-law.ts';

/** A contact of a part with its wires, in the model's units and axes where the name carries no unit. */
export interface SceneContact {
  readonly at: Vec3;
  /** Outward unit normal where it sits. */
  readonly facing: Vec3;
  readonly patchRadiusM: number;
  readonly wireDiameterM: number;
  readonly wires: number;
  /** Titanium: its own oxide stops the current. */
  readonly insulates: boolean;
}

/** One part of the job as the field sees it. */
export interface ScenePart {
  readonly name: string;
  readonly mesh: IndexedMesh;
  readonly metresPerUnit: number;
  /** Per triangle, 1 where it is masked, bare or sealed off. */
  readonly insulated: Uint8Array;
  /** What stands in its masked bores; none where left out. */
  readonly plugs?: Plugs | null;
  readonly contacts: readonly SceneContact[];
}

/** An electrode added inside a part: a bare rod on the cathode's side of the supply. Tank axes. */
export interface InnerCathode {
  readonly fromM: Vec3;
  readonly toM: Vec3;
  readonly diameterM: number;
}

/** Everything a solution depends on, as plain data that can be sent to a worker. */
export interface FieldScene {
  readonly tank: Tank;
  /** As the hung load has raised it. */
  readonly levelM: number;
  readonly conductivitySPerM: number;
  readonly filmLaw: ElectrodeLaw;
  readonly filmSource: Source;
  readonly cathodeLaw: ElectrodeLaw;
  readonly parts: readonly ScenePart[];
  /** What hangs in the tank; `part` is an index into `parts`. */
  readonly copies: readonly { readonly part: number; readonly pose: Pose }[];
  /** Index into `copies`: the one the grid is fine at and the map is made for. */
  readonly mapped: number;
  readonly innerCathodes: readonly InnerCathode[];
  readonly totalCurrentA: number;
  readonly mostCells: number;
}
