import type { TroubleFacts } from '../finish/trouble-facts.ts';
import { deliveredCharge } from '../run/delivered-charge.ts';
import type { Readings } from '../run/readings.ts';
import { runFacts } from '../run/run-facts.ts';
import type { RunRecord } from './run-record.ts';

/**
 * What a run knows of itself, for weighing the causes of a fault; what was not read stays unknown, and what the job knew before stands
 * where the run says nothing.
 *
 * @param ofJob see job/finish-plan.ts
 */
export function runTroubleFacts(
  record: RunRecord,
  readings: Readings,
  filmM: number | null,
  ofJob: TroubleFacts = {},
): TroubleFacts {
  const read = Object.entries(ownFacts(record, readings, filmM)).filter(([, value]) => value !== null);
  // A run from before alloys were compared knows only how many pieces hung together.
  const before = ofJob.unsortedPieces === undefined ? { unsortedPieces: ofJob.pieces ?? null } : {};
  return { ...ofJob, ...before, ...Object.fromEntries(read) };
}

function ownFacts(record: RunRecord, readings: Readings, filmM: number | null): TroubleFacts {
  const { plan, events } = record;
  const facts = runFacts(readings, plan.rampS, events);
  const planned = plan.chargePerVolumeCPerM3 * plan.thicknessM * plan.areaM2;
  const said = (kinds: readonly string[]): boolean => events.some(({ kind }) => kinds.includes(kind));
  const read = readings.tS.length > 1;
  return {
    bathStartK: facts.firstTemperatureK,
    bathEndK: facts.lastTemperatureK,
    currentDensityAPerM2: facts.steadyCurrentA === null ? null : facts.steadyCurrentA / plan.areaM2,
    thicknessM: filmM,
    freeAcidKgPerM3: plan.acidKgPerM3,
    chargeShare: read ? deliveredCharge(readings).chargeC / planned : null,
    voltageShare:
      facts.steadyVoltageV === null || plan.expectedVoltageV === null
        ? null
        : facts.steadyVoltageV / plan.expectedVoltageV,
    rampS: plan.rampS,
    suddenStep: read ? said(['contact-lost', 'contact-total', 'contact-loose', 'short']) : null,
    supplyAtLimit: read ? said(['supply-limit', 'wrong-mode']) : null,
  };
}
