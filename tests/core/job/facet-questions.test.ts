/** An octagon bar and a coarse cylinder are one mesh: what is asked, what an answer does, how it is kept. */
import { expect, test } from 'vitest';
import { answerFacets, askFacetsAgain } from '../../../core/job/edit-surface.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { withFacets } from '../../../core/job/correct-facets.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { questionText, rowsText, withFacetAnswer } from '../../../core/job/facet-questions.ts';
import { measurePart } from '../../../core/job/measure-part.ts';
import { packJob, unpackJob } from '../../../core/job/container.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { cylinder } from '../../fixtures/shapes.ts';
import { valueOf } from '../value-of.ts';

const bar = analysePart(cylinder(10, 40, 8), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const part = newPart('p', 'bar.stl', 0, 'mm', true);

test('both areas, in square metres; the octagon’s sides in closed form, the round within 6 % of the difference', () => {
  const measure = measurePart(part, withFacets(bar, []));
  const [one, ...more] = measure.questions;
  expect(more).toEqual([]);
  expect(one!.rows).toHaveLength(8);
  // Eight sides of 2 r sin 22.5°, 40 long; a cylinder of 2πrh.
  expect(one!.flatM2 * 1e6).toBeCloseTo(8 * 20 * Math.sin(Math.PI / 8) * 40, 2);
  expect(one!.roundM2 * 1e6).toBeGreaterThan(800 * Math.PI - 0.06 * (800 * Math.PI - one!.flatM2 * 1e6));
  expect(measure.totalM2).toBeCloseTo(measure.meshM2, 12);
  expect(measure.totalHighM2 * 1e6).toBeGreaterThan(1000 * Math.PI);
  expect(questionText(one!)).toBe('Are f2 to f9 one round, drawn coarse with 8 facets, or flat sides?');
});

test('an answer about one side holds for all, is saved with the job and can be taken back', () => {
  const geometry = withFacets(bar, []);
  const { faces: rows } = geometry.facets!.ambiguous[0]!;
  const job = answerFacets(addPart(emptyJob('Bar'), part), 'p', geometry, rows[4]!, 'round');
  expect(job.parts[0]!.surface.facetAnswers).toHaveLength(8);
  // Unpacked from its file, with the model's bytes beside it.
  const models = new Map([['models/p', new Uint8Array([1])]]);
  const filed = {
    ...job,
    parts: job.parts.map((one) => ({
      ...one,
      source: { kind: 'file' as const, fileName: 'bar.stl', entry: 'models/p', byteLength: 1 },
    })),
  };
  const opened = valueOf(unpackJob(packJob(filed, models))).job.parts[0]!;
  const round = measurePart(opened, withFacets(bar, opened.surface.facetAnswers));
  expect(round.questions).toEqual([]);
  expect(Math.abs(round.totalM2 * 1e6 - 1000 * Math.PI)).toBeLessThan(0.05 * (1000 * Math.PI - bar.area));
  const flat = withFacetAnswer(opened, geometry, rows[0]!, 'flat');
  expect(flat.surface.facetAnswers).toHaveLength(8);
  expect(measurePart(flat, withFacets(bar, flat.surface.facetAnswers)).totalM2 * 1e6).toBeCloseTo(
    bar.area,
    6,
  );
  expect(askFacetsAgain(job, 'p').parts[0]!.surface.facetAnswers).toEqual([]);
});

test('faces are named shortly', () => {
  expect(rowsText([3])).toBe('f4');
  expect(rowsText([3, 7])).toBe('f4 and f8');
  expect(rowsText([1, 2, 3, 4])).toBe('f2 to f5');
  expect(rowsText([1, 2, 3, 9])).toBe('f2, f3 and 2 more');
});
