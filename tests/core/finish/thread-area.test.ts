/** Thread areas against numerical integration of the helicoid, against a drawn thread, and against the line of the profile. */
import { describe, expect, it } from 'vitest';
import { parseThread } from '../../../core/finish/parse-thread.ts';
import { threadArea, threadFits, type ThreadedCylinder } from '../../../core/finish/thread-area.ts';
import { basicForm, triangleHeightM, turnAreaM2 } from '../../../core/finish/thread-profile.ts';
import { threadedFace } from '../../../core/finish/threaded-face.ts';
import { facetCorrection } from '../../../core/faces/facet-correction.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { surfaceArea } from '../../../core/mesh/surface-area.ts';
import type { Result } from '../../../core/result.ts';
import { Soup, tube, type Point } from '../../fixtures/shapes.ts';

const MM = 1e-3;
const valueOf = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

/** Radius of the basic profile over one pitch: crest, flank, root, flank. Straight from the drawing of ISO 68-1. */
function profile(d: number, p: number): (z: number) => number {
  const h = (p * Math.sqrt(3)) / 2;
  const [major, minor] = [d / 2, d / 2 - (5 / 8) * h];
  return (z) => {
    const s = ((z % p) + p) % p;
    if (s < p / 16 || s > (15 * p) / 16) return major;
    if (s > (6 * p) / 16 && s < (10 * p) / 16) return minor;
    const from = s < p / 2 ? s - p / 16 : (15 * p) / 16 - s;
    return major - (from / ((5 * p) / 16)) * (major - minor);
  };
}

/** ∫∫ |x_φ × x_z| over one pitch of x(φ, z) = (r(z) cos φ, r(z) sin φ, z + P φ / 2π), by the midpoint rule. */
function helicoidArea(d: number, p: number, steps: number): number {
  const r = profile(d, p);
  const lead = p / (2 * Math.PI);
  const dz = p / steps;
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const z = (i + 0.5) * dz;
    const slope = (r(z + dz / 2) - r(z - dz / 2)) / dz;
    const xPhi = [0, r(z), lead];
    const xZ = [slope, 0, 1];
    const cross = [xPhi[1] * xZ[2] - xPhi[2] * xZ[1], xPhi[2] * xZ[0] - xPhi[0] * xZ[2], -xPhi[1] * xZ[0]];
    sum += Math.hypot(cross[0]!, cross[1]!, cross[2]!) * dz * 2 * Math.PI;
  }
  return sum;
}

