import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rankCauses } from '../../../core/finish/rank-causes.ts';
import type { TroubleFacts } from '../../../core/finish/trouble-facts.ts';
import { SYMPTOMS } from '../../../core/finish/trouble-table.ts';
import { lostContactOnPaper } from '../../../core/run/watch-advice.ts';
import { valueOf } from '../value-of.ts';

const first = (symptom: string, facts: TroubleFacts) => valueOf(rankCauses(symptom, facts))[0]!;

describe('trouble', () => {
  // Each row is a case of the trade (common practice): these figures point to this cause.
  it.each<[string, TroubleFacts, string]>([
    ['partly-coated', { suddenStep: true, contactLoad: 1.2 }, 'lost-contact'],
    ['partly-coated', { gasPocket: true, suddenStep: false, contactLoad: 0.3 }, 'gas-trapped'],
    ['partly-coated', { waterBreakHeld: false, suddenStep: false, gasPocket: false }, 'not-clean'],
    ['soft', { bathEndK: 301, freeAcidKgPerM3: 180 }, 'warm-bath'],
    ['soft', { bathEndK: 294, thicknessM: 35e-6, freeAcidKgPerM3: 170, stirred: true }, 'too-long'],
    ['burnt', { contactLoad: 1.5, currentDensityAPerM2: 130, stirred: true }, 'contact-burnt'],
    ['thin', { chargeShare: 0.8 }, 'short-charge'],
    ['thin', { chargeShare: 1, areaSpread: 1.3, voltageShare: 0.85 }, 'area-wrong'],
    ['pale', { thicknessM: 5e-6, dyeK: 333, dyePh: 5.5 }, 'thin-film'],
    ['pale', { thicknessM: 15e-6, dyeK: 305, dyePh: 5.5 }, 'cool-dye'],
    ['dark-weld', { fillerSiliconFraction: 0.055, siliconFraction: 0.006 }, 'filler-dark'],
    ['bleeds', { sealK: 350 }, 'seal-cool'],
    ['voltage-up', { suddenStep: true, supplyAtLimit: false }, 'lost-contact'],
    ['voltage-up', { supplyShare: 0.55, contactLoad: 0.3 }, 'lost-contact'],
    ['voltage-up', { supplyShare: 0.98, contactLoad: 0.3 }, 'supply-limit'],
    ['current-up', { voltageShare: 0.15 }, 'short-circuit'],
    ['pits', { chlorideKgPerM3: 0.4 }, 'chlorides'],
    ['binds', { thicknessM: 25e-6, masked: false }, 'grown-shut'],
  ])('%s with %o is %s', (symptom, facts, cause) => {
    const likeliest = first(symptom, facts);
    expect(likeliest.id).toBe(cause);
    if (!('supplyShare' in facts)) expect(likeliest.because.length).toBeGreaterThan(0);
  });

  it('with nothing known it is experience alone, and shares add up to one whatever is known', () => {
    const ids = SYMPTOMS.map((symptom) => symptom.id);
    const facts = fc.record({
      contactLoad: fc.option(fc.double({ min: 0, max: 3, noNaN: true })),
      bathEndK: fc.option(fc.double({ min: 270, max: 310, noNaN: true })),
      thicknessM: fc.option(fc.double({ min: 1e-6, max: 60e-6, noNaN: true })),
      dyePh: fc.option(fc.double({ min: 2, max: 9, noNaN: true })),
      suddenStep: fc.option(fc.boolean()),
      masked: fc.option(fc.boolean()),
    });
    fc.assert(
      fc.property(fc.constantFrom(...ids), facts, (symptom, known) => {
        const ranked = valueOf(rankCauses(symptom, known));
        expect(ranked.reduce((sum, cause) => sum + cause.likelihood, 0)).toBeCloseTo(1, 12);
        for (let i = 1; i < ranked.length; i++) {
          expect(ranked[i]!.likelihood).toBeLessThanOrEqual(ranked[i - 1]!.likelihood);
        }
      }),
    );
    for (const id of ids) {
      for (const cause of valueOf(rankCauses(id, {}))) expect(cause.because).toEqual([]);
    }
  });

  it('has the doctrine of the sheet on a lost contact: clamped again in the first minutes only, stripped later', () => {
    const { wayBack } = first('no-film', { suddenStep: true });
    const later = wayBack.slice(wayBack.indexOf('Later'));
    expect(later).toMatch(/never clamp it again/);
    expect(later).toMatch(/set the current down.*let it finish.*must be stripped and done again/);
    expect(lostContactOnPaper(240)).toMatch(
      /set the current down.*let it finish.*must be stripped and done again/,
    );
    for (const { causes } of SYMPTOMS)
      for (const cause of causes)
        expect(cause.wayBack).not.toMatch(/finish the remaining charge|next part\.$/);
  });

  it('names the job’s own figure that speaks', () => {
    expect(first('soft', { bathEndK: 300.45, freeAcidKgPerM3: 180 }).because.join()).toContain('(27.3 °C)');
    expect(first('pale', { thicknessM: 5e-6, dyeK: 333, dyePh: 5.5 }).because.join()).toContain('(5.00 µm)');
    expect(first('thin', { chargeShare: 0.8 }).because.join()).toContain('(80 %)');
  });

  it('evidence for a cause never makes it less likely', () => {
    for (const symptom of SYMPTOMS) {
      for (const cause of symptom.causes) {
        for (const evidence of cause.evidence) {
          expect(evidence.raises).toBeGreaterThan(1);
          expect(evidence.otherwise).toBeLessThan(1);
          const value =
            evidence.side === 'is'
              ? evidence.limit
              : evidence.side === 'above'
                ? evidence.limit * 2
                : evidence.limit / 2;
          const facts = { [evidence.fact]: value } as TroubleFacts;
          const share = (known: TroubleFacts) =>
            valueOf(rankCauses(symptom.id, known)).find((ranked) => ranked.id === cause.id)!.likelihood;
          const others = symptom.causes.filter((other) =>
            other.evidence.some((e) => e.fact === evidence.fact),
          );
          // Where another cause feeds on the same fact, both may rise: then the shares only move between them.
          if (others.length === 1) expect(share(facts)).toBeGreaterThan(share({}));
        }
      }
    }
  });

  it('two-sided evidence counts once: pH too high speaks for it although it is not too low', () => {
    const ranked = valueOf(rankCauses('pale', { dyePh: 8 }));
    expect(ranked.find((cause) => cause.id === 'dye-ph')!.because).toHaveLength(1);
    expect(first('pale', { dyePh: 8, thicknessM: 15e-6 }).id).toBe('dye-ph');
  });

  it('every cause has a check that tells and a way back; ids are unique within a symptom', () => {
    for (const symptom of SYMPTOMS) {
      const ids = symptom.causes.map((cause) => cause.id);
      expect(new Set(ids).size).toBe(ids.length);
      expect(ids.length).toBeGreaterThan(1);
      for (const cause of symptom.causes) {
        expect(cause.check).toMatch(/\.$/);
        expect(cause.wayBack).toMatch(/\.$/);
      }
    }
    expect(new Set(SYMPTOMS.map((s) => s.id)).size).toBe(SYMPTOMS.length);
    expect(rankCauses('nothing', {})).toMatchObject({ ok: false, error: { code: 'unknown-symptom' } });
  });
});
