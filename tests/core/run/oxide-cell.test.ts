import { describe, expect, it } from 'vitest';
import {
  arrheniusFactor,
  cellVoltage,
  currentAtVoltage,
  DISSOLUTION_ACTIVATION_EV,
} from '../../../core/run/oxide-cell.ts';
import { simulateRun, usualSetup, QUIET, type SimulatedSetup } from '../../../core/run/simulated-run.ts';

const kelvin = (celsius: number): number => celsius + 273.15;

describe('the oxide cell', () => {
  it('runs 6.1 % per K faster near 20 °C, ×1.776 from 20 to 30 and ×0.279 from 20 to 0 °C', () => {
    // Computed from 0.44 eV (Eguchi 1969).
    const factor = (to: number): number => arrheniusFactor(DISSOLUTION_ACTIVATION_EV, kelvin(to), kelvin(20));
    expect(factor(21) - 1).toBeCloseTo(0.061, 3);
    expect(factor(30)).toBeCloseTo(1.776, 3);
    expect(factor(0)).toBeCloseTo(0.279, 3);
    // +5 K at constant voltage: the current times 1.34.
    expect(factor(25)).toBeCloseTo(1.34, 2);
  });

  it('falls by 2 to 4 % per K at a held density', () => {
    const { cell } = usualSetup(0.0568, 129.17, 1);
    for (const curvature of [0, 1]) {
      const bent = { ...cell, curvature };
      const fall = 1 - cellVoltage(bent, 129.17, kelvin(21)) / cellVoltage(bent, 129.17, kelvin(20));
      // Derived from 0.44 eV and the handbook slopes (from memory): 2-4 % per K.
      expect(fall).toBeGreaterThan(0.019);
      expect(fall).toBeLessThan(0.04);
    }
  });

  it('has its slope at the reference density in both laws', () => {
    const { cell } = usualSetup(0.0568, 129.17, 1);
    for (const curvature of [0, 0.5, 1]) {
      const at = (density: number): number =>
        cellVoltage({ ...cell, curvature }, density, cell.referenceTemperatureK);
      expect((at(129.18) - at(129.16)) / 0.02).toBeCloseTo(0.04, 6);
    }
  });

  it('finds the current at a voltage', () => {
    expect(currentAtVoltage((i) => 10 + 2 * i, 15, 100)).toBeCloseTo(2.5, 6);
    expect(currentAtVoltage((i) => 10 + 2 * i, 9, 100)).toBe(0);
    expect(currentAtVoltage((i) => 10 + 2 * i, 900, 100)).toBe(100);
  });
});

describe('simulateRun', () => {
  const quiet: SimulatedSetup = {
    ...usualSetup(0.0568, 64.58, 3),
    noise: QUIET,
    bath: {
      startK: 293.15,
      heatCapacityJPerK: 1e12,
      lossWPerK: 0,
      surroundingsK: 293.15,
      coolerW: 0,
      halfBandK: 1,
    },
  };

  it('keeps charge: film times area times the charge constant is what the supply gave', () => {
    const { readings, truth } = simulateRun(quiet);
    const last = readings.tS.length - 1;
    const expected = truth.thicknessM[last]! * quiet.areaM2 * quiet.chargePerVolumeCPerM3;
    expect(truth.chargeC[last]! / expected).toBeCloseTo(1, 10);
    // Set current for 3600 s less half of the 300 s ramp; the inner step of 1 s leaves 0.5 s of it.
    expect(truth.chargeC[last]! / quiet.setCurrentA).toBeCloseTo(3450, -1);
  });

  it('is marked simulated and comes out the same for a seed', () => {
    const noisy = { ...usualSetup(0.0568, 64.58, 3), durationS: 600 };
    const first = simulateRun(noisy);
    expect(first.readings.origin).toBe('simulated');
    expect(simulateRun(noisy)).toEqual(first);
    expect(simulateRun({ ...noisy, seed: 4 }).readings.voltageV).not.toEqual(first.readings.voltageV);
  });

  it('starts with a peak and a dip of 5 to 15 % at full current', () => {
    // Papers, from memory: V rises to a peak in seconds, dips 5-15 %, then is flat.
    const { readings } = simulateRun({
      ...quiet,
      ...{ rampS: 0, sampleS: 1, durationS: 300, setCurrentA: 0.0568 * 129.17 },
    });
    const peak = Math.max(...readings.voltageV);
    const at = readings.voltageV.indexOf(peak);
    const dip = 1 - readings.voltageV[290]! / peak;
    expect(readings.tS[at]!).toBeLessThan(30);
    expect(dip).toBeGreaterThan(0.05);
    expect(dip).toBeLessThan(0.15);
  });

  it('warms the bath by I (V + 1.41 V)', () => {
    // 60.2 W for 88 in², 3.667 A and 15 V warm 10 L of 180 g/L by 10.8 K in 120 min, computed from NIST enthalpies:
    // 433 kJ over 10.8 K are 40.1 kJ/K.
    const { truth } = simulateRun({
      ...quiet,
      setCurrentA: 3.667,
      rampS: 0,
      durationS: 7200,
      growthVPerM: 0,
      cell: { ...quiet.cell, referenceVoltageV: 15, referenceDensityAPerM2: 3.667 / 0.0568, activationEv: 0 },
      startPeak: 0,
      bath: { ...quiet.bath, heatCapacityJPerK: 40_100 },
    });
    expect(truth.temperatureK.at(-1)! - 293.15).toBeCloseTo(10.8, 1);
  });

  it('refuses what can’t be run', () => {
    expect(() => simulateRun({ ...quiet, areaM2: 0 })).toThrow(/areaM2/);
    expect(() => simulateRun({ ...quiet, durationS: 1e9 })).toThrow(RangeError);
  });
});
