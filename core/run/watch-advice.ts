import { uncapital } from '../units/first-letter.ts';
import { formatIn, formatNumber, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { timerText } from '../units/timer-text.ts';
import type { WatchEvent } from './watch-event.ts';

/** Where the run stands when something is said. */
export interface AdviceStage {
  readonly mode: 'current' | 'voltage';
  /** Film so far, m. */
  readonly thicknessM: number;
  /** The plan's current for the whole area, A. */
  readonly plannedA: number;
  /** What flows now, A; null or absent where that is not known. */
  readonly currentNowA?: number | null | undefined;
  /** The bath as it was read last, K; null or absent where it was not. */
  readonly bathTemperatureK?: number | null | undefined;
  /** What the bath is to be kept below, K; null or absent where that is not known. */
  readonly bathLimitK?: number | null | undefined;
  /** Its film takes far more volts as it grows, and burns sooner; see trace-signal.ts. */
  readonly isHardCoat?: boolean | undefined;
  /** The reader's units; metric where not said. */
  readonly system?: UnitSystem | undefined;
}

export interface Advice {
  readonly message: string;
  readonly remedy: string;
}

/**
 * Up to here a clamp on freshly bared metal, set firmly, still makes contact and the film grows on evenly enough; above it the
 * oxide no longer lets a new contact through (common practice; a micrometre of film stands off tens of volts).
 */
export const RECLAMP_UP_TO_M = 1e-6;

const RECLAMP =
  'Switch the power off before you touch anything, file the spot bare, clamp it again firmly and start with a new ramp.';
const SET_DOWN =
  'set the current down by the share of the area that let go, so that the rest does not burn, and let it finish';
const STRIP = 'the part that let go must be stripped and done again';
const REDO = `${STRIP}, because its oxide no longer lets a new contact through.`;
/** The film gets soft and powdery from here on (handbooks, from memory). */
const WARM_K = 297.15;

/**
 * Until when a lost contact can be clamped again, seconds after power on: the film has `RECLAMP_UP_TO_M` by then.
 *
 * @param rampS length of the even ramp, s
 * @param growthSPerM how long a metre of film takes at the full current, s/m: charge constant over current density
 */
export function reclampUpToS(rampS: number, growthSPerM: number): number {
  if (!(growthSPerM > 0)) throw new RangeError(`reclampUpToS: growthSPerM is ${growthSPerM}`);
  const fullS = growthSPerM * RECLAMP_UP_TO_M;
  // Up to the end of an even ramp, d = t² / (2 · ramp · growth).
  const inRampS = Math.sqrt(2 * rampS * fullS);
  return inRampS < rampS ? inRampS : rampS / 2 + fullS;
}

/** What to do when a contact is lost, as `watchAdvice` says it, for a sheet that is printed before. */
export function lostContactOnPaper(upToS: number): string {
  const minutes = Math.max(1, Math.floor(upToS / 60));
  return `In the first ${minutes} min of power: ${uncapital(RECLAMP)} Later: ${SET_DOWN}; ${STRIP}.`;
}

/** The same of a fault that is looked into afterwards or while the run still goes on. */
export const LOST_CONTACT_WAY_BACK = `Under a micrometre of film, in the first minutes: ${uncapital(RECLAMP)} Later never clamp it again: ${SET_DOWN}; ${REDO} More or larger contacts next time.`;

/** The current that the advice on a lost contact asks for, A; null where it asks for none. */
export function currentAskedForA(
  event: Pick<WatchEvent, 'kind' | 'likelyAreaLeft'>,
  { mode, thicknessM, plannedA }: AdviceStage,
): number | null {
  const isLost = event.kind === 'contact-lost' || event.kind === 'contact-drift';
  return isLost && mode === 'current' && thicknessM > RECLAMP_UP_TO_M
    ? plannedA * event.likelyAreaLeft
    : null;
}

/** Whether somebody has done what was asked: the current is nearer to that than to the plan's. */
export function isSetDown(
  currentNowA: number | null,
  askedA: number,
  plannedA: number,
): currentNowA is number {
  return currentNowA !== null && currentNowA > 0.05 * askedA && currentNowA < (askedA + plannedA) / 2;
}

/** Whether the advice on it begins with the switch: the current that is gone then is as it should be. */
export function asksForPowerOff(
  { kind }: Pick<WatchEvent, 'kind'>,
  { thicknessM }: Pick<AdviceStage, 'thicknessM'>,
): boolean {
  if (kind === 'contact-lost' || kind === 'contact-drift') return thicknessM <= RECLAMP_UP_TO_M;
  return kind === 'contact-loose' || kind === 'contact-total' || kind === 'short' || kind === 'voltage-high';
}

/** What it looks like, and what to do now at this stage of the run. Each one sentence or two. */
export function watchAdvice(event: WatchEvent, stage: AdviceStage): Advice {
  const early = stage.thicknessM <= RECLAMP_UP_TO_M;
  const [low, high] = event.areaLeft;
  const lostText = `about ${percent(1 - event.likelyAreaLeft)} of the area (${percent(1 - high)} to ${percent(1 - low)})`;
  const system = stage.system ?? 'metric';
  const bathK = stage.bathTemperatureK ?? null;
  const limitK = stage.bathLimitK ?? WARM_K;
  const { isHardCoat = false } = stage;
  const askedA = currentAskedForA(event, stage);
  const amps = (valueA: number): string => formatIn('current', valueA, 'A').text;
  const nowA = stage.currentNowA ?? null;
  // A log may begin before its zero.
  const sinceText = `${event.sinceS < 0 ? '−' : ''}${timerText(Math.abs(event.sinceS))}`;
  const redo =
    askedA === null
      ? `Let the rest finish; ${REDO}`
      : isSetDown(nowA, askedA, stage.plannedA)
        ? `The current is set down to ${amps(nowA)}: let the rest finish; ${REDO}`
        : `Set the current down to ${amps(askedA)} so that the rest does not burn and let it finish; ${REDO}`;
  switch (event.kind) {
    case 'contact-lost':
      return {
        message: `It looks as if ${lostText} has lost contact.`,
        remedy: `${early ? RECLAMP : redo}${event.alone ? ` If the reading at ${sinceText} was wrong, put that right: then nothing is lost.` : ''}`,
      };
    case 'contact-drift':
      return {
        message: `The live area has shrunk little by little: ${lostText} seems to be without contact.`,
        remedy: early ? RECLAMP : redo,
      };
    case 'contact-loose':
      return {
        message: 'A contact comes and goes.',
        remedy: early
          ? RECLAMP
          : 'Switch the power off, press the clamp home without turning it on the part, and start with a new ramp; if it does not hold, strip and redo.',
      };
    case 'contact-total':
      return {
        message: 'No current flows any more: the whole load has lost contact, or a lead is off.',
        remedy: early
          ? RECLAMP
          : 'Switch the power off, then look at leads and bar first; if a lead came off, join it and ramp up again, and if the clamp moved on the part, strip and redo.',
      };
    case 'short':
      return {
        message: 'The voltage has collapsed while current flows: a part or hanger touches the cathode.',
        remedy: 'Switch the power off at once, move the load clear of the cathodes and look for burnt spots.',
      };
    case 'burning':
      return {
        message: 'The load takes more and more current for its voltage, as a burning part does.',
        remedy:
          'Halve the current now, stir harder and check the bath’s temperature; if dark or powdery spots show, stop, strip and redo at a lower density.',
      };
    case 'contact-resistance':
      return {
        message: `A contact or lead has got worse, or at most ${percent(1 - low)} of the area was lost.`,
        remedy:
          'Feel whether a clamp or lead gets warm outside the bath, with the power off; watch for more.',
      };
    case 'contact-unsure':
      return {
        message: `The readings can’t tell whether what let go has contact again; ${percent(low)} to ${percent(high)} of the area has.`,
        remedy:
          'The film counts as on the whole area, so that it is never called done too early. To be sure switch the power off, pull at the clamp, and ramp up again; else measure that part before you dye.',
      };
    case 'reading-doubtful':
      return {
        message: `Either this reading is wrong, ${event.alone ? `or the one at ${sinceText} was, ` : ''}or up to ${percent(1 - low)} of the area has lost contact.`,
        remedy: event.alone
          ? `Read volts and amps again now and enter them. If the reading at ${sinceText} was wrong, put that right.`
          : 'Read volts and amps again now and enter them: the next reading tells which.',
      };
    case 'reading-was-off':
      return {
        message: 'The readings are as before: one was wrong, and no contact was lost.',
        remedy: 'Nothing to do; the charge counts it as it was read.',
      };
    case 'loss-unseen':
      return {
        message:
          'A lost contact can’t be seen in these readings: of a hard coat at a held voltage the film lowers the current as much from one to the next.',
        remedy:
          'Have the supply read every few seconds, or hold the current; this time measure the film of every part.',
      };
    case 'supply-limit':
      return {
        message: 'The supply is at its limit and no longer holds what the plan says.',
        remedy: isHardCoat
          ? 'Raise its limit if it can give more; if not, the current goes on falling as the film of a hard coat grows, so the end comes later than is told here, or never: stop when it hardly grows any more, and measure the film.'
          : 'Raise its limit if it can give more; if not, let the run go on until the charge is reached, which takes longer.',
      };
    case 'wrong-mode':
      return {
        message: `The supply holds the ${stage.mode === 'current' ? 'voltage' : 'current'}, not the ${stage.mode}.`,
        remedy: `Turn the ${stage.mode === 'current' ? 'voltage' : 'current'} limit up until the supply shows that it holds the ${stage.mode}.`,
      };
    case 'supply-off':
      return {
        message: 'Neither current nor voltage: the supply is off, a fuse has gone, or a lead to it is off.',
        remedy: early
          ? 'Ramp up again when the load is ready.'
          : 'Ramp up again slowly; the film there is lets the current through as before.',
      };
    case 'current-off-plan':
      return {
        message: 'The current is not what the plan says.',
        remedy:
          'Check the set value, and that the supply’s other limit is turned up far enough; with the power off pull at every part; then look at the bath’s temperature and the typed area. The end time follows the charge either way.',
      };
    case 'voltage-off-plan':
      return {
        message: 'The voltage at this current is not what your own runs lead to expect.',
        remedy:
          'Check whether every part has contact, whether the area was typed right, and the bath’s temperature and strength.',
      };
    case 'voltage-high':
      return {
        message:
          'The voltage at this current is well above what handbooks give: part of the load may have no contact, and the rest then gets too much.',
        remedy: early
          ? 'Switch the power off, pull at every part and contact, and start with a new ramp; if all hold, check that the area was typed right and that the bath is neither cold nor weak.'
          : 'Switch the power off and pull at every part: one that never had contact has no film yet and can have a run of its own; if all hold, check that the area was typed right and that the bath is neither cold nor weak.',
      };
    case 'voltage-low':
      return {
        message:
          'The voltage at this current is well below what handbooks give: the area in the bath may be larger than typed, and the film then gets too thin.',
        remedy: 'Check the area and its unit, and whether the bath is warm or strong.',
      };
    case 'bath-warming':
      return {
        message:
          bathK === null
            ? 'The bath gets warmer.'
            : `The bath is at ${degrees(bathK, system)} and gets warmer.`,
        remedy: `Cool or stir it; above about ${degrees(limitK, system)} the film gets soft${isHardCoat ? ', and burns sooner' : ' and dull'}.`,
      };
    case 'bath-too-warm':
      return {
        message: `The bath is ${bathK === null ? '' : `at ${degrees(bathK, system)}, `}above the ${degrees(limitK, system)} that it is to be kept below.`,
        remedy: isHardCoat
          ? 'Cool it and stir harder now; until it is cold again halve the current, for a hard coat gets soft in a warm bath and burns where it is warmest. The end time follows the charge.'
          : 'Cool it now, with ice in bottles or a chiller, and stir: the film gets soft and dull. If it can’t be cooled, set the current down; the end time follows the charge.',
      };
    case 'fast-ramp':
      return {
        message: 'The current was all there long before the planned ramp had brought it up.',
        remedy: isHardCoat
          ? 'Set it down now and bring it up over the planned time: pushed early, a hard coat burns at edges and contacts. Look there before you go on.'
          : 'Look at edges and contacts, where it burns first; next time bring it up over the planned time. The end time follows the charge.',
      };
    case 'fast-again':
      return {
        message: 'The current was all there at once after the pause.',
        remedy: `${isHardCoat ? 'If the power was off, set the current down now and bring it up again over a minute or two' : 'Whenever the power was off, bring the current up again over a minute or two'}: the film insulates, and a peak of voltage can burn a contact. Look at contacts and edges${isHardCoat ? ' before you go on' : ''}. The end time follows the charge.`,
      };
    case 'slow-ramp':
      return {
        message: 'The current rises more slowly than planned.',
        remedy: 'Go on; the end time follows the charge.',
      };
    case 'contact-back':
      return {
        message: 'The lost area has contact again.',
        remedy: 'Its film is thinner by the time it was off; measure it before you dye.',
      };
    case 'gap':
      return {
        message: 'There were no readings for a while.',
        remedy: `Check the cable; what passed meanwhile is in the range of the film, not in its value.${isHardCoat ? ' A contact that let go meanwhile may look like the film of a hard coat: measure every part at the end.' : ''}`,
      };
  }
}

function degrees(kelvin: number, system: UnitSystem): string {
  return formatQuantity('temperature', kelvin, system, 3).text;
}

function percent(share: number): string {
  return `${formatNumber(Math.max(0, share) * 100, 2)} %`;
}
