import { failure, success, type Result } from '../result.ts';
import type { Cause, Evidence, TroubleFacts } from './trouble-facts.ts';
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
    if (speaks) because.push(evidence.because);
    const factor = speaks ? evidence.raises : evidence.otherwise;
    const before = perFact.get(evidence.fact);
    perFact.set(evidence.fact, before === undefined ? factor : Math.max(before, factor));
  }
  const weight = [...perFact.values()].reduce((product, factor) => product * factor, cause.usual);
  return { cause, weight, because };
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
