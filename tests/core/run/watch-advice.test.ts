import { describe, expect, it } from 'vitest';
import { reclampUpToS, watchAdvice } from '../../../core/run/watch-advice.ts';
import { WATCH_LEVELS, type WatchEvent, type WatchKind } from '../../../core/run/watch-event.ts';

const event = (kind: WatchKind): WatchEvent => ({
  atS: 100,
  sinceS: 90,
  kind,
  level: WATCH_LEVELS[kind],
  areaLeft: [0.55, 0.65],
  likelyAreaLeft: 0.6,
});

describe('watchAdvice', () => {
  const early = { mode: 'current', thicknessM: 0.3e-6, plannedA: 5 } as const;
  const late = { ...early, thicknessM: 8e-6 };

  it('re-clamps early, and strips later because the oxide lets no new contact through', () => {
    expect(watchAdvice(event('contact-lost'), early).remedy).toMatch(/power off.*clamp it again/);
    const advice = watchAdvice(event('contact-lost'), late);
    expect(advice.remedy).toMatch(/stripped and done again/);
    expect(advice.remedy).not.toMatch(/clamp it again/);
    expect(advice.message).toContain('40 %');
    expect(advice.message).toContain('35 % to 45 %');
  });

  it('brings the current down to what is left, so that the rest does not burn', () => {
    // 5 A · 0.6.
    expect(watchAdvice(event('contact-lost'), late).remedy).toContain('3.00 A');
    expect(watchAdvice(event('contact-lost'), { ...late, mode: 'voltage' }).remedy).not.toContain('3.00 A');
  });

  it('what rests on one reading alone names it', () => {
    const alone = { sinceS: 450, alone: true } as const;
    expect(watchAdvice({ ...event('reading-doubtful'), ...alone }, late)).toMatchObject({
      message: expect.stringContaining('or the one at 7:30 was'),
      remedy: expect.stringMatching(/^Read volts and amps again now.*7:30 was wrong, put that right\.$/),
    });
    expect(watchAdvice({ ...event('contact-lost'), ...alone }, early).remedy).toMatch(
      /^Switch the power off.*If the reading at 7:30 was wrong, put that right/,
    );
    expect(watchAdvice(event('contact-lost'), late).remedy).not.toContain('put that right');
    const early5 = { ...event('reading-doubtful'), sinceS: -5, alone: true } as const;
    expect(watchAdvice(early5, late).message).toContain('the one at −0:05 was');
  });

  it('has the power off before anything is touched', () => {
    for (const kind of ['contact-lost', 'contact-loose', 'contact-total', 'short'] as const) {
      expect(watchAdvice(event(kind), early).remedy).toMatch(/power off/);
    }
  });

  it('says a warm bath in the reader’s units, with what it is at', () => {
    // 24 °C = 75.2 °F, 25.5 °C = 77.9 °F.
    const warm = { ...late, bathTemperatureK: 298.65 };
    expect(watchAdvice(event('bath-warming'), warm)).toMatchObject({
      message: expect.stringContaining('25.5 °C'),
      remedy: expect.stringContaining('24.0 °C'),
    });
    expect(watchAdvice(event('bath-warming'), { ...warm, system: 'us' })).toMatchObject({
      message: expect.stringContaining('77.9 °F'),
      remedy: expect.stringContaining('75.2 °F'),
    });
  });

  it('of a hard coat says what its film, its limit and its ramp ask for', () => {
    const hard = { ...late, isHardCoat: true, bathLimitK: 278.15, bathTemperatureK: 279.15 };
    // 5 °C: a hard coat's bath (reference/bath-limits.ts).
    expect(watchAdvice(event('bath-warming'), hard).remedy).toContain('5.00 °C');
    expect(watchAdvice(event('bath-too-warm'), hard).message).toMatch(/6\.00 °C.*above the 5\.00 °C/);
    // At the supply's limit its current falls on, so that a held charge is no end to wait for.
    expect(watchAdvice(event('supply-limit'), hard).remedy).toMatch(/falling.*measure the film/);
    expect(watchAdvice(event('supply-limit'), late).remedy).toMatch(/until the charge is reached/);
    expect(watchAdvice(event('gap'), hard).remedy).toMatch(/measure every part/);
    expect(watchAdvice(event('gap'), late).remedy).not.toMatch(/hard coat/);
  });

  it('a contact can be clamped again until the film has a micrometre', () => {
    // 100 s/µm: after an even ramp of 60 s half of it counts, so 30 + 100 s; within one of 800 s √(2 · 800 · 100) = 400 s.
    expect(reclampUpToS(60, 1e8)).toBeCloseTo(130, 9);
    expect(reclampUpToS(800, 1e8)).toBeCloseTo(400, 9);
    expect(reclampUpToS(0, 1e8)).toBeCloseTo(100, 9);
  });

  it('has a cause and something to do for everything it can say', () => {
    for (const kind of Object.keys(WATCH_LEVELS) as WatchKind[]) {
      for (const stage of [early, late]) {
        const { message, remedy } = watchAdvice(event(kind), stage);
        expect(message).toMatch(/\.$/);
        expect(remedy).toMatch(/\.$/);
      }
    }
  });
});
