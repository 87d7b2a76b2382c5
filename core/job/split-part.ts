import { runsWhere } from '../faces/triangle-runs.ts';
import { pinsOn, sourceOf } from '../mesh/mesh-triangles.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Job, Part } from './job.ts';
import type { JobMessage } from './job-messages.ts';

/**
 * One part for each piece of a model that touches no other: the same file, with the other pieces left out as a repair that can be
 * taken back. Masks stay with their triangles, pins go with theirs. The first keeps the part's id; places in the tank are given up, since
 * pieces hang one by one.
 * @param ids of the parts beyond the first, one for each further piece
 * @throws RangeError when the geometry has no pieces, or the ids do not fit
 */
export function splitPart(job: Job, partId: string, geometry: PartGeometry, ids: readonly string[]): Job {
  const { apart } = geometry;
  if (apart.length < 2) throw new RangeError(`splitPart: the geometry has ${apart.length} pieces`);
  if (ids.length !== apart.length - 1) {
    throw new RangeError(`splitPart: ${ids.length} ids for ${apart.length - 1} further pieces`);
  }
  const piecesOf = (part: Part): Part[] => {
    const sources = apart.map((piece) => new Set(Array.from(piece, (t) => sourceOf(geometry, t))));
    const count = 1 + sources.reduce((most, own) => Math.max(most, largest(own)), 0);
    const pins = pinsOn(geometry, part.contacts);
    return apart.map((piece, index) => {
      const own = sources[index]!;
      const others = runsWhere(count, (source) => !own.has(source) && sources.some((set) => set.has(source)));
      const triangles = new Set(piece);
      const held = new Set(pins.filter(({ triangle }) => triangles.has(triangle)).map(({ id }) => id));
      return {
        ...part,
        id: index === 0 ? part.id : ids[index - 1]!,
        name: nameOf(part, geometry, piece, index),
        contacts: part.contacts.filter(({ id }) => held.has(id)),
        surface: { ...part.surface, repairs: [{ kind: 'drop', triangles: others }, ...part.surface.repairs] },
      };
    });
  };
  return {
    ...job,
    parts: job.parts.flatMap((part) => (part.id === partId ? piecesOf(part) : [part])),
    placements: job.placements.filter((placement) => placement.partId !== partId),
  };
}

const largest = (numbers: ReadonlySet<number>): number => {
  let most = 0;
  for (const value of numbers) most = Math.max(most, value);
  return most;
};

/** The body's own name where the file gives each piece one. */
function nameOf(part: Part, { bodies }: PartGeometry, piece: Uint32Array, index: number): string {
  const first = piece[0]!;
  const body = bodies.find(
    ({ firstTriangle, triangleCount }) => first >= firstTriangle && first < firstTriangle + triangleCount,
  );
  const isOwn = body !== undefined && body.name.trim() !== '' && bodies.length > 1;
  return isOwn ? `${part.name}: ${body.name}` : `${part.name}, piece ${index + 1}`;
}

/** Pieces that touch no other and hold none of the pins, once there are pins: current reaches a piece through its own alone. */
export function pieceMessages(part: Part, geometry: PartGeometry): JobMessage[] {
  const { apart } = geometry;
  if (apart.length < 2 || part.contacts.length === 0) return [];
  const pinned = new Set(pinsOn(geometry, part.contacts).map(({ triangle }) => triangle));
  const bare = apart.filter((piece) => !piece.some((triangle) => pinned.has(triangle))).length;
  if (bare === 0) return [];
  return [
    {
      level: 'stop',
      code: 'piece-without-pin',
      stage: 'hanging',
      partId: part.id,
      message: `${bare} of the ${apart.length} pieces of “${part.name}” that do not touch each other ${bare === 1 ? 'has' : 'have'} no pin: no current reaches ${bare === 1 ? 'it' : 'them'}, and all of it goes through the rest.`,
      remedy: 'Set a pin on each piece, or make a part of each piece, in Part.',
    },
  ];
}
