import { beforeAll, describe, expect, it } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, putContact } from '../../../core/job/edit-job.ts';
import { chooseTank, setAttitude, setHangers } from '../../../core/job/edit-hanging.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { hangingMessages } from '../../../core/job/hanging-messages.ts';
import { planHanging, type HangingGround, type PartHangingPlan } from '../../../core/job/hanging-plan.ts';
import { FIRST_HANGER, type ContactHanger } from '../../../core/job/job-hanging.ts';
import type { Job } from '../../../core/job/job.ts';
import { hangerText, hangingLines, tankLine } from '../../../core/job/hanging-sheet.ts';
import { solidMoments } from '../../../core/racking/balance.ts';
import { findTraps } from '../../../core/racking/find-traps.ts';
import type { Vec3 } from '../../../core/racking/vec3.ts';
import { meshOf, startManifold, trapMeshOf } from '../racking/solids.ts';

/** 40 mm cube with a blind bore of 20 × 30 mm from below. */
let mesh: ReturnType<typeof meshOf>;
beforeAll(async () => {
  const { Manifold } = await startManifold();
  mesh = meshOf(
    Manifold.cube([40, 40, 40], true)
      .translate([0, 0, 20])
      .subtract(Manifold.cylinder(30, 10, 10, 256)),
  );
});

const METAL_MM3 = 40 ** 3 - Math.PI * 100 * 30;
const COATED_M2 = (6 * 1600 + 2 * Math.PI * 10 * 30) * 1e-6;

function jobWith(pins: readonly Vec3[], hanger: Partial<ContactHanger> = {}): Job {
  let job = addPart(emptyJob('job'), newPart('p', 'cup.stl', 1, 'mm', true));
  pins.forEach((at, i) => {
    const contact = {
      id: `c${i}`,
      at: [...at] as [number, number, number],
      triangle: 0,
      patchDiameterM: 0.003,
    };
    job = putContact(job, 'p', { ...contact, hanger: FIRST_HANGER });
  });
  return setHangers(job, 'p', hanger);
}

function planOf(job: Job, more: Partial<HangingGround> = {}) {
  const part = job.parts[0]!;
  const moments = solidMoments(mesh);
  if (!moments.ok) throw new Error(moments.error.message);
  const ground: HangingGround = {
    open: null,
    moments: moments.value,
    centre: moments.value.centre,
    size: 40 * Math.sqrt(3),
    traps: findTraps(trapMeshOf(mesh), part.attitude.up),
    ...more,
  };
  const plan = planHanging(job, part, ground, COATED_M2, 'metric');
  return { plan, codes: hangingMessages(part, plan, 'metric').map(({ code }) => code) };
}

const PAIR: readonly Vec3[] = [
  [-18, 0, 40],
  [18, 0, 40],
];

