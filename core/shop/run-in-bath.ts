import type { BathEntry } from '../bath/bath-history.ts';
import { failure, success, type Result } from '../result.ts';
import { powerSpan } from '../run/power-span.ts';
import { isSimulated, type RunRecord } from './run-record.ts';

/**
 * What a finished run did to its bath, as a line of the bath's history; null for a practise run and one that never had the power
 * on. Failure: `run-without-charge` (no readings, so nobody knows what passed).
 */
export function runInBath(record: RunRecord): Result<Extract<BathEntry, { kind: 'run' }> | null> {
  const { endedAtMs, facts, plan } = record;
  if (endedAtMs === null || isSimulated(record)) return success(null);
  if (facts === null || facts.readings < 2) {
    return powerSpan(record.clock).onMs !== null
      ? failure(
          'run-without-charge',
          `“${record.name}” has no readings, so what it took from the bath is not known.`,
          'Count the job as run in the bath’s history, or put the logger’s file into the run.',
        )
      : success(null);
  }
  return success({
    kind: 'run',
    at: new Date(endedAtMs).toISOString(),
    chargeC: facts.chargeC,
    areaM2: plan.areaM2,
    chargePerVolumeCPerM3: plan.chargePerVolumeCPerM3,
  });
}
