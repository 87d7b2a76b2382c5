import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areasByTreatment } from '../../../core/faces/areas-by-treatment.ts';
import { COVERAGE_BITS, coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { faceTreatments } from '../../../core/faces/face-treatments.ts';
import { runsOfFaces } from '../../../core/faces/runs-of-faces.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { box, tube } from '../../fixtures/shapes.ts';

const part = analysePart(tube(12.5, 10, 100, 48), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const rows = fc.uniqueArray(fc.integer({ min: 0, max: part.faces.count - 1 }));

describe('areas by treatment', () => {
  it('split without loss for any choice of faces, mask winning over contact', () => {
    fc.assert(
      fc.property(rows, rows, rows, (mask, contact, show) => {
        const flags = coverageFlags(part.triangleCount, {
          mask: runsOfFaces(part.faces, mask),
          contact: runsOfFaces(part.faces, contact),
          show: runsOfFaces(part.faces, show),
        });
        const areas = areasByTreatment(part.faces, part.triangleAreas, flags);
        const sum = (chosen: number[]): number =>
          chosen.reduce((total, row) => total + part.faces.area[row], 0);
        expect(areas.total).toBe(areas.coated + areas.masked + areas.contact);
        // The same float64 areas in another order.
        expect(areas.total / part.area).toBeCloseTo(1, 12);
        expect(areas.masked).toBeCloseTo(sum(mask), 8);
        expect(areas.contact).toBeCloseTo(sum(contact.filter((row) => !mask.includes(row))), 8);
        const treatments = faceTreatments(part.faces, flags);
        for (let row = 0; row < part.faces.count; row++) {
          expect(treatments[row]).toEqual({
            treatment: mask.includes(row) ? 'mask' : contact.includes(row) ? 'contact' : 'coat',
            show: show.includes(row),
          });
          const { coated, masked, contact: bare } = areas.byFace;
          expect(coated[row] + masked[row] + bare[row]).toBeCloseTo(part.faces.area[row], 9);
        }
      }),
    );
  });

  it('all masked leaves nothing to coat', () => {
    const all = runsOfFaces(
      part.faces,
      Array.from({ length: part.faces.count }, (_, row) => row),
    );
    expect(all).toEqual([0, part.triangleCount]);
    const flags = coverageFlags(part.triangleCount, { mask: all, contact: [], show: all });
    const areas = areasByTreatment(part.faces, part.triangleAreas, flags);
    expect(areas.coated).toBe(0);
    expect(areas.shown).toBe(0);
    expect(areas.masked).toBe(areas.total);
  });

  it('calls a face mixed when only some of its triangles are masked', () => {
    const cube = analysePart(box(1, 1, 1), [], { splitAngleRad: 0.5 });
    const flags = coverageFlags(12, { mask: [0, 1], contact: [], show: [0, 2, 3, 4] });
    expect(flags[0]).toBe(COVERAGE_BITS.mask | COVERAGE_BITS.show);
    const treatments = faceTreatments(cube.faces, flags);
    expect(treatments.map(({ treatment }) => treatment)).toEqual([
      'mixed',
      'coat',
      'coat',
      'coat',
      'coat',
      'coat',
    ]);
    expect(treatments.map(({ show }) => show)).toEqual([true, false, false, false, false, false]);
    const areas = areasByTreatment(cube.faces, cube.triangleAreas, flags);
    expect([areas.byFace.coated[0], areas.byFace.masked[0]]).toEqual([0.5, 0.5]);
  });

  it('refuses flags of another part and rows that are not there', () => {
    expect(() => areasByTreatment(part.faces, part.triangleAreas, new Uint8Array(3))).toThrow(RangeError);
    expect(() => faceTreatments(part.faces, new Uint8Array(3))).toThrow(RangeError);
    expect(() => runsOfFaces(part.faces, [part.faces.count])).toThrow(RangeError);
    expect(() => runsOfFaces(part.faces, [-1])).toThrow(RangeError);
  });
});
