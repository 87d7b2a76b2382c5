/** What a run says of its film and its bath, in the reader's units, and the numbers it asks about. */
import { describe, expect, it } from 'vitest';
import { doubtFilm } from '../../../core/shop/doubt-film.ts';
import { loadPlanSchema, type SaidEvent } from '../../../core/shop/run-record.ts';
import { saidWords } from '../../../core/shop/said-words.ts';

const plan = loadPlanSchema.parse({
  areaM2: 0.04,
  currentDensityAPerM2: 100,
  chargePerVolumeCPerM3: 1.8e10,
  chargeRelativeUncertainty: 0.1,
  chargeSource: { standing: 'published', text: '' },
  thicknessM: 25.4e-6,
  rampS: 300,
  holdS: 4350,
  supplyCurrentLimitA: null,
  supplyVoltageLimitV: null,
  bathTemperatureK: 293.15,
  acidKgPerM3: 180,
  expectedVoltageV: 15,
});

describe('a measured film', () => {
  const film = { valueM: 25.4e-6, lowM: 23e-6, highM: 28e-6 };
  it('of 25 mil is asked about: 25 µm were meant', () => {
    const doubt = doubtFilm(25 * 25.4e-6, { film, plan }, 'us')!;
    expect(doubt.reason).toBe('25.0 mil is 25 times what the charge gives (1.00 mil).');
    expect(doubt.meantM).toBeCloseTo(25e-6, 12);
  });
  it('of 1 µm is asked about: 1 mil was meant', () => {
    const doubt = doubtFilm(1e-6, { film, plan }, 'metric')!;
    expect(doubt.reason).toBe('1.00 µm is only 3.9 % of what the charge gives (25.4 µm).');
    expect(doubt.meantM).toBeCloseTo(25.4e-6, 12);
  });
  it('that a real part may have is taken: half of it in a corner, twice at an edge', () => {
    for (const valueM of [12e-6, 24e-6, 50e-6])
      expect(doubtFilm(valueM, { film, plan }, 'metric')).toBeNull();
    // Without readings the plan is the measure.
    expect(doubtFilm(635e-6, { film: null, plan }, 'metric')!.reason).toMatch(/what was planned/);
    expect(doubtFilm(11 * 25.4e-6, { film, plan }, 'metric')!.meantM).toBeCloseTo(11e-6, 12);
    expect(doubtFilm(5 * 25.4e-6, { film, plan }, 'metric')!.meantM).toBeNull();
  });
});

describe('what the watch said', () => {
  const event: SaidEvent = {
    atS: 900,
    sinceS: 880,
    kind: 'bath-warming',
    level: 'check',
    areaLeft: [1, 1],
    likelyAreaLeft: 1,
    message: 'as it was said then',
    remedy: 'and what to do',
  };
  it('is said in the units of who reads it now', () => {
    const known = { ...event, filmM: 5e-6, bathTemperatureK: 299.15 };
    expect(saidWords(known, plan, 'us').message).toContain('78.8 °F'); // 26 · 1.8 + 32
    expect(saidWords(known, plan, 'metric').message).toContain('26.0 °C');
  });
  it('stays as it was said in a run of before its film and bath were kept', () => {
    expect(saidWords(event, plan, 'us')).toEqual({
      message: 'as it was said then',
      remedy: 'and what to do',
    });
  });
});
