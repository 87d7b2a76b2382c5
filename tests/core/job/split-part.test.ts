/** Pieces of one file that touch no other become parts of their own: each the closed form of its body, pins and masks with theirs. */
import { ShapeUtils, Vector2 } from 'three';
import { describe, expect, it } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, putContact, setCoverage } from '../../../core/job/edit-job.ts';
import { acceptRepair } from '../../../core/job/edit-surface.ts';
import type { Job, Part } from '../../../core/job/job.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { preparePart, type SourceSurface } from '../../../core/job/prepare-part.ts';
import { pieceMessages, splitPart } from '../../../core/job/split-part.ts';
import { box, Soup } from '../../fixtures/shapes.ts';

const BODIES = [
  { name: 'block', firstTriangle: 0, triangleCount: 12 },
  { name: 'rod', firstTriangle: 12, triangleCount: 12 },
  { name: '', firstTriangle: 24, triangleCount: 12 },
];
const source: SourceSurface = {
  positions: new Soup()
    .add(box(30, 20, 10))
    .add(box(4, 4, 40, [60, 0, 0]))
    .add(box(5, 5, 5, [90, 0, 0])).positions,
  bodies: BODIES,
};
const prepared = ({ surface }: Part, from = source) =>
  preparePart(
    from,
    { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD, surface },
    {
      cutPolygon: (contour) =>
        ShapeUtils.triangulateShape(
          contour.map(({ x, y }) => new Vector2(x, y)),
          [],
        ),
    },
  ).geometry;

const fresh = (): (() => string) => {
  const ids = ['q', 'r'];
  return () => ids.shift()!;
};

/** A pin on top of the rod, where triangle 14 or 15 lies. */
function pinned(triangle: number, at: [number, number, number]): Job {
  const job = addPart(emptyJob('job'), newPart('p', 'two.3mf', 1, 'mm', true, 36));
  return putContact(job, 'p', { id: 'c', at, triangle, patchDiameterM: 0.003, hanger: FIRST_HANGER });
}
const onRod = (): { job: Job; triangle: number } => {
  const { positions } = source;
  const triangle = [...Array(12).keys()]
    .map((t) => t + 12)
    .find((t) => [2, 5, 8].every((k) => positions[9 * t + k] === 40))!;
  const middle = (k: number): number =>
    [0, 3, 6].reduce((sum, c) => sum + positions[9 * triangle + c + k]!, 0) / 3;
  return { job: pinned(triangle, [middle(0), middle(1), middle(2)]), triangle };
};

describe('parts of pieces', () => {
  it('each is the closed form of its body, under its own name; pins and masks go with their triangles', () => {
    const { job, triangle } = onRod();
    const masked = setCoverage(job, 'p', { mask: [0, 2, triangle, triangle + 1], contact: [], show: [] });
    const geometry = prepared(masked.parts[0]!);
    expect(geometry.apart).toHaveLength(3);
    const split = splitPart(masked, 'p', geometry, fresh());
    expect(split.parts.map(({ id, name }) => [id, name])).toEqual([
      ['p', 'two: block'],
      ['q', 'two: rod'],
      ['r', 'two, piece 3'],
    ]);
    const areas = split.parts.map((part) => prepared(part).area);
    [2 * (600 + 300 + 200), 2 * 16 + 4 * 160, 150].forEach((area, i) =>
      expect(areas[i]).toBeCloseTo(area, 4),
    );
    expect(split.parts.map(({ contacts }) => contacts.length)).toEqual([0, 1, 0]);
    for (const part of split.parts) {
      expect(part.coverage).toEqual(masked.parts[0]!.coverage);
      expect(prepared(part).findings).toEqual([]);
    }
    expect(masked.parts).toHaveLength(1);
  });

  it('pieces that are alike become one part of so many, unless they are masked otherwise or hold a pin', () => {
    const rod = (x: number) => box(4, 4, 40, [x, 7, 0]);
    const load: SourceSurface = {
      positions: new Soup()
        .add(box(30, 20, 10))
        .add(rod(60))
        .add(rod(90))
        .add(rod(120.5)).positions,
      bodies: [],
    };
    const job = addPart(emptyJob('job'), { ...newPart('p', 'load.stl', 1, 'mm', true, 48), quantity: 2 });
    const amounts = (from: Job): number[] =>
      splitPart(from, 'p', prepared(from.parts[0]!, load), fresh()).parts.map(({ quantity }) => quantity);
    expect(amounts(job)).toEqual([2, 6]);
    // One face of the second rod is masked.
    expect(amounts(setCoverage(job, 'p', { mask: [24, 26], contact: [], show: [] }))).toEqual([2, 4, 2]);
    const contact = {
      id: 'c',
      at: [60, 7, 0] as [number, number, number],
      triangle: 12,
      patchDiameterM: 0.003,
    };
    expect(amounts(putContact(job, 'p', { ...contact, hanger: FIRST_HANGER }))).toEqual([2, 2, 4]);
    const [, rods] = splitPart(job, 'p', prepared(job.parts[0]!, load), fresh()).parts;
    expect(prepared(rods!, load).area).toBeCloseTo(2 * 16 + 4 * 160, 4);
  });

  it('keeps the repairs that were accepted, after leaving the others out', () => {
    const job = acceptRepair(pinned(0, [1, 1, 0]), 'p', { kind: 'turn' });
    const split = splitPart(job, 'p', prepared(job.parts[0]!), fresh());
    expect(split.parts[1]!.surface.repairs).toEqual([
      { kind: 'drop', triangles: [0, 12, 24, 36] },
      { kind: 'turn' },
    ]);
  });

  it('is a caller’s bug where there are no pieces', () => {
    const { job } = onRod();
    const geometry = prepared(job.parts[0]!);
    expect(() => splitPart(job, 'p', { ...geometry, apart: [] }, fresh())).toThrow(RangeError);
  });
});

it('a piece without a pin is a stop once there are pins: current does not jump', () => {
  const { job } = onRod();
  const part = job.parts[0]!;
  const geometry = prepared(part);
  const [message] = pieceMessages(part, geometry);
  expect(message).toMatchObject({ level: 'stop', code: 'piece-without-pin', partId: 'p' });
  expect(message!.message).toMatch(/^2 of the 3 pieces/);
  expect(pieceMessages({ ...part, contacts: [] }, geometry)).toEqual([]);
  const split = splitPart(job, 'p', geometry, fresh());
  for (const one of split.parts) expect(pieceMessages(one, prepared(one))).toEqual([]);
});
