import { describe, expect, it } from 'vitest';
import { acidStrength } from '../../../core/bath/acid-strength.ts';
import { bathLife } from '../../../core/bath/bath-life.ts';
import { expectedVoltage } from '../../../core/bath/expected-voltage.ts';
import { filmLimit } from '../../../core/bath/film-limit.ts';
import { hydrogenAir } from '../../../core/bath/hydrogen.ts';
import { hydrometerStrength } from '../../../core/bath/hydrometer.ts';
import { mistAdvice } from '../../../core/bath/mist.ts';
import { mixBath } from '../../../core/bath/mix-bath.ts';
import { mixParts } from '../../../core/bath/mix-parts.ts';
import { neutralise } from '../../../core/bath/neutralise.ts';
import { planBathHeat } from '../../../core/bath/plan-bath-heat.ts';
import { titrate } from '../../../core/bath/titration.ts';
import { topUp } from '../../../core/bath/top-up.ts';
import type { Figure } from '../../../core/figure/figure.ts';
import { printFigure } from '../../../core/figure/print-figure.ts';
import { buildUp, buildUpFigures } from '../../../core/finish/build-up.ts';
import { scaleDye } from '../../../core/finish/dye-recipe.ts';
import { etch } from '../../../core/finish/etch.ts';
import { fitAfterCoating } from '../../../core/finish/fit-after-coating.ts';
import { surfaceBudget } from '../../../core/finish/metal-budget.ts';
import { sealTime } from '../../../core/finish/seal-time.ts';
import { strip } from '../../../core/finish/strip.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { valueOf } from '../value-of.ts';

/** Every figure anywhere inside a result. */
function figuresIn(value: unknown): Figure[] {
  if (Array.isArray(value)) return value.flatMap(figuresIn);
  if (typeof value !== 'object' || value === null) return [];
  if ('valueSi' in value && 'formula' in value && 'source' in value) return [value as Figure];
  return Object.values(value).flatMap(figuresIn);
}

const k = CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3;
const conditions = { currentDensityAPerM2: 130, temperatureK: 294, acidKgPerM3: 180 };
const acid = { as: 'massFraction', massFraction: 0.37 } as const;
const target = { as: 'concentration', acidKgPerM3: 180 } as const;
const growth = buildUp('ordinary', 20e-6);
const results: Record<string, unknown> = {
  mix: valueOf(mixBath({ acid, target, volumeM3: 0.012 })),
  parts: valueOf(mixParts(acid, 1, 3)),
  'top up': valueOf(topUp({ volumeM3: 0.01, bath: target, wantedVolumeM3: 0.012, wanted: target, acid })),
  hydrometer: valueOf(
    hydrometerStrength({ specificGravity: 1.12, sampleK: 295, calibrationK: 293.15, aluminiumKgPerM3: 5 }),
  ),
  titration: valueOf(titrate({ sampleM3: 1e-5, lyeMolPerL: 1, totalM3: 45e-6, fluorideM3: 37e-6 })),
  life: valueOf(
    bathLife({
      volumeM3: 0.02,
      aluminiumKgPerM3: 5,
      freeAcidKgPerM3: 180,
      chargePerVolumeCPerM3: k,
      areaPerCoulombM2: 3e-6,
      chargeC: 1e5,
    }),
  ),
  voltage: valueOf(expectedVoltage(conditions, 20e-6)),
  limit: valueOf(filmLimit({ ...conditions, voltageV: 15, chargePerVolumeCPerM3: k })),
  heat: valueOf(
    planBathHeat({
      volumeM3: 0.02,
      acidKgPerM3: 180,
      startK: 293,
      limitK: 295,
      currentA: 5,
      loadsA: [5],
      rampS: 300,
      holdS: 3000,
      pauseS: 1800,
      voltage: { valueV: 15, lowV: 13, taken: null, highV: 17 },
      paths: {
        airK: 295,
        relativeHumidity: 0.5,
        surfaceM2: 0.1,
        surfaceWPerM2K: 10,
        wallM2: 0.3,
        wallWPerM2K: 5,
        stirringW: 5,
        chillerW: 0,
        chillerSetK: 293,
      },
      iceKg: 0.5,
      iceInBottles: false,
      own: null,
    }),
  ),
  hydrogen: hydrogenAir(5, 295),
  mist: mistAdvice(0.1),
  neutralising: valueOf(neutralise(0.01, 180, 8, 295)),
  growth: buildUpFigures(20e-6, growth),
  fit: valueOf(fitAfterCoating('25g6', growth)),
  thread: valueOf(fitAfterCoating('M8-6H', growth)),
  dye: valueOf(scaleDye({ as: 'concentration', dyeKgPerM3: 5 }, 0.004)),
  etch: valueOf(etch(40, 330, 120)),
  strip: valueOf(
    strip({
      volumeM3: 0.004,
      lyeKgPerM3: 25,
      temperatureK: 295,
      areaM2: 0.05,
      filmM: 20e-6,
      overTimeS: 60,
      metalDensityKgPerM3: 2700,
      roomK: 295,
    }),
  ),
  budget: surfaceBudget([{ kind: 'coat', filmM: 20e-6, growth }]),
  seal: valueOf(sealTime('hot water', 12e-6, 371, 6)),
};

describe('figures of the wet work', () => {
  it.each(Object.keys(results))(
    '%s: finite, inside their range, with formula and source, printable in both systems',
    (name) => {
      const figures = figuresIn(results[name]);
      expect(figures.length).toBeGreaterThan(0);
      for (const figure of figures) {
        expect(Number.isFinite(figure.valueSi)).toBe(true);
        expect(figure.formula).not.toBe('');
        expect(figure.source.text).not.toBe('');
        if (figure.lowSi !== undefined) expect(figure.lowSi).toBeLessThanOrEqual(figure.valueSi + 1e-15);
        if (figure.highSi !== undefined) expect(figure.highSi).toBeGreaterThanOrEqual(figure.valueSi - 1e-15);
        for (const system of ['metric', 'us'] as const)
          expect(printFigure(figure, system).value.text).not.toMatch(/NaN|Infinity/);
      }
    },
  );

  it('values from memory are shown as such', () => {
    expect(valueOf(expectedVoltage(conditions, 0)).start.source.standing).toBe('from memory');
    expect(valueOf(mixBath({ acid, target, volumeM3: 0.012 })).heat.source.standing).toBe('from memory');
    expect(valueOf(fitAfterCoating('M8-6H', growth)).after.source.standing).toBe('from memory');
    expect(valueOf(acidStrength(acid, 293.15)).source.standing).toBe('published');
  });
});
