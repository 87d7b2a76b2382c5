import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printFigure } from '../../../core/figure/print-figure.ts';
import { buildUp, buildUpFigures, typedBuildUp } from '../../../core/finish/build-up.ts';
import { coatedWindow, flankFactor, growthFactor } from '../../../core/finish/coated-window.ts';
import { fitAfterCoating } from '../../../core/finish/fit-after-coating.ts';
import { fitReport } from '../../../core/finish/fit-report.ts';
import { maskList, suggestMasks, type MaskFeature } from '../../../core/finish/mask-list.ts';
import { parseFit } from '../../../core/finish/parse-fit.ts';
import { sizeAfterCoating, type TypedSize } from '../../../core/finish/size-after-coating.ts';
import { GROWTH_RATIO } from '../../../core/reference/growth-ratio.ts';
import { valueOf } from '../value-of.ts';

const UM = 1e-6;
const mm = (metres: number) => Number((metres * 1000).toFixed(4));
const pair = (window: { lowM: number; highM: number } | null) =>
  window && [mm(window.lowM), mm(window.highM)];

describe('build-up', () => {
  it.each([
    ['ordinary', 10, 3.33, 6.67, 13.3],
    ['ordinary', 25.4, 8.47, 16.9, 33.9],
    ['hard', 25.4, 12.7, 25.4, 50.8],
    ['hard', 50.8, 25.4, 50.8, 101.6],
  ] as const)(
    '%s film of %d µm: %d a side, %d on a diameter, %d on a 60° pitch diameter',
    (type, film, b, diameter, pitch) => {
      const growth = buildUp(type, film * UM);
      // The worked table is printed to three digits.
      expect(growth.usualM / UM).toBeCloseTo(b, 1);
      expect((growthFactor('shaft') * growth.usualM) / UM).toBeCloseTo(diameter, 0);
      expect((flankFactor(Math.PI / 3) * growth.usualM) / UM).toBeCloseTo(pitch, 0);
      expect(growth.lowM).toBeLessThan(growth.usualM);
      expect(growth.highM).toBeGreaterThan(growth.usualM);
    },
  );

  it('a 55° flank moves by 4.331 b, a 60° one by 4 b', () => {
    expect(flankFactor((55 * Math.PI) / 180)).toBeCloseTo(4.331, 3);
    expect(flankFactor(Math.PI / 3)).toBeCloseTo(4, 12);
    expect(() => flankFactor(0)).toThrow(RangeError);
  });

  it('the ordinary range holds the charge balance of the 720 rule, 0.3677', () => {
    expect(GROWTH_RATIO.ordinary.low).toBeLessThan(0.3677);
    expect(GROWTH_RATIO.ordinary.high).toBeGreaterThan(0.3677);
  });

  it('what stands out and what goes in make the film', () => {
    const { out, into } = buildUpFigures(25 * UM, buildUp('ordinary', 25 * UM));
    expect(out.valueSi + into.valueSi).toBeCloseTo(25 * UM, 15);
    expect(out.lowSi! + into.highSi!).toBeCloseTo(25 * UM, 15);
    expect(buildUp('hard', 50 * UM, 0.48).usualM).toBeCloseTo(24 * UM, 15);
    expect(() => buildUp('hard', -1)).toThrow(RangeError);
    expect(() => buildUp('hard', 1, 2)).toThrow(RangeError);
    expect(() => typedBuildUp(-1)).toThrow(RangeError);
  });
});