describe('one turn', () => {
  it.each([
    [6, 1],
    [3, 0.5],
    [24, 3],
    [6.35, 1.27],
    [2, 0.4],
  ])('of %d × %d is the helicoid’s area, integrated', (d, p) => {
    // Steps fall on the profile's corners (multiples of P/16), so the midpoint rule errs by its square only.
    const closed = turnAreaM2(basicForm(d * MM, p * MM)) * 1e6;
    const coarse = Math.abs(helicoidArea(d, p, 160) / closed - 1);
    const fine = Math.abs(helicoidArea(d, p, 1600) / closed - 1);
    expect(fine).toBeLessThan(1e-7);
    expect(fine).toBeLessThanOrEqual(coarse + 1e-12);
  });

  it('drawn with triangles has that area', () => {
    const [d, p, sides, steps] = [6, 1, 720, 64];
    const r = profile(d, p);
    const soup = new Soup();
    const at = (i: number, j: number): Point => {
      const phi = (2 * Math.PI * i) / sides;
      return [
        r((j * p) / steps) * Math.cos(phi),
        r((j * p) / steps) * Math.sin(phi),
        (j * p) / steps + (p * i) / sides,
      ];
    };
    for (let i = 0; i < sides; i++) {
      for (let j = 0; j < steps; j++) soup.polygon(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
    }
    // 720 facets round take 3e-6 off.
    expect(surfaceArea(soup.positions) / (turnAreaM2(basicForm(d * MM, p * MM)) * 1e6)).toBeCloseTo(1, 4);
  });

  it('with the helix left out is 1.625 of the cylinder at the pitch diameter, as the profile’s line is of the pitch', () => {
    // Line of the basic profile over P: 1/8 + 1/4 + two flanks of 5/8 = 1.625. A vanishing pitch has no helix and no curvature.
    const form = basicForm(10 * MM, 0.001 * MM);
    expect(turnAreaM2(form) / (Math.PI * form.pitchDiameterM * form.pitchM)).toBeCloseTo(1.625, 4);
    // At a real pitch: π P (1.625 D₂ + H/8), and the helix adds under half a percent on common threads.
    for (const [d, p] of [
      [6, 1],
      [24, 3],
      [3, 0.5],
    ] as const) {
      // prettier-ignore
      const m = basicForm(d * MM, p * MM);
      const ring = Math.PI * m.pitchM * (1.625 * m.pitchDiameterM + triangleHeightM(m.pitchM) / 8);
      const ratio = turnAreaM2(m) / ring;
      expect(ratio).toBeGreaterThan(1);
      expect(ratio).toBeLessThan(1.005);
    }
  });

  it('cut to a sharp V is 2.0 of it', () => {
    // Sharp 60° V: two flanks as long as the pitch.
    const p = 0.001 * MM;
    const h = triangleHeightM(p);
    const sharp = { pitchM: p, majorM: 10 * MM + h, pitchDiameterM: 10 * MM, minorM: 10 * MM - h };
    expect(turnAreaM2(sharp) / (Math.PI * 10 * MM * p)).toBeCloseTo(2, 4);
  });

  it('needs a core, and limits in order', () => {
    expect(() => basicForm(1 * MM, 1 * MM)).toThrow(RangeError);
    expect(() =>
      turnAreaM2({ pitchM: MM, majorM: 5 * MM, pitchDiameterM: 5.3 * MM, minorM: 4.9 * MM }),
    ).toThrow(RangeError);
  });
});

describe('a threaded face', () => {
  const hole = (diameterMm: number, lengthMm = 12): ThreadedCylinder => ({
    diameterM: diameterMm * MM,
    lengthM: lengthMm * MM,
    areaM2: Math.PI * diameterMm * lengthMm * 1e-6,
    kind: 'internal',
  });
  const m6 = { limits: valueOf(parseThread('M6', 'internal')) };

  it('has the same area whatever diameter the model draws', () => {
    // M6: minor 4.917 (ISO 724), drill 5.0, pitch 5.350, major 6.
    const areas = [4.917, 5, 5.35, 6].map((d) => valueOf(threadArea(hole(d), m6)));
    expect(areas.map(({ drawn }) => drawn.drawnAt)).toEqual(['minor', 'tap drill', 'pitch', 'major']);
    const turns = 12;
    for (const { area } of areas) {
      expect((area.valueSi * 1e6) / (turns * helicoidArea(6, 1, 1600))).toBeCloseTo(1, 6);
    }
    // On the pitch cylinder: 1.625, curvature and helix on top.
    expect(areas[2]!.factor).toBeCloseTo(1.65, 2);
  });

  it('has a range that holds it, from lost turns and cut crests to sharp roots', () => {
    const long = valueOf(threadArea(hole(5, 40), m6));
    const short = valueOf(threadArea(hole(5, 3), m6));
    for (const { area, factor, factorLow, factorHigh } of [long, short]) {
      expect(area.lowSi!).toBeLessThan(area.valueSi);
      expect(area.highSi!).toBeGreaterThan(area.valueSi);
      expect(factorLow).toBeLessThan(factor);
      expect(factorHigh).toBeGreaterThan(factor);
      expect(factorLow).toBeGreaterThanOrEqual(1);
    }
    // A thread shorter than what is lost at the ends may be no more than the plain hole.
    expect(short.factorLow).toBe(1);
    // 6H lets the crest go from 4.917 to 5.153: the least thread is 71 % deep, its flanks with it.
    const least = turnAreaM2({ ...basicForm(6 * MM, MM), minorM: 5.153 * MM }) / (Math.PI * 5 * MM * MM);
    expect(long.factorLow).toBeCloseTo((least * 36 + 4) / 40, 6);
  });

  it('says when the model’s cylinder is none of the thread’s', () => {
    const wrong = threadArea(hole(8), m6);
    expect(wrong.ok ? '' : wrong.error.code).toBe('thread-no-fit');
    const shaft = threadArea({ ...hole(6), kind: 'external' }, m6);
    expect(shaft.ok ? '' : shaft.error.code).toBe('thread-kind');
    const fat = threadArea(hole(5), { nominalM: 6 * MM, pitchM: 5 * MM });
    expect(fat.ok ? '' : fat.error.code).toBe('thread-impossible');
    expect(threadFits(5.02 * MM, 6 * MM, MM)[0]).toMatchObject({ drawnAt: 'tap drill', fits: true });
  });

  it('takes a bolt, an inch thread, and one by its own numbers', () => {
    const bolt = { ...hole(6), kind: 'external' } as const;
    expect(
      valueOf(threadArea(bolt, { limits: valueOf(parseThread('M6x1-6g', 'external')) })).drawn.drawnAt,
    ).toBe('major');
    // 1/4-20: tap drill #7 is 5.105 mm (0.201 in).
    const inch = valueOf(threadArea(hole(5.105), { limits: valueOf(parseThread('1/4-20 UNC', 'internal')) }));
    expect((inch.area.valueSi * 1e6) / ((12 / 1.27) * helicoidArea(6.35, 1.27, 1600))).toBeCloseTo(1, 6);
    const own = valueOf(threadArea(hole(30), { nominalM: 31.5 * MM, pitchM: 1.5 * MM }));
    expect(own.area.label).toContain('31.5');
  });

  it('is measured on a model: a bore drawn with 32 facets, its area without them', () => {
    const part = analysePart(tube(10, 2.5, 12, 32), [], { splitAngleRad: (35 * Math.PI) / 180 });
    const bore = part.faces.inward.indexOf(1);
    const { correctedAreaOfFace } = facetCorrection(part);
    const cylinder = valueOf(threadedFace(part, bore, MM, correctedAreaOfFace));
    expect(cylinder.kind).toBe('internal');
    expect(cylinder.lengthM).toBeCloseTo(12 * MM, 9);
    expect(cylinder.diameterM).toBeCloseTo(5 * MM, 8);
    const { area } = valueOf(threadArea(cylinder, m6));
    expect((area.valueSi * 1e6) / (12 * helicoidArea(6, 1, 1600))).toBeCloseTo(1, 4);
    const flat = threadedFace(part, part.faces.kind.indexOf(0), MM);
    expect(flat.ok ? '' : flat.error.code).toBe('thread-not-a-cylinder');
    expect(() => threadedFace(part, 99, MM)).toThrow(RangeError);
  });
});

describe('reading a thread', () => {
  it.each([
    ['M6', 'M6x1-6H'],
    ['m6x1', 'M6x1-6H'],
    ['M8 x 1', 'M8x1-6H'],
    ['M8×1-6H', 'M8x1-6H'],
    ['1/4-20 UNC', '1/4-20 UNC-2B'],
    ['1/4-20', '1/4-20 UNC-2B'],
    ['1/4 UNF', '1/4-28 UNF-2B'],
    ['#10-32', '10-32 UNF-2B'],
    ['#10-32 UNF-2B', '10-32 UNF-2B'],
  ])('%s inside is %s', (text, designation) => {
    expect(valueOf(parseThread(text, 'internal')).designation).toBe(designation);
  });

  it('a class of the other side is kept, so that it is seen not to fit', () => {
    const bolt = valueOf(parseThread('1/4-20-2A', 'internal'));
    expect(bolt.kind).toBe('external');
    const drilled = { diameterM: 5.105 * MM, lengthM: 12 * MM, areaM2: 1.9e-4, kind: 'internal' } as const;
    expect(threadArea(drilled, { limits: bolt })).toMatchObject({
      ok: false,
      error: { code: 'thread-kind' },
    });
    // A closer class of the same side has the same surface.
    expect(valueOf(parseThread('1/4-20-3B', 'internal')).designation).toBe('1/4-20 UNC-2B');
    expect(valueOf(parseThread('M6-5H', 'internal')).designation).toBe('M6x1-6H');
  });

  it('outside takes the other class, and nonsense is refused', () => {
    expect(valueOf(parseThread('M6', 'external')).designation).toBe('M6x1-6g');
    expect(valueOf(parseThread('1/4-20', 'external')).designation).toBe('1/4-20 UNC-2A');
    for (const text of ['', 'M', '6', '1/4', '1/4-20 UNF', 'M6x0.33', '7/9-20', 'G1/4']) {
      expect(parseThread(text, 'internal').ok).toBe(false);
    }
  });
});
