import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bathEntrySchema, type BathEntry } from '../../../core/bath/bath-history.ts';
import {
  ACID_PER_ALUMINIUM,
  ALUMINIUM_KG_PER_C,
  bathLife,
  dissolvedPerCoulombKg,
} from '../../../core/bath/bath-life.ts';
import { bathState } from '../../../core/bath/bath-state.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../../../core/reference/charge-constant.ts';
import { valueOf } from '../value-of.ts';

const k = CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3;
const AH = 3600;
const use = {
  volumeM3: 0.01,
  aluminiumKgPerM3: 0,
  freeAcidKgPerM3: 180,
  chargePerVolumeCPerM3: k,
  areaPerCoulombM2: 0,
  chargeC: 1000 * AH,
};

describe('bath life', () => {
  it('0.3356 g of aluminium is oxidised per A·h, 0.086 g of it dissolves with the 720 rule at 2.4 g/cm³', () => {
    expect(ALUMINIUM_KG_PER_C * AH * 1000).toBeCloseTo(0.33557, 5);
    expect(dissolvedPerCoulombKg(k, 2400) * AH * 1000).toBeCloseTo(0.086, 3);
    expect(dissolvedPerCoulombKg(k, 2400) / ALUMINIUM_KG_PER_C).toBeCloseTo(0.256, 3);
    // A constant at Faraday's bound leaves nothing to dissolve.
    expect(dissolvedPerCoulombKg(1.363e10, 2400)).toBeLessThan(ALUMINIUM_KG_PER_C * 1e-3);
  });

  it('10 L gain 8.6 g/L over 1000 A·h and lose 5.45 g of acid for each gram', () => {
    const life = valueOf(bathLife(use));
    expect(life.aluminiumAfter.valueSi).toBeCloseTo(8.6, 1);
    expect(ACID_PER_ALUMINIUM).toBeCloseTo(5.45, 2);
    expect(180 - life.freeAcidAfter.valueSi).toBeCloseTo(5.4526 * life.aluminiumAfter.valueSi, 2);
    expect(life.advice).toBe('good');
    expect(life.replaceFraction.valueSi).toBe(0);
  });

  it('the charge left brings it exactly to the limit, with and without drag-out', () => {
    for (const areaPerCoulombM2 of [0, 1e-7]) {
      const left = valueOf(bathLife({ ...use, areaPerCoulombM2 })).chargeLeft!;
      const then = valueOf(bathLife({ ...use, areaPerCoulombM2, chargeC: left.valueSi }));
      expect(then.aluminiumAfter.valueSi).toBeCloseTo(20, 6);
    }
  });

  it('drag-out of thin work settles below the limit for ever: steady state a/q', () => {
    // 10 µm films: 1/(k·d) m² a coulomb; 0.2 L/m² drained badly.
    const areaPerCoulombM2 = 1 / (k * 3e-6);
    const life = valueOf(bathLife({ ...use, areaPerCoulombM2, dragOutM3PerM2: 2e-4, chargeC: 1e9 }));
    expect(life.chargeLeft).toBeNull();
    expect(life.aluminiumAfter.valueSi).toBeCloseTo(
      dissolvedPerCoulombKg(k, 2400) / (2e-4 * areaPerCoulombM2),
      3,
    );
  });

  it('an old bath is partly replaced so that it comes back to 4 g/L', () => {
    const life = valueOf(bathLife({ ...use, aluminiumKgPerM3: 22, chargeC: 0 }));
    expect(life.advice).toBe('refresh now');
    expect(22 * (1 - life.replaceFraction.valueSi)).toBeCloseTo(4, 9);
    expect(life.chargeLeft!.valueSi).toBe(0);
    expect(valueOf(bathLife({ ...use, chargeC: 0 })).advice).toBe('young');
    expect(valueOf(bathLife({ ...use, aluminiumKgPerM3: 17, chargeC: 0 })).advice).toBe('refresh soon');
    expect(bathLife({ ...use, volumeM3: 0 })).toMatchObject({ ok: false, error: { code: 'bath-use' } });
  });
});

