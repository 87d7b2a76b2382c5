import { describe, expect, it } from 'vitest';
import { watchAdvice } from '../../../core/run/watch-advice.ts';
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

  it('has the power off before anything is touched', () => {
    for (const kind of ['contact-lost', 'contact-loose', 'contact-total', 'short'] as const) {
      expect(watchAdvice(event(kind), early).remedy).toMatch(/power off/);
    }
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