describe('how a part hangs', () => {
  it('each hanger carries its lever’s share of the weight; without a volume none is guessed', () => {
    // Pins 9 mm left and 18 mm right of the middle, which the symmetric cup's centre lies under: 18 : 9 on them.
    const uneven: readonly Vec3[] = [
      [-9, 0, 40],
      [18, 0, 40],
    ];
    const { plan } = planOf(jobWith(uneven));
    const [near, far] = plan.contacts.map(({ weightN }) => weightN!);
    expect(near! / far!).toBeCloseTo(2, 6);
    expect(near! + far!).toBeCloseTo(plan.massKg!.valueSi * 9.80665, 9);
    const open = jobWith(uneven);
    const ground: HangingGround = {
      open: { code: 'open', message: 'It is open.', remedy: 'Close it.' },
      moments: null,
      centre: [0, 0, 20],
      size: 69,
      traps: null,
    };
    const blind = planHanging(open, open.parts[0]!, ground, COATED_M2, 'metric');
    expect(blind.contacts.map(({ weightN }) => weightN)).toEqual([null, null]);
    // A wire no thicker than a hair would bend under any weight: not known, so not judged.
    const thin = setHangers(open, 'p', { diameterM: 3e-4 });
    const { check } = planHanging(thin, thin.parts[0]!, ground, COATED_M2, 'metric').contacts[0]!;
    expect(check.bending).toBeNull();
    expect(check.findings.map(({ code }) => code)).not.toContain('too-weak');
  });

  it('mass is density times the closed form; without an alloy it says what was taken', () => {
    const { plan } = planOf(jobWith(PAIR));
    // 256 flats on the bore: 1e-4 of its volume.
    expect(plan.massKg!.valueSi / (2700 * METAL_MM3 * 1e-9)).toBeCloseTo(1, 4);
    expect(plan.massKg!.source.text).toMatch(/until an alloy is named/);
    const named = jobWith(PAIR);
    const alloyed = { ...named, parts: named.parts.map((part) => ({ ...part, alloy: '7075' })) };
    expect(planOf(alloyed).plan.massKg!.valueSi / (2810 * METAL_MM3 * 1e-9)).toBeCloseTo(1, 4);
  });

  it('gas in the bore is its volume over the coated surface, and is said; turned over it is liquid', () => {
    const { plan, codes } = planOf(jobWith(PAIR));
    expect(plan.traps!.gasVolumeM3.valueSi / (Math.PI * 100 * 30 * 1e-9)).toBeCloseTo(1, 3);
    // Wall and bottom of the bore.
    expect(plan.gasShare / (((2 * Math.PI * 10 * 30 + Math.PI * 100) * 1e-6) / COATED_M2)).toBeCloseTo(1, 3);
    expect(codes).toContain('gas-stays');
    expect(codes).not.toContain('liquid-carried');
    const over = planOf(setAttitude(jobWith([]), 'p', { up: [0, 0, -1], turnRad: 0 }));
    expect(over.codes).toEqual(['liquid-carried']);
    expect(over.plan.liquidShare / ((Math.PI * 100 * 30) / METAL_MM3)).toBeCloseTo(1, 3);
    const aside = planOf(setAttitude(jobWith([]), 'p', { up: [1, 0, 0], turnRad: 0 }));
    // On its side the upper half of the bore holds nothing back: it is open at one end.
    expect(aside.codes).not.toContain('gas-stays');
  });

  it('gas lifts by Archimedes: more than a tenth of the weight is said', () => {
    const { plan, codes } = planOf(jobWith(PAIR));
    const bath = 1000 + 0.62 * 180; // handbook, 180 g/L at 20 °C: about 1110 kg/m³
    const share = (bath * Math.PI * 100 * 30) / ((2700 - bath) * METAL_MM3);
    expect(plan.lift!.shareOfWeight.valueSi / share).toBeCloseTo(1, 2);
    expect(codes.includes('gas-lift')).toBe(share > 0.1);
  });

  it('what is shut in hollows lifts as well; what floats off its hangers is a stop', () => {
    const over = setAttitude(jobWith([]), 'p', { up: [0, 0, -1], turnRad: 0 });
    expect(planOf(over).codes).not.toContain('gas-lift');
    const light = planOf(over, { sealedVolumeM3: 2 * METAL_MM3 * 1e-9 });
    expect(light.plan.lift).toMatchObject({ floats: true, by: 'hollows' });
    const said = hangingMessages(over.parts[0]!, light.plan, 'metric').find(
      ({ code }) => code === 'gas-lift',
    )!;
    expect(said.level).toBe('stop');
    expect(said.message).toBe(
      'What is shut in the hollows of “cup” lifts more than it weighs in the bath: it floats off its hangers.',
    );
  });

  it('current and weight are shared by the pins', () => {
    const one = planOf(jobWith([PAIR[0]!])).plan;
    const two = planOf(jobWith(PAIR)).plan;
    const wholeA = COATED_M2 * emptyJob('').process.currentDensityAPerM2;
    expect(one.contacts[0]!.currentA).toBeCloseTo(wholeA, 12);
    expect(two.contacts.map(({ currentA }) => currentA)).toEqual([wholeA / 2, wholeA / 2]);
    // Aluminium in the bath is coated too: π d (l + d/4) of each wire.
    const own = Math.PI * 0.003 * (0.15 + 0.003 / 4) * emptyJob('').process.currentDensityAPerM2;
    const aluminium = planOf(jobWith(PAIR, { material: 'Al 6061', diameterM: 0.003 })).plan;
    expect(aluminium.contacts[0]!.currentA).toBeCloseTo(wholeA / 2 + own, 10);
    expect(
      two.contacts[0]!.check.bending!.sagM.valueSi / one.contacts[0]!.check.bending!.sagM.valueSi,
    ).toBeCloseTo(0.5, 10);
  });

  it('hung by a corner it tilts by the corner’s own angle', () => {
    const { plan, codes } = planOf(jobWith([[20, 0, 40]]));
    if (!plan.rest?.ok) throw new Error('no rest');
    const z = (40 ** 3 * 20 - Math.PI * 100 * 30 * 15) / METAL_MM3;
    expect(plan.rest.value.tiltRad).toBeCloseTo(Math.atan2(20, 40 - z), 4);
    expect(codes).toContain('tilts');
    expect(planOf(jobWith(PAIR)).codes).not.toContain('tilts');
  });

  it('thin wire stops, old aluminium is warned of, old titanium is not', () => {
    const thin = planOf(jobWith(PAIR, { diameterM: 3e-4 }));
    expect(thin.codes).toContain('too-hot');
    expect(thin.plan.contacts[0]!.check.fixes.length).toBeGreaterThan(0);
    expect(planOf(jobWith(PAIR)).codes).not.toContain('too-hot');
    const used = { usedBefore: true, diameterM: 0.003 };
    expect(planOf(jobWith(PAIR, { ...used, material: 'Al 6061' })).codes).toContain('old-contact');
    expect(planOf(jobWith(PAIR, used)).codes).not.toContain('old-contact');
  });

  it('an open mesh has neither weight nor traps, and says neither', () => {
    const job = jobWith(PAIR);
    const open = { code: 'open-mesh', message: 'open', remedy: 'close it' };
    const ground: HangingGround = { open, moments: null, centre: [0, 0, 20], size: 70, traps: null };
    const plan = planHanging(job, job.parts[0]!, ground, COATED_M2, 'metric');
    expect([plan.massKg, plan.traps, plan.lift, plan.rest]).toEqual([null, null, null, null]);
    expect(plan.contacts).toHaveLength(2);
  });
});