describe('a fit after coating', () => {
  it('10H7 with 8.5 µm: 10.000-10.015 becomes 9.983-9.998, machine to 10.017-10.032', () => {
    const fit = valueOf(fitAfterCoating('10H7', typedBuildUp(8.5 * UM)));
    expect(pair(fit.window.before)).toEqual([10, 10.015]);
    expect(pair(fit.window.after)).toEqual([9.983, 9.998]);
    expect(pair(fit.window.machineTo)).toEqual([10.017, 10.032]);
    expect(fit.advice).toBe('machine first');
    expect(fit.text).toMatch(/No part/);
    // Four digits would hide the micrometres a fit is about.
    expect(printFigure(fit.machineTo!, 'metric').range).toBe('10.017 to 10.032 mm');
  });

  it('prints for the terminal in mm, threads by pitch diameter', () => {
    expect(valueOf(fitReport('10H7', typedBuildUp(8.5 * UM)))).toMatchObject({
      beforeMm: [10, 10.015],
      afterMm: [9.983, 9.998],
      machineToMm: [10.017, 10.032],
    });
    // 1/4-20 2B is 0.2175-0.2224 in; 10 µm of build-up takes 40 µm off the pitch diameter.
    const thread = valueOf(fitReport('1/4-20-2B', typedBuildUp(10 * UM)));
    expect(thread.beforeMm).toEqual([5.5245, 5.649]);
    expect(thread.afterMm).toEqual([5.4845, 5.609]);
    expect(valueOf(fitReport('3H5', buildUp('hard', 50 * UM))).machineToMm).toBeNull();
    expect(fitReport('nothing', typedBuildUp(0))).toMatchObject({
      ok: false,
      error: { code: 'fit-not-read' },
    });
  });

  it('prints where a size ends over the whole range of the build-up', () => {
    // 30 to 40 % of 25 µm (growth-ratio.ts) on both sides of ISO 286-2 20H7: 20.000 − 0.020 to 20.021 − 0.015.
    expect(valueOf(fitReport('20H7', buildUp('ordinary', 25 * UM))).afterMm).toEqual([19.98, 20.006]);
  });

  it('names the class of tap that leaves room for the film, where one is held', () => {
    const said = (text: string, film: number) =>
      valueOf(fitAfterCoating(text, buildUp('ordinary', film * UM))).text;
    // ISO 965-1: 6G of 1 mm pitch lies 26 µm over 6H, M6 6H is 5.350 to 5.500. Four times 0.4 of 15 µm are 24, four times 0.3 are 18.
    expect(said('M6x1-6H', 15)).toContain(
      'A tap for 6G (pitch diameter 5.3760-5.5260 mm) will do: after coating no thread is tighter than 6H, the loosest up to 8 µm over the high limit.',
    );
    // Of 25 µm, 40.
    expect(said('M6x1-6H', 25)).toMatch(
      /6G .* is not enough: it is 26 µm over 6H, and the film takes up to 40 µm/,
    );
    // M20x2.5: 42 µm.
    expect(said('M20-6H', 25)).toContain('6G (pitch diameter 18.4180-18.6420 mm) will do');
    for (const other of ['M6x1-6g', '1/4-20-2B', '20H7']) expect(said(other, 25)).not.toContain('6G');
  });

  const threadSaid = (text: string, film: number, type: 'ordinary' | 'hard' = 'ordinary') =>
    valueOf(fitAfterCoating(text, buildUp(type, film * UM), undefined, 'us'));

  it('lets a film use up the allowance of a bolt, to basic size and no further', () => {
    // ASME B1.1 section 7 as an open specification quotes it: a 2A thread takes a coating of up to a quarter of its allowance and is
    // then gauged with 3A’s GO. 1/4-20: 0.0011 in, so 7 µm of build-up, which 17.4 µm of film make at most.
    const quarter = (0.0011 * 25_400) / 4;
    expect(threadSaid('1/4-20-2A', quarter / 0.4).advice).toBe('coat as it is');
    const over = threadSaid('1/4-20-2A', quarter / 0.4 + 0.2);
    expect(over.advice).toBe('machine first');
    expect(over.window.machineTo!.highM / 25.4e-3).toBeLessThan(0.2164);
    expect(threadSaid('1/4-20-2A', 10).text).toBe(
      '2A leaves 0.0011 in (28 µm) for a coating, and the film takes 0.0005 to 0.0006 in (12 to 16 µm) of its pitch diameter. Coat it as it is. After coating the 3A GO ring still goes on every one.',
    );
    // What the film leaves of the allowance is not for the machine: it is cut to 2A at most, 0.2164 in.
    expect(threadSaid('1/4-20-2A', 10).window.machineTo!.highM / 25.4e-3).toBeCloseTo(0.2164, 9);
    expect(mm(valueOf(fitAfterCoating('M6x1-6G', buildUp('ordinary', 10 * UM))).window.machineTo!.lowM)).toBe(
      5.376,
    );
    // ASME B1.13M 8.2 and ISO 965-1, as an open article quotes them, say the same of 6g and 6h: M6 26 µm, 6.5 a side.
    expect(threadSaid('M6x1-6g', 6.5 / 0.4).advice).toBe('coat as it is');
    expect(threadSaid('M6x1-6g', 6.5 / 0.4 + 0.2).advice).toBe('machine first');
    // 3A has none.
    const tight = threadSaid('1/4-20-3A', 10);
    expect(tight.advice).toBe('machine first');
    expect(tight.text).toContain('2A leaves 0.0011 in (28 µm), enough for this film');
    expect(threadSaid('1/4-20-3A', 25).text).toContain('2A would not do either');
  });

  it('says of a tapped inch hole what its gauge will say and which tap leaves room', () => {
    // 25.4 µm: 30.5 to 40.6 µm of pitch diameter are 0.0012 to 0.0016 in; H5 begins 0.0020 in over basic, H4 0.0015.
    const { text, window } = threadSaid('1/4-20-2B', 25.4);
    expect(text).toMatch(/^Only those in 73 % of the tolerance of 1\/4-20 UNC-2B pass their GO gauge/);
    expect(text).toContain('Coated, it has to pass the 2B GO plug.');
    expect(text).toContain('Tap it oversize to the pitch diameter given, or plug it.');
    expect(text).toContain('A ground tap of pitch limit H5, 0.21950-0.22000 in (5.5753-5.5880 mm), will do');
    expect(window.within).toEqual(window.before);
    expect(threadSaid('4-40-2B', 60, 'hard').text).toContain('Ground taps are listed to H10');
    expect(threadSaid('1/4-20-2B', 3).text).toMatch(/try the 2B GO plug on those cut to the very low limit/);
  });

  it('says undersize where an etch or a strip opens a thread', () => {
    const eaten = { ...buildUp('ordinary', 0), usualM: -10 * UM, lowM: -12 * UM, highM: -8 * UM };
    expect(valueOf(fitAfterCoating('M6x1-6H', eaten)).text).toContain('Tap it undersize');
    expect(valueOf(fitAfterCoating('M6x1-6g', eaten)).text).toContain('Cut it oversize');
    // Film and etch leave 7 µm at most, which 2A's 28 µm on the pitch diameter hold, and take 3 at worst: 12 of 94 µm too loose.
    const either = { ...eaten, usualM: 2 * UM, lowM: -3 * UM, highM: 6.9 * UM };
    const { text } = valueOf(fitAfterCoating('1/4-20-2A', either));
    expect(text).toContain(
      'Only parts in 87 % of the tolerance of 1/4-20 UNC-2A stay inside it. Cut it oversize',
    );
    expect(text).not.toContain('GO');
  });

  it('a shaft grows: 25g6 with 12.7 µm a side', () => {
    const fit = valueOf(fitAfterCoating('25 g6', typedBuildUp(12.7 * UM)));
    expect(pair(fit.window.before)).toEqual([24.98, 24.993]);
    expect(pair(fit.window.after)).toEqual([25.0054, 25.0184]);
    expect(pair(fit.window.machineTo)).toEqual([24.9546, 24.9676]);
  });

  it('M6 6H cut at 5.350 with 25.4 µm: pitch diameter 5.316, window before coating 5.384-5.534', () => {
    const growth = typedBuildUp((25.4 / 3) * UM);
    const fit = valueOf(fitAfterCoating('M6x1-6H', growth));
    expect(mm(fit.window.after.lowM)).toBeCloseTo(5.316, 3);
    expect(fit.window.machineTo!.lowM * 1000).toBeCloseTo(5.384, 3);
    expect(fit.window.machineTo!.highM * 1000).toBeCloseTo(5.534, 3);
    // Crests move by 2 b only.
    expect(fit.minor!.changeM / UM).toBeCloseTo((-2 * 25.4) / 3, 6);
    expect(fit.major).toBeNull();
  });

  it('M6 6H with 50.8 µm of hard coat: 5.452-5.602, 48 µm of it inside an ordinary tap’s range', () => {
    const fit = valueOf(fitAfterCoating('M6-6H', typedBuildUp(25.4 * UM)));
    expect(fit.window.machineTo!.lowM * 1000).toBeCloseTo(5.452, 3);
    expect(fit.window.machineTo!.highM * 1000).toBeCloseTo(5.602, 3);
    expect((fit.window.before.highM - fit.window.machineTo!.lowM) / UM).toBeCloseTo(48, 0);
  });

  it('printed shop example: 1 mil of build-up a side takes 4 mil off an inner pitch diameter and adds 2 mil to a shaft', () => {
    const mil = 25.4 * UM;
    const thread = valueOf(fitAfterCoating('1/4-20-2B', typedBuildUp(mil)));
    expect(thread.window.changeM / mil).toBeCloseTo(-4, 9);
    const shaft = valueOf(fitAfterCoating('20h6', typedBuildUp(mil)));
    expect(shaft.window.changeM / mil).toBeCloseTo(2, 9);
  });

  it('coats a coarse fit as it is, masks one the uncertainty swallows', () => {
    expect(valueOf(fitAfterCoating('100H11', buildUp('ordinary', 20 * UM))).advice).toBe('coat as it is');
    const masked = valueOf(fitAfterCoating('3H5', buildUp('hard', 50 * UM)));
    expect(masked.advice).toBe('mask');
    expect(masked.machineTo).toBeNull();
    expect(masked.text).toMatch(/Mask/);
  });

  it('every size inside the window given ends up inside the limits, whatever the build-up in its range', () => {
    const texts = ['10H7', '25g6', '40P7', '8k6', 'M8x1.25-6H', 'M12-6g', '1/2-13-2A', '3/8-24-2B', '200E9'];
    fc.assert(
      fc.property(
        fc.constantFrom(...texts),
        fc.double({ min: 1, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (text, film, where, which) => {
          const growth = buildUp('ordinary', film * UM);
          const { window, fit } = valueOf(fitAfterCoating(text, growth));
          if (!window.machineTo) return;
          const size = window.machineTo.lowM + where * (window.machineTo.highM - window.machineTo.lowM);
          const b = growth.lowM + which * (growth.highM - growth.lowM);
          const inner = fit.kind === 'size' ? fit.limits.kind === 'hole' : fit.limits.kind === 'internal';
          const after = size + (fit.kind === 'size' ? 2 : 4) * (inner ? -b : b);
          expect(after).toBeGreaterThanOrEqual(window.within.lowM - 1e-12);
          expect(after).toBeLessThanOrEqual(window.within.highM + 1e-12);
        },
      ),
    );
  });

  it('lengths move by the faces that are coated', () => {
    const cases = [
      ['outside length', 2, 2],
      ['outside length', 1, 1],
      ['inside length', 2, -2],
      ['inside length', 0, 0],
      ['step', 2, 0],
      ['step', 1, 1],
    ] as const;
    for (const [what, faces, factor] of cases) expect(growthFactor(what, faces)).toBe(factor);
    expect(growthFactor('step', 1, false)).toBe(-1);
    expect(growthFactor('hole', 0)).toBe(0);
    expect(() => coatedWindow({ lowM: 2, highM: 1 }, 2, typedBuildUp(0))).toThrow(RangeError);
  });
});

describe('a typed size after coating', () => {
  const slot: TypedSize = {
    label: 'Slot',
    measured: 'inside length',
    limits: { lowM: 8e-3, highM: 8.1e-3 },
    coatedFaces: 2,
    coatedUpper: true,
  };

  it('a slot closes by twice the build-up, an outer length grows, a step with one face masked moves once', () => {
    const growth = buildUp('hard', 50 * UM);
    const change = (size: Partial<TypedSize>) =>
      valueOf(sizeAfterCoating({ ...slot, ...size }, growth)).change.valueSi / UM;
    expect(change({})).toBeCloseTo(-50, 9);
    expect(change({ measured: 'outside length' })).toBeCloseTo(50, 9);
    expect(change({ measured: 'step', coatedFaces: 1, coatedUpper: false })).toBeCloseTo(-25, 9);
    const whole = valueOf(sizeAfterCoating(slot, growth));
    expect(pair(whole.window.machineTo)).toEqual([8.055, 8.145]);
    expect(whole.after.lowSi!).toBeCloseTo(8e-3 - 55 * UM, 12);
  });

  it('a size without tolerance gets no advice; reversed limits are refused', () => {
    const exact = valueOf(
      sizeAfterCoating({ ...slot, limits: { lowM: 8e-3, highM: 8e-3 } }, buildUp('ordinary', 10 * UM)),
    );
    expect(exact.advice).toBeNull();
    expect(exact.machineTo).toBeNull();
    expect(
      sizeAfterCoating({ ...slot, limits: { lowM: 9e-3, highM: 8e-3 } }, buildUp('ordinary', 0)),
    ).toMatchObject({
      ok: false,
      error: { code: 'size-limits' },
    });
  });
});

describe('reading fits', () => {
  it.each([
    ['10H7', '10H7'],
    ['⌀30 H7', '30H7'],
    ['12,5 mm js9', '12.5js9'],
    ['M6-6H', 'M6x1-6H'],
    ['M10x1.25-6g', 'M10x1.25-6g'],
    ['M12×1.5 6H', 'M12x1.5-6H'],
    ['1/4-20-2B', '1/4-20 UNC-2B'],
    ['#10-32 UNF-2A', '10-32 UNF-2A'],
    ['1-8 UNC-2b', '1-8 UNC-2B'],
  ])('%s', (text, designation) => {
    expect(valueOf(parseFit(text)).limits.designation).toBe(designation);
  });

  it.each([
    ['M6', undefined, 'M6x1-6H', '6H'],
    ['M6', 'external', 'M6x1-6g', '6g'],
    ['1/4-20', undefined, '1/4-20 UNC-2B', '2B'],
    ['1/4-20', 'external', '1/4-20 UNC-2A', '2A'],
    ['#10 UNF', 'internal', '10-32 UNF-2B', '2B'],
  ] as const)(
    '%s on an %s face is taken as %s, and that is said',
    (text, side, designation, assumedClass) => {
      const fit = valueOf(parseFit(text, side));
      expect(fit.limits.designation).toBe(designation);
      expect(fit).toMatchObject({ assumedClass });
      const said = valueOf(fitAfterCoating(text, buildUp('ordinary', 10 * UM), side)).text;
      expect(said).toContain(`No class is written, so ${assumedClass} is taken`);
    },
  );

  it('says nothing of a class that is written', () => {
    expect(valueOf(fitAfterCoating('M6-6H', buildUp('ordinary', 10 * UM))).text).not.toMatch(/class/);
  });

  it.each(['', 'H7', '10', '10 Q7', '1/4', 'M6-5H', '1/4-20-4B', '10-32-1B', '1/4-21'])(
    'refuses “%s”',
    (text) => {
      expect(parseFit(text).ok).toBe(false);
    },
  );
});

describe('masks', () => {
  const feature = (change: Partial<MaskFeature>): MaskFeature => ({
    id: 'f1',
    label: 'bore',
    shape: 'hole',
    widthM: 10e-3,
    reach: 'through',
    fit: '10H7',
    count: 2,
    ...change,
  });

  it('a slit bore and one wider than any plug are lacquered or taped, not plugged', () => {
    // Silicone plugs are sold to about 50 mm (common practice).
    const lines = maskList(
      [
        feature({ id: 'a', widthM: 90e-3 }),
        feature({ id: 'b', widthM: 25e-3, slit: true }),
        feature({ id: 'c', widthM: 25e-3 }),
      ],
      ['a', 'b', 'c'],
    );
    expect(lines.map(({ item, lowM, highM }) => [item, lowM, highM])).toEqual([
      ['lacquer or tape inside', 90e-3, 90e-3],
      ['pull-through plug', 22.5e-3, 30e-3],
      ['lacquer or tape inside', 25e-3, 25e-3],
    ]);
    expect(lines[2]!.note).toContain('slit');
  });

  it('a hole that may go through is plugged from one side only once somebody has looked', () => {
    const lines = maskList(
      [feature({ id: 'a', reach: 'blind' }), feature({ id: 'b', reach: 'unknown' })],
      ['a', 'b'],
    );
    expect(lines.map(({ item }) => item)).toEqual(['tapered plug', 'tapered plug']);
    expect(lines.map(({ note }) => /not known: look/.test(note))).toEqual([false, true]);
  });

  it('suggests the fits that do not survive, leaves the coarse ones, repeats what could not be read', () => {
    const suggestions = suggestMasks(
      [
        feature({}),
        feature({ id: 'f2', fit: '100H11' }),
        feature({ id: 'f3', fit: null }),
        feature({ id: 'f4', fit: 'x' }),
      ],
      buildUp('ordinary', 20 * UM),
    );
    expect(suggestions.map((s) => s.mask)).toEqual([true, false, true, false]);
    expect(suggestions[3]!.why).toMatch(/can be read/);
  });

  it('lists plugs that span their hole, caps smaller than their stud, equal ones together', () => {
    const features = [
      feature({}),
      feature({ id: 'f2', label: 'second bore', count: 3 }),
      feature({ id: 'f3', label: 'stud', shape: 'stud', widthM: 8e-3, count: 1 }),
      feature({ id: 'f4', label: 'pad', shape: 'flat', widthM: 20e-3, count: 1 }),
      feature({ id: 'f5', label: 'left out', widthM: 5e-3 }),
    ];
    const lines = maskList(features, ['f1', 'f2', 'f3', 'f4']);
    expect(lines.map((line) => line.item)).toEqual(['tape disc or strip', 'pull-through plug', 'cap']);
    const plugs = lines[1]!;
    expect(plugs.count).toBe(5);
    expect(plugs.features).toEqual(['bore', 'second bore']);
    expect(plugs.lowM).toBeLessThan(10e-3);
    expect(plugs.highM).toBeGreaterThan(10e-3);
    expect(lines[2]!.highM).toBeLessThan(8e-3);
    expect(() => maskList([feature({ widthM: 0 })], ['f1'])).toThrow(RangeError);
  });
});
