import type { IndexedMesh } from '../mesh/mesh.ts';
import { success, type Result } from '../result.ts';
import { findTraps, type Pocket, type Traps } from './find-traps.ts';
import { isPlugEnd, plugMesh } from './plug-mesh.ts';
import type { Plugs } from './plugs.ts';
import { prepareTrapMesh, type TrapMesh } from './trap-mesh.ts';
import type { Vec3 } from './vec3.ts';

/** What a part traps with its plugs in; triangles are the part's own. */
export interface PluggedTraps extends Traps {
  /** Triangles that plugs shut off from the bath: neither coated nor rinsed. Ascending. */
  readonly closedOff: Uint32Array;
  /** Of the hollows behind them, model units cubed. */
  readonly shutVolume: number;
  /** How many bores have one. */
  readonly plugCount: number;
}

/** A part made ready for looking at many attitudes with its plugs in. */
export interface PluggedPart {
  readonly surface: IndexedMesh;
  readonly mesh: TrapMesh;
  /** Per triangle of `mesh` the part's, below 0 of a plug's end, see plug-mesh.ts; null where it has no plugs and they are the same. */
  readonly triangleOf: Int32Array | null;
  readonly closedOff: Uint32Array;
  readonly shutVolume: number;
  readonly plugCount: number;
}

/** Failures are those of `prepareTrapMesh`; a part that is open without its plugs fails as well. */
export function plugPart(
  mesh: IndexedMesh,
  whole: Result<TrapMesh>,
  plugs: Plugs | null,
): Result<PluggedPart> {
  if (!whole.ok) return whole;
  if (!plugs) {
    return success({
      surface: mesh,
      mesh: whole.value,
      triangleOf: null,
      closedOff: new Uint32Array(0),
      shutVolume: 0,
      plugCount: 0,
    });
  }
  const plugged = plugMesh(mesh, plugs);
  const ready = prepareTrapMesh(plugged.mesh);
  if (!ready.ok) return ready;
  const { triangleOf, closedOff, shutVolume } = plugged;
  return success({
    surface: plugged.mesh,
    mesh: ready.value,
    triangleOf,
    closedOff,
    shutVolume,
    plugCount: plugs.count,
  });
}

export function trapsOf(part: PluggedPart, up: Vec3): PluggedTraps {
  const { mesh, triangleOf, closedOff, shutVolume, plugCount } = part;
  const traps = { ...findTraps(mesh, up), closedOff, shutVolume, plugCount };
  if (!triangleOf) return traps;
  const own = (pocket: Pocket): Pocket => ({
    ...pocket,
    triangles: pocket.triangles.filter((t) => !isPlugEnd(triangleOf[t]!)).map((t) => triangleOf[t]!),
  });
  return { ...traps, gas: traps.gas.map(own), liquid: traps.liquid.map(own) };
}