it('turning a part takes its copies out of the tank: they hung the old way', () => {
  const job = jobWith([]);
  const pose = { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, 0] as [number, number, number] };
  const hung = {
    ...job,
    placements: [
      { id: 'a', partId: 'p', pose },
      { id: 'b', partId: 'q', pose },
    ],
  };
  const turned = setAttitude(hung, 'p', { up: [1, 0, 0], turnRad: 0 });
  expect(turned.placements.map(({ id }) => id)).toEqual(['b']);
  expect(hung.placements).toHaveLength(2);
});

it('the paper says which way up, what to tip out, and the wire with its lengths', () => {
  const job = jobWith(PAIR);
  const { plan } = planOf(job);
  const lines = hangingLines(job.parts[0]!, plan, 'metric').join('; ');
  expect(lines).toMatch(/as in the picture, Z up; 147 g; rests so by itself; holds 9\.4 mL of gas/);
  // 147.4 g are 5.20 oz.
  expect(hangingLines(job.parts[0]!, plan, 'us').join('; ')).toContain('Z up; 5.20 oz;');
  expect(hangerText(FIRST_HANGER, 'metric')).toBe('1 × Ti grade 2, 2.00 mm; 150 mm dry, 150 mm in the bath');
});

it('the tank is named once on the paper', () => {
  const named = (name: string): string | null => {
    const made = firstTank('box');
    return tankLine(chooseTank(jobWith([]), { ...made, tank: { ...made.tank, name } }), null, [], 'metric');
  };
  expect(named('Usual tank around the part (assumed)')).toMatch(
    /^Usual tank around the part \(assumed\), liquid 370 mm deep/,
  );
  expect(named('Round tub')).toMatch(/^Round tub, liquid/);
  expect(named('Blue')).toMatch(/^Tank Blue, liquid/);
});

it('gas is said with where to look for it: how many pockets, how deep', () => {
  const job = jobWith(PAIR);
  const { plan } = planOf(job);
  const part = job.parts[0]!;
  const said = (figures: PartHangingPlan): string =>
    hangingMessages(part, figures, 'metric').find(({ code }) => code === 'gas-stays')!.message;
  expect(said(plan)).toMatch(/9\.4 mL of gas as it hangs, in one pocket 30 mm deep/);
  const [pocket] = plan.traps!.gas;
  const twice = { ...plan, traps: { ...plan.traps!, gas: [pocket!, pocket!] } };
  expect(said(twice)).toMatch(/in 2 pockets, the largest of 9\.4 mL and 30 mm deep/);
});

it('surface behind plugs is said with its faces and its share, and not where it is a trifle', () => {
  const job = jobWith(PAIR);
  const part = job.parts[0]!;
  const moments = solidMoments(mesh);
  if (!moments.ok) throw new Error(moments.error.message);
  const behind = (areaM2: number): string | undefined => {
    const closedOff = { areaM2, faces: 'f2 and f7', triangles: [] };
    const { centre } = moments.value;
    const ground = { open: null, moments: moments.value, centre, size: 69, traps: null, closedOff };
    const plan = planHanging(job, part, ground, COATED_M2, 'metric');
    return hangingMessages(part, plan, 'metric').find(({ code }) => code === 'behind-plugs')?.message;
  };
  expect(behind(0.1 * COATED_M2)).toMatch(/from f2 and f7 of “cup”: 11.5 cm² count .*10 % of the coated/);
  expect(behind(1e-3 * COATED_M2)).toBeUndefined();
});
