import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heatBalance, type HeatRun } from '../../../core/bath/heat-balance.ts';
import { MOST_RUNS, planBathHeat, type BathHeatRequest } from '../../../core/bath/plan-bath-heat.ts';
import {
  NET_OXIDATION_J_PER_MOL,
  REACTION_HEAT_V,
  TON_OF_REFRIGERATION_W,
} from '../../../core/reference/thermochemistry.ts';
import { saturationPressurePa, waterActivity } from '../../../core/reference/water-vapour.ts';
import { valueOf } from '../value-of.ts';
import { SEALED } from './sealed-bath.ts';

const quiet: HeatRun = {
  startK: 293.15,
  capacityJPerK: 40_000,
  massFraction: 0.162,
  currentA: 0,
  voltageV: 0,
  reactionV: 0,
  rampS: 0,
  holdS: 3600,
  restS: 0,
};

describe('heat of the cell', () => {
  it('the reaction gives 818.2 kJ/mol of oxide, 1.413 V (NIST and CODATA formation enthalpies)', () => {
    expect(NET_OXIDATION_J_PER_MOL / 1000).toBeCloseTo(-818.2, 1);
    expect(REACTION_HEAT_V.usual).toBeCloseTo(1.413, 3);
    // −538 kJ/mol over three electrons.
    expect(REACTION_HEAT_V.dissolving).toBeCloseTo(1.86, 2);
    expect(REACTION_HEAT_V.high).toBeGreaterThan(REACTION_HEAT_V.usual);
  });

  it('6000 A at 20 V is 34.12 tons of refrigeration', () => {
    expect((6000 * 20) / TON_OF_REFRIGERATION_W).toBeCloseTo(34.12, 2);
  });

  it.each([
    [0.01, 611.7],
    [20, 2339],
    [30, 4247],
    [40, 7384],
  ])('water boils off at %d °C against %d Pa (steam tables)', (t, pascal) => {
    // Buck's equation is within 0.1 % of the steam tables there.
    expect(Math.abs(valueOf(saturationPressurePa(t + 273.15)) / pascal - 1)).toBeLessThan(0.0012);
  });

  it('acid of 16 % holds 0.92 of water’s vapour pressure (from memory, ±0.01)', () => {
    expect(Math.abs(valueOf(waterActivity(0.16)) - 0.92)).toBeLessThan(0.01);
    expect(waterActivity(0.4)).toMatchObject({ ok: false, error: { code: 'outside-table' } });
  });
});

