import { FLOWED_SHARE, hasNoCurrent, readingsToBelieve } from '../../core/run/no-current.ts';
import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { asksForPowerOff } from '../../core/run/watch-advice.ts';
import { saidStage } from '../../core/shop/said-words.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { RunCall } from './run-calls.ts';
import { hasNoVoltage, highestVoltageV, newestReading, shownOff } from './newest-reading.ts';
import { isHoldOver, powerKnown } from './run-power.ts';
import type { RunView } from './run-view.ts';

/** So long after the ramp's end the supply may still be switched on for the first time, s. */
const FIRST_ON_S = 60;
/** So long may somebody take who was told to switch off and clamp again, s of the hands' own time; later it rings. */
const CLAMPING_S = 300;

/**
 * In a ramp or hold, with no pause said, the newest readings show no current: the film has stopped growing, and somebody must hear
 * it. It is over by itself once a reading shows current.
 */
export function noCurrentCall(view: RunView, system: UnitSystem): RunCall | null {
  const { record, readings, timers, step, powerS, powerIsOn } = view;
  const timer = timers[step];
  if (!record || !powerIsOn || powerS === null || timer?.state !== 'running' || isHoldOver(view)) return null;
  const last = newestReading(view);
  if (!last || !hasNoCurrent(last, record.plan)) return null;
  const plannedA = plannedCurrentA(record.plan);
  const { currentA, tS } = readings;
  const flowedAt = currentA.findLastIndex((each) => each > FLOWED_SHARE * plannedA);
  const waits = timer.step.kind === 'ramp' || powerS < record.plan.rampS + FIRST_ON_S;
  if (flowedAt < 0 && waits) return null;
  const first = flowedAt + 1;
  if (tS.length - first < readingsToBelieve(record.origin)) return null;
  const sinceS = tS[first]!;
  const id = `no-current ${sinceS}`;
  const rings =
    !record.silencedCalls.includes(id) &&
    !(powerS - sinceS < CLAMPING_S * (record.practise?.speed ?? 1) && wasAskedFor(view, sinceS));
  const volts = formatIn('voltage', last.voltageV, 'V', 3).text;
  return {
    id,
    kind: 'no-current',
    rings,
    event: null,
    message: hasNoVoltage(last, highestVoltageV(view))
      ? 'No current: the supply is off, a fuse has gone, or a lead is off.'
      : `No current at ${volts}: the load has lost contact, or a lead is off.`,
    remedy: `Switch the supply off, put it right, ramp up again. Nothing is lost; the film waits${filmNow(view, system, ' at ')}. Meant so? Pause the timer.`,
  };
}

/** An alarm asked for the switch, and the current went with it or soon after. */
function wasAskedFor({ record, events }: RunView, sinceS: number): boolean {
  if (!record) return false;
  return events.some((event) => {
    const stage = saidStage(event, record.plan);
    const withinS = CLAMPING_S * (record.practise?.speed ?? 1);
    return stage !== null && asksForPowerOff(event, stage) && Math.abs(sinceS - event.atS) < withinS;
  });
}

/** Past the hold a supply that is read shows current, or volts at the leads; or the run was ended with the supply on. */
export function stillOnCall(view: RunView, system: UnitSystem): RunCall | null {
  const { record, powerS } = view;
  const last = newestReading(view);
  if (!record || !last || powerKnown(view) !== 'still-on') return null;
  const id = `still-on ${powerS}`;
  const flows = !hasNoCurrent(last, record.plan);
  const call = { id, kind: 'still-on', rings: !record.silencedCalls.includes(id), event: null } as const;
  const shown = flows
    ? formatIn('current', last.currentA, 'A', 3).text
    : formatIn('voltage', last.voltageV, 'V', 3).text;
  if (record.endedAtMs !== null) {
    const isOnce = shownOff(view.readings, record.plan) === 'once';
    return {
      ...call,
      message: isOnce
        ? 'The run was ended, and one reading alone shows the supply off.'
        : `The run was ended ${flows ? 'under current' : 'with the supply on'}, ${shown} at the last reading.`,
      remedy: 'Switch the supply off, look, then say that it is off; then hands in.',
    };
  }
  return {
    ...call,
    message: flows
      ? `Current still flows, ${shown}: the part is under power.`
      : `The supply is still on: ${shown} at the leads.`,
    remedy: `Switch the supply off first, then look, then hands in.${flows ? ` The film still grows and is counted${filmNow(view, system, ': ')}.` : ''}`,
  };
}

/** Film of the wanted one, as the board has it, or how much too thick it is, and the charge once it is worth a word. */
function filmNow({ record, progress }: RunView, system: UnitSystem, before: string): string {
  if (!record || !progress) return '';
  const [unit, perUnitM, digits] = system === 'us' ? ['mil', 25.4e-6, 2] : ['µm', 1e-6, 1];
  const film = (valueM: number): string => (valueM / perUnitM).toFixed(digits);
  const chargeC = progress.chargeC.valueSi;
  const charge = chargeC < WORTH_SAYING_C ? '' : `, ${formatIn('charge', chargeC, 'A·h', 3).text}`;
  const [nowM, wantedM] = [progress.thicknessM.valueSi, record.plan.thicknessM];
  const [now, wanted, more] = [film(nowM), film(wantedM), film(nowM - wantedM)];
  const isTooMuch = nowM > wantedM && Number(more) > 0;
  return isTooMuch
    ? `${before}${now} ${unit}, wanted ${wanted} ${unit}, ${more} ${unit} too much${charge}`
    : `${before}${now} of ${wanted} ${unit}${charge}`;
}

/** A hundredth of an ampere-hour. */
const WORTH_SAYING_C = 36;
