import type { MeshWishes, SourceSurface } from '../../core/job/prepare-part.ts';
import { sourceName } from '../../core/job/part-source.ts';
import type { Part } from '../../core/job/job.ts';
import type { Result } from '../../core/result.ts';
import type { Services } from '../app/services.ts';
import type { MadePart } from '../worker/jobs.ts';
import type { PartMesh } from './app-state.ts';
import { jobOf } from './app-store.ts';
import { notify } from './notices.ts';
import { prepareClicks } from './prepare-clicks.ts';

/**
 * Keeps each part's mesh as its job asks: other repairs, fusing, another drawn shape, another split angle, answers about
 * round faces. By edit, undo and redo alike, and only the last of quick changes.
 */
export function followMesh(services: Services): void {
  const { store, worker } = services;
  /** What was last asked of the worker for a part; done or failed, it is not asked again. */
  const asked = new Map<string, Part>();

  const draw = async (
    part: Part,
    shape: Extract<Part['source'], { kind: 'shape' }>['shape'],
  ): Promise<void> => {
    const wishes = wishesOf(part);
    const input = { name: part.name, shape, wishes };
    take(part, await worker.run('drawShape', input, { supersede: part.id }));
  };

  const prepare = async (part: Part, mesh: PartMesh): Promise<void> => {
    const input = { name: sourceName(part), source: sourceSurface(mesh), wishes: wishesOf(part) };
    take(part, await worker.run('prepare', input, { supersede: part.id }));
  };

  const take = (part: Part, made: Result<MadePart>): void => {
    if (!stillWanted(part)) return;
    if (!made.ok) {
      if (made.error.code !== 'superseded' && made.error.code !== 'cancelled') notify(store, made.error);
      return;
    }
    const mesh = meshOf(part, made.value);
    store.setState((state) => ({
      meshes: { ...state.meshes, [part.id]: mesh },
      selectedFaces: state.activePartId === part.id ? new Set<number>() : state.selectedFaces,
      hoveredFace: null,
    }));
    void prepareClicks(services, part.id, mesh.geometry);
  };

  const resplit = async (part: Part, mesh: PartMesh): Promise<void> => {
    const { geometry } = mesh;
    const { splitAngleRad, surface } = part;
    const input = { name: sourceName(part), geometry, splitAngleRad, facetAnswers: surface.facetAnswers };
    const split = await worker.run('resplit', input, { supersede: part.id });
    if (!stillWanted(part)) return;
    if (!split.ok) {
      if (split.error.code !== 'superseded') notify(store, split.error);
      return;
    }
    const { faces, facets, edges } = split.value;
    store.setState((state) => {
      const now = state.meshes[part.id];
      if (!now || now.geometry.positions !== geometry.positions) return {};
      const isSame = mesh.made.splitAngleRad === splitAngleRad;
      return {
        meshes: {
          ...state.meshes,
          [part.id]: {
            ...now,
            geometry: { ...geometry, faces, ...(facets ? { facets } : {}) },
            edges,
            made: part,
          },
        },
        selectedFaces: state.activePartId === part.id && !isSame ? new Set<number>() : state.selectedFaces,
        hoveredFace: null,
      };
    });
  };

  const stillWanted = (part: Part): boolean => {
    const now = jobOf(store.getState()).parts.find(({ id }) => id === part.id);
    return now !== undefined && wantsSame(now, part);
  };

  const follow = (): void => {
    const state = store.getState();
    for (const part of jobOf(state).parts) {
      const mesh = state.meshes[part.id];
      const before = asked.get(part.id);
      if (mesh && wantsSame(mesh.made, part)) {
        asked.delete(part.id);
        continue;
      }
      if (before && wantsSame(before, part)) continue;
      const { source } = part;
      if (source.kind === 'shape') {
        const redraw = !mesh || mesh.made.source !== source;
        asked.set(part.id, part);
        if (redraw) void draw(part, source.shape);
        else if (needsPrepare(mesh.made, part)) void prepare(part, mesh);
        else void resplit(part, mesh);
      } else if (mesh) {
        asked.set(part.id, part);
        if (needsPrepare(mesh.made, part)) void prepare(part, mesh);
        else void resplit(part, mesh);
      }
    }
  };

  store.subscribe((state, before) => {
    if (jobOf(state) !== jobOf(before) || state.meshes !== before.meshes) follow();
  });
  follow();
}

/** A part's mesh as the worker made it. */
export function meshOf(part: Part, made: MadePart): PartMesh {
  const { geometry, edges, source, repairs, fuse, fuseFailure } = made;
  return { geometry, edges, source, repairs, fuse, fuseFailure, made: part, pickIndex: null };
}

export function wishesOf({ splitAngleRad, surface }: Part): MeshWishes {
  const { repairs, fuseGap, facetAnswers } = surface;
  return { splitAngleRad, surface: { repairs, fuseGap, facetAnswers } };
}

export function sourceSurface({ source, geometry }: PartMesh): SourceSurface {
  if (source) return source;
  const { positions, bodies, cad } = geometry;
  return { positions, bodies, ...(cad ? { cad } : {}) };
}

function needsPrepare(a: Part, b: Part): boolean {
  return a.surface.repairs !== b.surface.repairs || a.surface.fuseGap !== b.surface.fuseGap;
}

/** True where both ask for the same mesh. Parts of a job are never changed in place, so what is the same is one object. */
function wantsSame(a: Part, b: Part): boolean {
  return (
    !needsPrepare(a, b) &&
    (a.source === b.source || a.source.kind !== 'shape') &&
    a.splitAngleRad === b.splitAngleRad &&
    a.surface.facetAnswers === b.surface.facetAnswers
  );
}