describe('heat balance over a run', () => {
  it('88 in² at 3.667 A and 15 V for two hours warms 10 L of 180 g/L by 10.8 K with no loss', () => {
    const run = {
      ...quiet,
      capacityJPerK: 1.111 * 10 * 3640,
      currentA: 3.667,
      voltageV: 15,
      reactionV: REACTION_HEAT_V.usual,
      holdS: 7200,
    };
    const tally = valueOf(heatBalance(run, SEALED));
    expect((tally.electricJ + tally.reactionJ) / 7200).toBeCloseTo(60.2, 1);
    expect((tally.electricJ + tally.reactionJ) / 1000).toBeCloseTo(433, 0);
    // 433.3 kJ over 40.44 kJ/K is 10.71 K; the printed 10.8 carries a rounded heat capacity.
    expect(Math.abs(tally.endK - 293.15 - 10.8)).toBeLessThan(0.12);
  });

  it('cools along Newton’s exponential (closed form)', () => {
    const paths = { ...SEALED, wallM2: 2, wallWPerM2K: 6, airK: 285 };
    const tally = valueOf(heatBalance({ ...quiet, startK: 305, holdS: 7200 }, paths));
    const expected = 285 + 20 * Math.exp((-12 * 7200) / 40_000);
    // Fourth order with 240 steps: far below a microkelvin.
    expect(Math.abs(tally.endK - expected)).toBeLessThan(1e-6);
  });

  it('a ramp warms like half of full current (closed form)', () => {
    const ramp = { ...quiet, currentA: 10, voltageV: 15, rampS: 600, holdS: 0 };
    expect(valueOf(heatBalance(ramp, SEALED)).electricJ).toBeCloseTo((10 * 15 * 600) / 2, 6);
  });

  it('an open still bath at 20 °C in half-damp air gives off 87 W/m², 0.13 kg/(m²·h) (pool equation)', () => {
    const tally = valueOf(
      heatBalance({ ...quiet, capacityJPerK: 1e9, massFraction: 0.162 }, { ...SEALED, surfaceM2: 1 }),
    );
    // Activity 0.915 here against the 0.92 of the worked value.
    expect(Math.abs(tally.evaporatedJ / 3600 - 87)).toBeLessThan(1.5);
    expect(Math.abs(tally.evaporatedKg - 0.13)).toBeLessThan(0.005);
  });

  it('closes: what went in is what went out and what stayed, for any tank', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.record({
          startK: number(275, 300),
          capacityJPerK: number(2e4, 4e5),
          currentA: number(0, 30),
          rampS: number(0, 600),
        }),
        fc.record({
          surfaceM2: number(0, 1),
          wallM2: number(0, 3),
          stirringW: number(0, 100),
          chillerW: number(0, 800),
        }),
        (run, paths) => {
          const result = heatBalance(
            { ...quiet, ...run, voltageV: 16, reactionV: 1.413, holdS: 2400, restS: 900 },
            { ...SEALED, ...paths },
          );
          if (!result.ok) return;
          const t = result.value;
          const into = t.electricJ + t.reactionJ + t.stirringJ;
          const out = t.lostToAirJ + t.lostToWallsJ + t.evaporatedJ + t.chilledJ + t.heldJ + t.storedJ;
          // A temperature near 293 K is rounded to 6e-14 K in each of some hundred steps, times up to 4e5 J/K.
          expect(Math.abs(into - out)).toBeLessThan(1e-4);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('holds a limit with ideal cooling, and the heat taken is the heat put in', () => {
    const run = { ...quiet, currentA: 10, voltageV: 15, holdAtK: 293.15 };
    const tally = valueOf(heatBalance(run, SEALED));
    expect(tally.endK).toBe(293.15);
    expect(tally.heldJ).toBeCloseTo(10 * 15 * 3600, 3);
  });

  it('a chiller settles where it takes what comes in', () => {
    const run = { ...quiet, currentA: 10, voltageV: 15, holdS: 20_000 };
    const tally = valueOf(heatBalance(run, { ...SEALED, chillerW: 300, chillerSetK: 293.15 }));
    // Half power half way up the half-kelvin band: 150 W at 0.25 K over the set point.
    expect(tally.endK).toBeCloseTo(293.4, 3);
  });

  it('refuses a boiling run and throws on nonsense', () => {
    expect(heatBalance({ ...quiet, currentA: 500, voltageV: 20 }, SEALED)).toMatchObject({
      ok: false,
      error: { code: 'bath-out-of-range' },
    });
    expect(() => heatBalance({ ...quiet, capacityJPerK: 0 }, SEALED)).toThrow(RangeError);
    expect(() => heatBalance(quiet, { ...SEALED, wallM2: NaN })).toThrow(RangeError);
  });
});

describe('plan of the bath’s heat', () => {
  const request: BathHeatRequest = {
    volumeM3: 0.01,
    acidKgPerM3: 180,
    startK: 293.15,
    limitK: 293.15,
    currentA: 3.667,
    loadsA: [3.667],
    rampS: 0,
    holdS: 7200,
    pauseS: 1800,
    voltage: { valueV: 15, lowV: 13, highV: 17, taken: null },
    paths: SEALED,
    iceKg: 0,
    iceInBottles: true,
    own: null,
  };

  it('goes by the shop’s own runs where they tell, and closes in closed form', () => {
    // C · ΔT = (V + U) · I · t − P · t: 15 V and 1.413 V at 3.667 A for 7200 s less 20 W, over 50 kJ/K.
    const own = { heatCapacityJPerK: 50e3, lowJPerK: 45e3, highJPerK: 56e3, lossW: 20, count: 6 };
    const heat = valueOf(planBathHeat({ ...request, limitK: 303, own }));
    const rise = (volts: number, jPerK: number): number => ((volts * 3.667 - 20) * 7200) / jPerK;
    const reaction = heat.heatPower.valueSi / 3.667 - 15;
    expect(heat.endTemperature.valueSi - 293.15).toBeCloseTo(rise(15 + reaction, 50e3), 6);
    // Less heat per kelvin and more volts end warmer than any other corner.
    expect(heat.endTemperature.highSi! - 293.15).toBeGreaterThan(rise(17 + reaction, 45e3) * 0.999);
    expect(heat.endTemperature.lowSi! - 293.15).toBeLessThan(rise(13 + reaction, 56e3) * 1.001);
    expect(heat.endTemperature.source.standing).toBe('your own runs');
    const { tally } = heat;
    expect(tally.storedJ + tally.steadyLossJ).toBeCloseTo(tally.electricJ + tally.reactionJ, 3);
  });

  it('needs 1.30 kg of ice by melting alone, less when its water warms too (88 in² example)', () => {
    const heat = valueOf(planBathHeat(request));
    expect(heat.heatPower.valueSi).toBeCloseTo(60.2, 1);
    // 433.4 kJ / 333.55 kJ/kg = 1.299 kg.
    expect(heat.iceNeeded.valueSi * (1 + (4.182 * 20) / 333.55)).toBeCloseTo(1.299, 2);
    expect(heat.iceNeeded.highSi!).toBeGreaterThan(1.299);
    expect(heat.chillerNeeded.valueSi).toBeCloseTo(60.2, 1);
    expect(heat.endTemperature.lowSi!).toBeLessThan(heat.endTemperature.valueSi);
    expect(heat.endTemperature.highSi!).toBeGreaterThan(heat.endTemperature.valueSi);
    expect(heat.runsInARow.valueSi).toBe(0);
  });

  it('that much ice thrown in brings the bath back to where it started', () => {
    const need = valueOf(planBathHeat(request)).iceNeeded.valueSi;
    const iced = valueOf(planBathHeat({ ...request, iceKg: need, limitK: 300 }));
    expect(iced.endTemperature.valueSi).toBeCloseTo(293.15, 2);
    expect(iced.startTemperature.valueSi).toBeLessThan(293.15 - 8);
    expect(iced.acidAfterIce).toBeNull();
    const loose = valueOf(planBathHeat({ ...request, iceKg: 1, iceInBottles: false, limitK: 300 }));
    expect(loose.acidAfterIce!.valueSi).toBeCloseTo((180 * 10) / (10 + 1 / 0.998), 6);
  });

  it('counts runs: a sealed bath takes as many as its margin over one run’s rise', () => {
    const one = valueOf(planBathHeat(request)).endTemperature.valueSi - 293.15;
    for (const wanted of [1, 2, 3]) {
      const limitK = 293.15 + one * (wanted + 0.5);
      expect(valueOf(planBathHeat({ ...request, limitK })).runsInARow.valueSi).toBe(wanted);
    }
    const chilled = { ...request, limitK: 295, paths: { ...SEALED, chillerW: 400, chillerSetK: 293.15 } };
    expect(valueOf(planBathHeat(chilled)).runsInARow.valueSi).toBe(MOST_RUNS);
  });

  it('shows a range around the value for a cold bath in a warm room too, where the room warms it', () => {
    const paths = { ...SEALED, airK: 298.15, surfaceM2: 0.1, wallM2: 0.4 };
    const cold = valueOf(planBathHeat({ ...request, volumeM3: 0.03, startK: 274.15, limitK: 278.15, paths }));
    for (const figure of [cold.endTemperature, cold.iceNeeded, cold.chillerNeeded, cold.evaporated]) {
      expect(figure.lowSi!).toBeLessThanOrEqual(figure.valueSi);
      expect(figure.highSi!).toBeGreaterThanOrEqual(figure.valueSi);
    }
    // Damp air condenses on it.
    expect(cold.evaporated.label).toBe('Water condensed into the bath');
    expect(cold.evaporated.valueSi).toBeGreaterThan(0);
  });

  it('refuses too much ice and an empty bath', () => {
    expect(planBathHeat({ ...request, iceKg: 6 })).toMatchObject({
      ok: false,
      error: { code: 'too-much-ice' },
    });
    expect(planBathHeat({ ...request, volumeM3: 0 })).toMatchObject({
      ok: false,
      error: { code: 'bath-heat-input' },
    });
  });
});
