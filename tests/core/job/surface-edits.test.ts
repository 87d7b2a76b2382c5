import { expect, test } from 'vitest';
import { threadsForCylinder } from '../../../core/finish/threads-for-cylinder.ts';
import { emptyJob, newPart, newPartWithoutFile } from '../../../core/job/default-job.ts';
import { addPart, confirmUnit, partById } from '../../../core/job/edit-job.ts';
import {
  acceptRepair,
  sizeIsRight,
  setFuse,
  setThread,
  setVented,
  takeBackRepair,
} from '../../../core/job/edit-surface.ts';
import type { Job } from '../../../core/job/job.ts';
import { measureTyped, type PartMeasure } from '../../../core/job/measure-part.ts';
import { migrateJob } from '../../../core/job/migrate-job.ts';
import { fileOf, sourceName } from '../../../core/job/part-source.ts';
import { surfaceMessages } from '../../../core/job/surface-messages.ts';

const job = addPart(emptyJob('job'), newPart('p', 'plate.stl', 12, 'mm', true));
const surfaceOf = (changed: Job) => partById(changed, 'p').surface;

test('a job of the first days, with its file as `model` and no word on surfaces, opens as today’s', () => {
  const today = JSON.parse(JSON.stringify(job)) as { parts: Record<string, unknown>[] };
  const { source, surface: _, ...rest } = today.parts[0]!;
  const { kind: __, ...model } = source as Record<string, unknown>;
  const opened = migrateJob({ ...today, parts: [{ ...rest, model }] });
  expect(opened.ok && opened.value.parts[0]).toEqual(job.parts[0]);
  expect(fileOf(job.parts[0]!)?.fileName).toBe('plate.stl');
});

test('edits give new jobs and leave the old; what was not touched stays the same object', () => {
  const repaired = acceptRepair(job, 'p', { kind: 'turn' });
  expect(surfaceOf(repaired).repairs).toEqual([{ kind: 'turn' }]);
  expect(surfaceOf(job).repairs).toEqual([]);
  expect(surfaceOf(setFuse(repaired, 'p', 0)).repairs).toBe(surfaceOf(repaired).repairs);
  expect(surfaceOf(takeBackRepair(repaired, 'p', 0)).repairs).toEqual([]);
  expect(() => takeBackRepair(job, 'p', 0)).toThrow(RangeError);
  const vented = setVented(job, 'p', 7, true);
  expect(surfaceOf(setVented(vented, 'p', 7, true)).ventedVoids).toEqual([7]);
  expect(surfaceOf(setVented(vented, 'p', 7, false)).ventedVoids).toEqual([]);
  const cut = setThread(setThread(job, 'p', 4, 'M6'), 'p', 4, 'M6x0.75');
  expect(surfaceOf(cut).threads).toEqual([{ triangle: 4, designation: 'M6x0.75' }]);
  expect(surfaceOf(setThread(cut, 'p', 4, null)).threads).toEqual([]);
});

test('messages: typed areas, sizes no tank holds, acid in vented voids, round or flat, threads that do not fit', () => {
  const codes = (change: Partial<PartMeasure>): string[] =>
    surfaceMessages(job.parts[0]!, { ...measureTyped(0.01), sizeM: [0.1, 0.1, 0.1], ...change }).map(
      ({ code }) => code,
    );
  expect(codes({})).toEqual([]);
  expect(codes({ sizeM: [40, 3, 3] })).toEqual(['suspect-unit']);
  expect(codes({ sizeM: [0.001, 0.001, 0.001] })).toEqual(['suspect-unit']);
  const hollow = { anchor: 3, areaM2: 1e-4, volumeM3: 1e-6 };
  expect(codes({ voids: [{ ...hollow, vented: true }] })).toEqual(['acid-in-void']);
  expect(codes({ voids: [{ ...hollow, vented: false }] })).toEqual([]);
  const question = { row: 2, rows: [2], facetCount: 16, flatM2: 1, roundM2: 1.1, gainM2: 0.1, taken: 'round' as const }; // prettier-ignore
  expect(codes({ questions: [question] })).toEqual(['round-or-flat']);
  // Of 1 m² a hole that is 0.9 cm² more or less is a note, two that are 15 cm² are not.
  const asked = (...gains: number[]) =>
    surfaceMessages(job.parts[0]!, {
      ...measureTyped(1),
      sizeM: [0.1, 0.1, 0.1],
      questions: gains.map((gainM2) => ({ ...question, gainM2 })),
    });
  expect(asked(9e-5)).toEqual([expect.objectContaining({ code: 'round-or-flat', level: 'note' })]);
  expect(asked(9e-5)[0]!.message).toContain('It is about 0.009 % of the area.');
  expect(asked(1.5e-3, -1.5e-3)).toEqual([expect.objectContaining({ level: 'check' })]);
  expect(codes({ threads: [{ row: undefined, triangle: 1, designation: 'M6', area: null }] })).toEqual([
    'thread-lost',
  ]);
  const typed = newPartWithoutFile('t', 'Odd lot', { kind: 'typed', areaM2: 0.01 });
  expect(surfaceMessages(typed, measureTyped(0.01)).map(({ code }) => code)).toEqual(['area-typed']);
  expect(sourceName(typed)).toBe('typed area');
});

test('a unit that makes the part tiny where another is likelier is asked about until its size is said to be right', () => {
  const unitIs = (unit: 'mm' | 'in', fileName = 'bracket.stl'): Job =>
    addPart(emptyJob('job'), newPart('p', fileName, 84, unit, true));
  // 4 × 3 × 2 in the file: 101.6 mm long in inches, by 25.4 mm to the inch.
  const said = (of: Job, perUnitM: number) =>
    surfaceMessages(of.parts[0]!, {
      ...measureTyped(0.01),
      sizeM: [4 * perUnitM, 3 * perUnitM, 2 * perUnitM],
    });
  const [doubt, ...more] = said(unitIs('mm'), 1e-3);
  expect(doubt).toMatchObject({ code: 'suspect-unit', level: 'check' });
  expect(doubt!.message).toMatch(/4\.00 mm \(0\.157 in\) long.*as “in” it would be 102 mm \(4\.00 in\)/);
  expect(more).toEqual([]);
  expect(said(unitIs('in'), 0.0254)).toEqual([]);
  expect(said(unitIs('mm', 'bracket.STEP'), 1e-3)).toEqual([]); // the file says so itself
  const right = sizeIsRight(unitIs('mm'), 'p');
  expect(said(right, 1e-3)).toEqual([]);
  // Another unit is another size.
  expect(said(confirmUnit(right, 'p', 'ft'), 0.3048 * 3)).toHaveLength(1);
});

/** Diameters by ISO 68-1: minor D − 1.0825 P; drills D − P; unified 1/4-20: drill #7, 0.201 in. */
test.each([
  [5.0, 'M6x1', 'tap drill'],
  [4.917, 'M6x1', 'minor'],
  [6.0, 'M6x1', 'major'],
  [6.8, 'M8x1.25', 'tap drill'],
  [0.201 * 25.4, '1/4-20', 'tap drill'],
  [0.19 * 25.4, '#10-24', 'major'],
])('a cylinder of %f mm may stand for %s, drawn at its %s diameter', (diameterMm, designation, drawnAt) => {
  const found = threadsForCylinder(diameterMm / 1000).find((thread) => thread.designation === designation);
  expect(found?.drawnAt).toBe(drawnAt);
});
