import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { runsOfFaces } from '../../../core/faces/runs-of-faces.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { DEFAULT_PROCESS, emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { jobMessages } from '../../../core/job/job-messages.ts';
import type { Part } from '../../../core/job/job.ts';
import { measurePart, measureTyped } from '../../../core/job/measure-part.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';

/** A closed a × b × c box; faces in order: bottom, top (a × b), front, back (a × c), left, right (b × c). */
function box(a: number, b: number, c: number): PartGeometry {
  const corner = (i: number): number[] => [i & 1 ? a : 0, i & 2 ? b : 0, i & 4 ? c : 0];
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const positions = new Float32Array(
    quads.flatMap(([p, q, r, s]) => [p!, q!, r!, p!, r!, s!].flatMap(corner)),
  );
  const bodies = [{ name: 'box', firstTriangle: 0, triangleCount: 12 }];
  return analysePart(positions, bodies, { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
}

const part = (change: Partial<Part> = {}): Part => ({
  ...newPart('p', 'box.stl', 684, 'mm', true),
  ...change,
});
const covered = (geometry: PartGeometry, mask: number[], contact: number[] = [], show: number[] = []) => ({
  mask: runsOfFaces(geometry.faces, mask),
  contact: runsOfFaces(geometry.faces, contact),
  show: runsOfFaces(geometry.faces, show),
});
const pin = (at: [number, number, number], triangle: number, patchDiameterM: number) => ({
  id: `pin-${at.join()}`,
  at,
  triangle,
  patchDiameterM,
  hanger: FIRST_HANGER,
});

describe('a part as the user treats it', () => {
  it('adds up: coated, masked and contact make the whole', () => {
    const geometry = box(100, 50, 20);
    const measure = measurePart(part({ coverage: covered(geometry, [0], [2]) }), geometry);
    expect(measure.totalM2).toBeCloseTo(160e-4, 12);
    expect(measure.maskedM2).toBeCloseTo(50e-4, 12);
    expect(measure.contactM2).toBeCloseTo(20e-4, 12);
    expect(measure.coatedM2).toBeCloseTo(90e-4, 12);
    expect(measure.volumeM3).toBeCloseTo(100e-6, 15);
  });

  it('scales with the square of the unit: the same file in inches is 25.4² times the area', () => {
    const geometry = box(3, 2, 1);
    const mm = measurePart(part(), geometry).totalM2;
    expect(measurePart(part({ unit: 'in' }), geometry).totalM2 / mm).toBeCloseTo(25.4 ** 2, 9);
    expect(measurePart(part({ unit: 'm' }), geometry).totalM2).toBeCloseTo(22, 9);
  });

  it('takes a clamp’s round patch off the coated area: π d²/4 in the middle of a flat', () => {
    const geometry = box(100, 50, 20);
    const measure = measurePart(part({ contacts: [pin([50, 25, 20], 2, 0.01)] }), geometry);
    const disc = (Math.PI / 4) * 1e-4;
    expect(measure.contacts[0]!.patchM2).toBeCloseTo(disc, 12);
    expect(measure.coatedM2).toBeCloseTo(160e-4 - disc, 12);
    expect(measure.contactM2).toBeCloseTo(disc, 12);
  });

  it('takes nothing off twice: a clamp on a mask, two clamps on one place', () => {
    const geometry = box(100, 50, 20);
    const masked = measurePart(
      part({ coverage: covered(geometry, [1]), contacts: [pin([50, 25, 20], 2, 0.01)] }),
      geometry,
    );
    expect(masked.coatedM2).toBeCloseTo(110e-4, 12);
    const twice = measurePart(
      part({ contacts: [pin([50, 25, 20], 2, 0.01), { ...pin([50, 25, 20], 2, 0.01), id: 'second' }] }),
      geometry,
    );
    expect(twice.contactM2).toBeCloseTo((Math.PI / 4) * 1e-4, 12);
  });

  it('with all faces masked takes no current', () => {
    const geometry = box(10, 10, 10);
    const measure = measurePart(part({ coverage: covered(geometry, [0, 1, 2, 3, 4, 5]) }), geometry);
    expect(measure.coatedM2).toBe(0);
    const plan = planRun([{ name: 'box', areaM2: measure.coatedM2, quantity: 1 }], DEFAULT_PROCESS);
    expect(plan.ok ? 'planned' : plan.error.code).toBe('no-area');
  });

  it('draws current in the ratio of the areas, whatever is masked', () => {
    const geometry = box(40, 30, 20);
    fc.assert(
      fc.property(fc.subarray([0, 1, 2, 3, 4], { minLength: 0, maxLength: 5 }), (masked) => {
        const measure = measurePart(part({ coverage: covered(geometry, masked) }), geometry);
        const byHand = [12, 12, 8, 8, 6, 6].reduce(
          (sum, cm2, row) => sum + (masked.includes(row) ? 0 : cm2),
          0,
        );
        expect(measure.coatedM2).toBeCloseTo(byHand * 1e-4, 12);
      }),
    );
  });

  it('marks what rests on a guessed unit', () => {
    expect(measurePart(part({ unitConfirmed: false }), box(1, 1, 1)).unconfirmed).toContain('not confirmed');
    expect(measurePart(part(), box(1, 1, 1)).unconfirmed).toBeUndefined();
  });
});

describe('messages', () => {
  const codes = (change: Partial<Part>): string[] => {
    const geometry = box(100, 50, 20);
    const changed = part(change);
    const job = addPart(emptyJob('job'), changed);
    return jobMessages(job, { p: measurePart(changed, geometry) }, null).map((message) => message.code);
  };
  const geometry = box(100, 50, 20);
  const onTop = pin([50, 25, 20], 2, 0.004);

  it('warn of a pin on a show face, on a mask, off the part, and of no pin at all', () => {
    expect(codes({})).toContain('no-contact');
    expect(codes({ contacts: [onTop] })).toEqual([]);
    expect(codes({ contacts: [onTop], coverage: covered(geometry, [], [], [1]) })).toEqual([
      'pin-on-show-face',
    ]);
    expect(codes({ contacts: [onTop], coverage: covered(geometry, [1]) })).toEqual(['pin-on-masked-face']);
    expect(codes({ contacts: [{ ...onTop, triangle: 99 }] })).toEqual(['pin-off-part']);
  });

  it('do not warn of a missing pin where there is no surface to set one on: it is a note', () => {
    const typed = part({ source: { kind: 'typed', areaM2: 0.02 } });
    const said = jobMessages(addPart(emptyJob('job'), typed), { p: measureTyped(0.02) }, null);
    expect(said.map(({ code, level }) => `${code} ${level}`)).toContain('contact-not-judged note');
    expect(said.filter(({ level, stage }) => level !== 'note' && stage === 'hanging')).toEqual([]);
    expect(codes({ contacts: [onTop], unitConfirmed: false })).toEqual(['unit-unconfirmed']);
  });
});
