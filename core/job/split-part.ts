import { runsWhere } from '../faces/triangle-runs.ts';
import { coverageOn, pinsOn, sourceOf } from '../mesh/mesh-triangles.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { placesWithout } from './edit-job.ts';
import type { Job, Part } from './job.ts';
import type { JobMessage } from './job-messages.ts';

/**
 * One part for each piece of a model that touches no other, or one for all that are alike: the same file, with the other pieces left
 * out as a repair that can be taken back. Masks stay with their triangles, pins go with theirs. The first keeps the part's id; places in
 * the tank are given up, since pieces hang one by one.
 * @param newId gives an id for each further part
 * @throws RangeError when the geometry has no pieces
 */
export function splitPart(job: Job, partId: string, geometry: PartGeometry, newId: () => string): Job {
  if (geometry.apart.length < 2) {
    throw new RangeError(`splitPart: the geometry has ${geometry.apart.length} pieces`);
  }
  return {
    ...job,
    parts: job.parts.flatMap((part) => (part.id === partId ? partsOf(part, geometry, newId) : [part])),
    ...placesWithout(job, partId),
  };
}

function partsOf(part: Part, geometry: PartGeometry, newId: () => string): Part[] {
  const { apart } = geometry;
  const sources = apart.map((piece) => new Set(Array.from(piece, (t) => sourceOf(geometry, t))));
  const count = 1 + sources.reduce((most, own) => Math.max(most, largest(own)), 0);
  const flags = coverageOn(geometry, part.coverage);
  const pins = pinsOn(geometry, part.contacts);
  const held = apart.map((piece) => {
    const triangles = new Set(piece);
    return new Set(pins.filter(({ triangle }) => triangles.has(triangle)).map(({ id }) => id));
  });
  const made: { index: number; pieces: number }[] = [];
  apart.forEach((piece, index) => {
    const like = made.find(
      (one) =>
        held[one.index]!.size + held[index]!.size === 0 &&
        areAlike(geometry, flags, apart[one.index]!, piece),
    );
    if (like) like.pieces += 1;
    else made.push({ index, pieces: 1 });
  });
  return made.map(({ index, pieces }, place): Part => {
    const own = sources[index]!;
    const isOthers = (source: number): boolean => !own.has(source) && sources.some((set) => set.has(source));
    return {
      ...part,
      id: place === 0 ? part.id : newId(),
      name: nameOf(part, geometry, apart[index]!, place),
      quantity: part.quantity * pieces,
      contacts: part.contacts.filter(({ id }) => held[index]!.has(id)),
      surface: {
        ...part.surface,
        repairs: [{ kind: 'drop', triangles: runsWhere(count, isOthers) }, ...part.surface.repairs],
      },
    };
  });
}

/** The same triangles in the same order and treated alike, only shifted: the same object placed twice. */
function areAlike(
  { positions, graph }: PartGeometry,
  flags: Uint8Array,
  one: Uint32Array,
  other: Uint32Array,
): boolean {
  if (one.length !== other.length) return false;
  const shift = [0, 1, 2].map((k) => positions[9 * other[0]! + k]! - positions[9 * one[0]! + k]!);
  const slack = 4 * graph.noise;
  return one.every((a, i) => {
    const b = other[i]!;
    if (flags[a] !== flags[b]) return false;
    for (let k = 0; k < 9; k++) {
      if (!(Math.abs(positions[9 * b + k]! - positions[9 * a + k]! - shift[k % 3]!) <= slack)) return false;
    }
    return true;
  });
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
