import { failure, success, type Result } from '../result.ts';
import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { Cause, Evidence, TroubleFacts, TroubleNumbers } from './trouble-facts.ts';
import { SYMPTOMS } from './trouble-table.ts';

export interface RankedCause {
  readonly id: string;
  readonly text: string;
  /** Share among the causes of this symptom, 0-1; they add up to one. */
  readonly likelihood: number;
  /** What in this job speaks for it; empty where only experience does. */
  readonly because: readonly string[];
  readonly check: string;
  readonly wayBack: string;
}

/**
 * Causes of a symptom, likeliest first: how often each is met, times what this job’s own figures say for or against it,
 * as shares of one. Two pieces of evidence on the same fact count once, the stronger. Fails with `unknown-symptom`.
 */
export function rankCauses(symptomId: string, facts: TroubleFacts): Result<readonly RankedCause[]> {
  const symptom = SYMPTOMS.find((candidate) => candidate.id === symptomId);
  if (!symptom) {
    return failure('unknown-symptom', 'This symptom is not in the table.', 'Choose one from the list.');
  }
  const weighed = symptom.causes.map((cause) => weigh(cause, facts));
  const total = weighed.reduce((sum, { weight }) => sum + weight, 0);
  return success(
    weighed
      .map(({ cause, weight, because }) => ({
        id: cause.id,
        text: cause.text,
        likelihood: weight / total,
        because,
        check: cause.check,
        wayBack: cause.wayBack,
      }))
      .sort((a, b) => b.likelihood - a.likelihood),
  );
}

function weigh(cause: Cause, facts: TroubleFacts) {
  const because: string[] = [];
  const perFact = new Map<string, number>();
  for (const evidence of cause.evidence) {
    const speaks = holds(evidence, facts);
    if (speaks === undefined) continue;
    if (speaks) because.push(evidence.because + said(evidence, facts));
    const factor = speaks ? evidence.raises : evidence.otherwise;
    const before = perFact.get(evidence.fact);
    perFact.set(evidence.fact, before === undefined ? factor : Math.max(before, factor));
  }
  const weight = [...perFact.values()].reduce((product, factor) => product * factor, cause.usual);
  return { cause, weight, because };
}

const celsius = (kelvin: number): string => formatIn('temperature', kelvin, '°C').text;
const percent = (share: number): string => formatIn('fraction', share, '%', 2).text;
const grams = (kgPerM3: number): string => formatIn('massConcentration', kgPerM3, 'g/L').text;
const plain = (value: number): string => formatNumber(value, 2);

/** How the job's own figure behind a piece of evidence reads. */
const SAID: Readonly<Record<keyof TroubleNumbers, (value: number) => string>> = {
  contactLoad: (load) => `${percent(load)} of it`,
  areaSpread: (spread) => `up to ${percent(spread - 1)} more`,
  bathStartK: celsius,
  bathEndK: celsius,
  currentDensityAPerM2: (j) => formatIn('currentDensity', j, 'A/dm²').text,
  thicknessM: (d) => formatIn('length', d, 'µm').text,
  freeAcidKgPerM3: grams,
  aluminiumKgPerM3: grams,
  chargeShare: percent,
  voltageShare: percent,
  supplyShare: percent,
  rampS: (s) => formatIn('time', s, 'min', 2).text,
  dyeK: celsius,
  dyePh: (ph) => `pH ${plain(ph)}`,
  sealK: celsius,
  sealPh: (ph) => `pH ${plain(ph)}`,
  waitBeforeDyeS: (s) => formatIn('time', s, 'min', 2).text,
  siliconFraction: percent,
  copperFraction: percent,
  fillerSiliconFraction: percent,
  pieces: (count) => `${Math.round(count)} pieces`,
  alloys: (count) => `${Math.round(count)} alloys`,
  unsortedPieces: (count) => `${Math.round(count)} pieces`,
  chlorideKgPerM3: grams,
};

/** " (27.3 °C)", the figure that speaks; '' for what is only so or not. */
function said(evidence: Evidence, facts: TroubleFacts): string {
  if (evidence.side === 'is') return '';
  if (evidence.fact === 'alloys' && facts.alloyNames) return ` (${facts.alloyNames})`;
  const value = facts[evidence.fact];
  return value == null ? '' : ` (${SAID[evidence.fact](value)})`;
}

/** Whether the evidence is there; undefined while the fact is unknown. */
function holds(evidence: Evidence, facts: TroubleFacts): boolean | undefined {
  if (evidence.side === 'is') {
    const flag = facts[evidence.fact];
    return flag == null ? undefined : flag === evidence.limit;
  }
  const value = facts[evidence.fact];
  if (value == null) return undefined;
  return evidence.side === 'above' ? value > evidence.limit : value < evidence.limit;
}