describe('a bath’s history', () => {
  const made: BathEntry = {
    kind: 'made',
    at: '2030-01-01T08:00:00Z',
    volumeM3: 0.02,
    freeAcidKgPerM3: 180,
    aluminiumKgPerM3: 2,
  };
  const run = (day: number, ampereHours: number): BathEntry => ({
    kind: 'run',
    at: `2030-01-${String(day).padStart(2, '0')}T10:00:00Z`,
    chargeC: ampereHours * AH,
    areaM2: 0,
    chargePerVolumeCPerM3: k,
  });

  it('adds up runs whatever the order they were entered in', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 8 }), (hours) => {
        const entries = [made, ...hours.map((h, i) => run(i + 2, h))];
        const forward = valueOf(bathState(entries));
        const backward = valueOf(bathState([...entries].reverse()));
        expect(backward).toEqual(forward);
        const total = hours.reduce((sum, h) => sum + h, 0);
        expect(forward.chargeC).toBeCloseTo(total * AH, 6);
        expect((forward.aluminiumKgPerM3! - 2) * 20).toBeCloseTo(
          total * AH * dissolvedPerCoulombKg(k, 2400) * 1000,
          6,
        );
        expect(forward.reckonedChargeC).toBe(forward.chargeC);
      }),
    );
  });

  it('a titration replaces what was reckoned; drawing off leaves the strength; adding acid raises it', () => {
    const entries: BathEntry[] = [
      made,
      run(2, 100),
      { kind: 'titrated', at: '2030-01-03T08:00:00Z', freeAcidKgPerM3: 170, aluminiumKgPerM3: 5 },
      { kind: 'drawn off', at: '2030-01-04T08:00:00Z', volumeM3: 0.005 },
      { kind: 'added', at: '2030-01-05T08:00:00Z', acidKg: 0.9, volumeAfterM3: 0.02 },
    ];
    const state = valueOf(bathState(entries));
    expect(state.aluminiumKgPerM3).toBeCloseTo((5 * 15) / 20, 9);
    expect(state.freeAcidKgPerM3).toBeCloseTo((170 * 0.015 + 0.9) / 0.02, 9);
    expect(state).toMatchObject({ runs: 1, reckonedChargeC: 0, lastTitratedAt: '2030-01-03T08:00:00Z' });
    for (const entry of entries) expect(bathEntrySchema.parse(entry)).toEqual(entry);
  });

  it('of a bath entered with its aluminium not known it stays unknown until it is titrated', () => {
    const unknown: BathEntry = { ...made, aluminiumKgPerM3: null };
    expect(bathEntrySchema.parse(unknown)).toEqual(unknown);
    const used: BathEntry[] = [
      unknown,
      run(2, 100),
      { kind: 'drawn off', at: '2030-01-03T08:00:00Z', volumeM3: 0.001 },
      { kind: 'titrated', at: '2030-01-04T08:00:00Z', freeAcidKgPerM3: 170, aluminiumKgPerM3: null },
    ];
    expect(valueOf(bathState(used)).aluminiumKgPerM3).toBeNull();
    const titrated = { ...used[3]!, at: '2030-01-05T08:00:00Z', aluminiumKgPerM3: 5 } as BathEntry;
    expect(valueOf(bathState([...used, titrated])).aluminiumKgPerM3).toBeCloseTo(5, 9);
  });

  it('starts anew at the last making, and refuses a history without one or an overdrawn bath', () => {
    const again: BathEntry = { ...made, at: '2030-02-01T08:00:00Z', aluminiumKgPerM3: 0 };
    expect(valueOf(bathState([made, run(2, 100), again])).chargeC).toBe(0);
    expect(bathState([run(2, 1)])).toMatchObject({ ok: false, error: { code: 'bath-not-made' } });
    expect(
      bathState([made, { kind: 'drawn off', at: '2030-01-02T08:00:00Z', volumeM3: 0.02 }]),
    ).toMatchObject({
      ok: false,
      error: { code: 'bath-overdrawn' },
    });
  });
});
