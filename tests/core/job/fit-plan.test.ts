import { describe, expect, it } from 'vitest';
import { coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { faceRow } from '../../../core/faces/face-table.ts';
import { runsOfFaces } from '../../../core/faces/runs-of-faces.ts';
import { typedBuildUp } from '../../../core/finish/build-up.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { fitGround } from '../../../core/job/fit-ground.ts';
import { guardedSizes, planFits } from '../../../core/job/fit-plan.ts';
import { wetMessages } from '../../../core/job/wet-messages.ts';
import type { FitNeed, PartFit } from '../../../core/job/job-fits.ts';
import type { Part } from '../../../core/job/job.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import { tube } from '../../fixtures/shapes.ts';

/** A ring 40 across with a bore of 25 and 30 long. */
const geometry = analysePart(tube(20, 12.5, 30, 96), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const ring = newPart('p', 'ring.stl', 84, 'mm', true);
const ground = fitGround(ring, geometry);
const bore = ground.rounds.find(({ shape }) => shape === 'hole')!;
const boreRow = Number(bore.faceIds[0]!.slice(1)) - 1;
const boreRuns = runsOfFaces(geometry.faces, [boreRow]);

const fit = (need: FitNeed, faces: number[] = boreRuns, change: Partial<PartFit> = {}): PartFit => ({
  id: 'f',
  label: 'seat',
  need,
  faces,
  count: 1,
  machinedTo: null,
  ...change,
});
const plan = (part: Partial<Part>, buildUpM = 8e-6) => {
  const whole = { ...ring, ...part };
  const flags = coverageFlags(geometry.triangleCount, whole.coverage);
  return planFits(whole, ground, flags, typedBuildUp(buildUpM));
};
/** ISO 286-2: 25H7 is +21, 0 µm; twice 8 µm off each limit. */
const MACHINED = { lowM: 25.016e-3, highM: 25.037e-3 };
const masked = { coverage: { mask: boreRuns, contact: [], show: [] } };

describe('fits of a part', () => {
  it('a 25H7 bore under 8 µm loses 16 of its 21 µm: machine it, or mask it', () => {
    const [item] = plan({ fits: [fit({ as: 'code', text: '25H7' })] }).items;
    expect(item!.verdict).toBe('machine first');
    expect(item!.rows).toEqual([boreRow]);
    expect(item).toMatchObject({ shape: 'hole', reach: 'through', widthM: 0.025 });
    // ISO 286-2: 25H7 is +21, 0 µm.
    expect(item!.window!.after.lowM).toBeCloseTo(0.025 - 16e-6, 9);
    expect(item!.window!.after.highM).toBeCloseTo(0.025 + 5e-6, 9);
    expect(item!.window!.machineTo!.lowM).toBeCloseTo(0.025 + 16e-6, 9);
  });

  it('limits typed for a bore are a hole’s, and say the model’s size in the reader’s unit where it is another', () => {
    const part = { ...ring, fits: [fit({ as: 'code', text: '.9850/.9840' })] };
    const flags = coverageFlags(geometry.triangleCount, part.coverage);
    const of = (text: string, system: 'us' | 'metric') =>
      planFits({ ...part, fits: [fit({ as: 'code', text })] }, ground, flags, typedBuildUp(8e-6), system)
        .items[0]!;
    const same = of('.9850/.9840', 'us');
    expect(same).toMatchObject({ shape: 'hole', verdict: 'machine first' });
    expect(same.window!.before.highM).toBeCloseTo(0.985 * 0.0254, 12);
    expect(same.text).not.toMatch(/across|Taken as/);
    expect(of('.2575/.2565', 'us').text).toContain('bore is 0.9843 in across');
    expect(of('.2575/.2565', 'metric').text).toContain('bore is 25.00 mm across');
  });

  it('masked it keeps its size and asks for a plug through it, one for each piece', () => {
    const made = plan({ fits: [fit({ as: 'code', text: '25H7' })], quantity: 3, ...masked });
    expect(made.items[0]!.verdict).toBe('keeps');
    // From a tenth below to a fifth above the hole, to half millimetres (common practice, mask-list.ts).
    expect(made.masks).toMatchObject([{ item: 'pull-through plug', count: 3, lowM: 0.0225, highM: 0.03 }]);
  });

  it('is quiet once the user machines it, and loose fits are coated as they are', () => {
    const [said] = plan({
      fits: [fit({ as: 'code', text: '25H7' }, boreRuns, { machinedTo: MACHINED })],
    }).items;
    expect(said!.verdict).toBe('machined');
    // 25H11: 130 µm; a tenth of it is 13, more than twice 6.
    const [loose] = plan({ fits: [fit({ as: 'code', text: '25H11' })] }, 6e-6).items;
    expect(loose!.verdict).toBe('coat as it is');
  });

  it('keeps bare faces, lists what was masked without a fit, and says what it can not read', () => {
    expect(plan({ fits: [fit({ as: 'bare' })] }).items[0]!.verdict).toBe('bare');
    expect(plan(masked).masks).toMatchObject([{ item: 'pull-through plug', features: [bore.faceIds[0]] }]);
    const [unread] = plan({ fits: [fit({ as: 'code', text: '25Q7' })] }).items;
    expect(unread!.verdict).toBe('unread');
    expect(unread!.text).toMatch(/Type|Use/);
  });

  it('one fit over two equal bores wants two plugs a piece', () => {
    const other = tube(20, 12.5, 30, 96);
    for (let i = 0; i < other.length; i += 3) other[i]! += 60;
    const two = analysePart(Float32Array.from([...tube(20, 12.5, 30, 96), ...other]), [], {
      splitAngleRad: 0.6,
    });
    const ground = fitGround(ring, two);
    const holes = ground.rounds.filter(({ shape }) => shape === 'hole');
    expect(holes).toHaveLength(2);
    const runs = runsOfFaces(
      two.faces,
      holes.flatMap(({ faceIds }) => faceIds.map((id) => faceRow(id)!)),
    );
    const both = {
      ...ring,
      quantity: 3,
      fits: [fit({ as: 'code', text: '25H7' }, runs)],
      coverage: { mask: runs, contact: [], show: [] },
    };
    const plan = planFits(both, ground, coverageFlags(two.triangleCount, both.coverage), typedBuildUp(8e-6));
    expect(plan.items[0]!.verdict).toBe('keeps');
    expect(plan.masks).toMatchObject([{ item: 'pull-through plug', count: 6 }]);
  });

  it('a shaft’s letter on a bore is not worked out as if it were one', () => {
    for (const text of ['25g6', 'M6-6g']) {
      const [item] = plan({ fits: [fit({ as: 'code', text })] }).items;
      expect(item!.verdict).toBe('unread');
      expect(item!.text).toContain('this face is a hole');
    }
  });

  it('says when the model shows another size than the fit', () => {
    const text = (code: string) => plan({ fits: [fit({ as: 'code', text: code })] }).items[0]!.text;
    expect(text('25H7')).not.toContain('But');
    expect(text('22H7')).toContain('But the model’s bore is 25.00 mm across');
    expect(text('M6')).toContain('none of this thread’s diameters');
  });

  it('moves a typed length by one build-up for each coated face', () => {
    const size = (coatedFaces: 0 | 1 | 2): FitNeed => ({
      as: 'size',
      measured: 'outside length',
      lowM: 0.03,
      highM: 0.03001,
      coatedFaces,
      coatedUpper: true,
    });
    for (const faces of [0, 1, 2] as const) {
      const [item] = plan({ fits: [fit(size(faces), [])] }).items;
      expect(item!.window!.changeM).toBeCloseTo(faces * 8e-6, 12);
    }
  });

  it('hands what must survive a redo on: middle of the limits, or what it was machined to; nothing masked', () => {
    const needs = [fit({ as: 'code', text: '25H7' })];
    expect(guardedSizes(plan({ fits: needs }).items)).toMatchObject([{ factor: -2, label: 'seat' }]);
    const machined = guardedSizes(plan({ fits: [{ ...needs[0]!, machinedTo: MACHINED }] }).items);
    expect(machined[0]!.machinedM).toBeCloseTo(0.025 + 10.5e-6 + 16e-6, 9);
    expect(guardedSizes(plan({ fits: needs, ...masked }).items)).toEqual([]);
  });

  it('prints what was machined on the sheet, for a micrometer in inches in inches too', () => {
    const fits = [fit({ as: 'code', text: '25H7' }, boreRuns, { machinedTo: MACHINED })];
    const job = addPart(emptyJob('ring'), { ...ring, fits });
    const run = planRun([{ name: 'ring', areaM2: 0.01, quantity: 1 }], job.process);
    if (!run.ok) throw new Error(run.error.message);
    const wet = { heat: null, fits: { [ring.id]: plan({ fits }) } };
    const machine = (system: 'metric' | 'us') => makeRunSheet(job, run.value, wet, system).masks[0]!.machine;
    // ISO 286-2: 25H7 is +21, 0 µm; twice 8 µm off each limit: 25.016 to 25.037 mm; 25.4 mm are one inch.
    expect(machine('metric')).toEqual(['seat: machined to 25.0160-25.0370 mm before coating']);
    expect(machine('us')).toEqual([
      'seat: machined to 0.98488-0.98571 in (25.0160-25.0370 mm) before coating',
    ]);
  });

  it('asks what has to go on a thread that is only marked for its area, until it has a fit or is masked', () => {
    const surface = { ...ring.surface, threads: [{ triangle: boreRuns[0]!, designation: 'M27x2' }] };
    const asked = (change: Partial<Part>): string[] => {
      const fits = { [ring.id]: plan({ surface, ...change }) };
      return wetMessages(addPart(emptyJob('job'), { ...ring, surface, ...change }), { heat: null, fits })
        .filter(({ code }) => code === 'thread-without-fit')
        .map(({ message }) => message);
    };
    expect(asked({})).toEqual([
      expect.stringMatching(new RegExp(`^${bore.faceIds[0]} of .* carries the thread M27x2 and is coated`)),
    ]);
    expect(asked({ fits: [fit({ as: 'code', text: 'M27x2-6H' })] })).toEqual([]);
    expect(asked(masked)).toEqual([]);
  });

  it('stays on its faces when repairs or fusing leave the mesh in another order', () => {
    const turned = new Float32Array(geometry.triangleCount * 9);
    const sourceTriangle = new Uint32Array(geometry.triangleCount);
    for (let t = 0; t < geometry.triangleCount; t++) {
      const from = geometry.triangleCount - 1 - t;
      turned.set(geometry.positions.subarray(9 * from, 9 * from + 9), 9 * t);
      sourceTriangle[t] = from;
    }
    const again = analysePart(turned, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD, sourceTriangle });
    const onAgain = fitGround(ring, again);
    const needs = { ...ring, fits: [fit({ as: 'code', text: '25H7' })] };
    const flags = new Uint8Array(again.triangleCount);
    const [item] = planFits(needs, onAgain, flags, typedBuildUp(8e-6)).items;
    expect(item).toMatchObject({ verdict: 'machine first', shape: 'hole', widthM: 0.025 });
    // And what is saved there is the same of the file.
    const hole = onAgain.rounds.find(({ shape }) => shape === 'hole')!;
    const row = Number(hole.faceIds[0]!.slice(1)) - 1;
    expect(sourceRunsOfFaces(again, [row])).toEqual(boreRuns);
  });
});
