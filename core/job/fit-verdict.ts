import {
  coatedEnds,
  coatedWindow,
  liesWithin,
  type CoatedWindow,
  type FitAdvice,
  type Window,
} from '../finish/coated-window.ts';
import { sayWindow } from '../finish/say-window.ts';
import { sayQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { PartFit } from './job-fits.ts';
import type { FitGrowth } from './job-growth.ts';

/**
 * `keeps`: masked, so it stays as machined. `machined`: machined to a size that ends inside the limits. `machined off`: the size it
 * is machined to does not, by the plan as it stands. `tick again`: said to be machined, the size was not kept. `bare in lye`:
 * masked, and eaten by the lye of a strip where it is not plugged in it too. `holds`: no tolerance to lose.
 */
export type FitVerdict =
  | FitAdvice
  | 'keeps'
  | 'machined'
  | 'machined off'
  | 'tick again'
  | 'bare in lye'
  | 'bare'
  | 'holds'
  | 'unread';

export interface FitCase {
  readonly fit: PartFit;
  readonly masked: boolean;
  readonly window: CoatedWindow;
  /** Null where the size has no tolerance. */
  readonly advice: FitAdvice | null;
  /** Change of the size for each unit of growth. */
  readonly factor: number;
  readonly growth: FitGrowth;
  readonly thread: boolean;
  /** What is said of a size that nobody machines otherwise. */
  readonly text: string;
  readonly system: UnitSystem;
}

export interface SettledFit {
  readonly verdict: FitVerdict;
  readonly text: string;
  /** What it is machined to, as the user said it. */
  readonly machined: Window | null;
  /** Where it ends, over the whole range of what coats or eats it; null where it stays as it is. */
  readonly ends: Window | null;
  /** It was coated before, and the film taken off: too late to machine it for the coating. */
  readonly stripped: boolean;
}

/** How a fit comes out: by the drawing's limits, or by those the user has said it is machined to. */
export function settleFit(of: FitCase): SettledFit {
  const { fit, masked, window, advice, factor, growth, text } = of;
  const machined = fit.machinedTo === 'not kept' || advice === null ? null : fit.machinedTo;
  const change = masked ? lossInStrips(growth) : growth;
  const ends = change && coatedEnds(machined ?? window.before, factor, change);
  const settled = { machined, ends, stripped: !masked && growth.strips !== undefined };
  if (advice === null) {
    return {
      ...settled,
      verdict: 'holds',
      text: masked ? KEEPS : 'No tolerance to lose; the size only moves.',
    };
  }
  if (fit.machinedTo === 'not kept') return { ...settled, verdict: 'tick again', text: tickAgain(of) };
  if (machined && masked && !liesWithin(machined, window.before)) {
    return { ...settled, verdict: 'machined off', text: offMasked(of, machined) };
  }
  if (masked) {
    const holds =
      !change ||
      (machined
        ? liesWithin(ends!, window.before)
        : coatedWindow(window.before, factor, change).advice === 'coat as it is');
    return holds
      ? { ...settled, verdict: 'keeps', text: KEEPS }
      : { ...settled, verdict: 'bare in lye', text: bareText(of, change) };
  }
  if (machined === null) {
    const late = settled.stripped && advice !== 'coat as it is';
    return { ...settled, verdict: advice, text: late ? tooLate(of) : text };
  }
  return liesWithin(ends!, window.within)
    ? { ...settled, verdict: 'machined', text: machinedText(of, machined) }
    : { ...settled, verdict: 'machined off', text: offText(of, machined, ends!) };
}

const KEEPS = 'Masked, so it stays as machined.';

/** What all strips take off a masked size that is bare in their lye, as a growth; null where there is nothing. */
function lossInStrips({ strips, source }: FitGrowth): FitGrowth | null {
  if (!strips?.bare) return null;
  const { count, bare } = strips;
  return { usualM: -count * bare.usualM, lowM: -count * bare.highM, highM: -count * bare.lowM, source };
}

function sayer({ thread, system }: FitCase): (limits: Window) => string {
  return (limits) => `${thread ? 'a pitch diameter of ' : ''}${sayWindow(limits, system)}`;
}

function machinedText(of: FitCase, machined: Window): string {
  return `You machine it to ${sayer(of)(machined)} before coating, and it ends inside its limits.`;
}

/** Both sizes, and what to do. */
function offText(of: FitCase, machined: Window, ends: Window): string {
  const { window, growth } = of;
  const say = sayer(of);
  const said = `You said it is machined to ${say(machined)}: by the plan as it stands it ends at ${say(ends)}, not surely inside its limits ${say(window.within)}.`;
  const to = window.machineTo && say(window.machineTo);
  if (growth.strips) {
    return `${said} ${to ? `It should have been machined to ${to} before its first coat.` : 'No size before its first coat would have been safe.'} Measure it stripped before you coat it again: another film may bring it back, or it needs a new piece.`;
  }
  return to
    ? `${said} It has to be machined to ${to} now: do that and say so, or bring film and etch back to what it was machined for.`
    : `${said} No size is safe to machine it to now: bring film and etch back to what it was machined for.`;
}

function offMasked(of: FitCase, machined: Window): string {
  const say = sayer(of);
  return `You said it is machined to ${say(machined)}: masked it stays there, outside its limits ${say(of.window.before)}. Coat it, or machine it to its limits and take the tick off.`;
}

function tickAgain(of: FitCase): string {
  const { masked, window } = of;
  const asked =
    'It was ticked as machined first, but an earlier version did not keep to which size, and the plan may have changed since.';
  const to = masked ? window.before : window.machineTo;
  return to
    ? `${asked} Measure it, or look at the sheet it was machined by: ${masked ? 'masked' : 'now'} it has to be ${sayer(of)(to)}. Say whether it is.`
    : `${asked} No size is safe to machine it to now. Say that it is not machined, and mask it.`;
}

/** After a strip no machining makes room for the films before. */
function tooLate(of: FitCase): string {
  const [fate] = of.text.split(/(?<=\.)\s/);
  const { machineTo } = of.window;
  return machineTo
    ? `${fate} It was coated and stripped before, so it ends inside only where it was machined to ${sayer(of)(machineTo)} before its first coat. Was it, say so; else measure it stripped, and coat it only where that leaves room.`
    : `${fate} It was coated and stripped before, and no size before its first coat was safe. Measure it stripped, and coat it only where that leaves room.`;
}

function bareText({ factor, growth, system }: FitCase, { lowM, highM }: FitGrowth): string {
  const um = (metres: number): string => sayQuantity('length', Math.abs(metres), system, 'µm', 2);
  const count = growth.strips!.count;
  const size = um(factor * lowM);
  return `Masked in the bath, but bare in the lye of ${count === 1 ? 'a strip' : `${count} strips`} it loses ${um(highM)} to ${um(lowM)} a surface, up to ${size} on its size. Plug or mask it again before the strip, and say so under Strip and redo in Dye and seal; where it was bare in one, measure it.`;
}
