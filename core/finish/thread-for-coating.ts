import { unifiedThread } from '../reference/asme-b1-1.ts';
import { positionGap } from '../reference/iso-965.ts';
import { tapLimitOver } from '../reference/tap-limits.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { BuildUp } from './build-up.ts';
import { coatedEnds, flankFactor, liesWithin, type CoatedWindow, type Window } from './coated-window.ts';
import { sayWindow } from './say-window.ts';

/** What to say of a thread after coating: each one sentence, or two; `toCut` null where no class or tap is held for it. */
export interface ThreadWords {
  /** What its GO gauge says. */
  readonly gauge: string;
  /** What its class leaves for a film, and what the film takes. */
  readonly room: string;
  readonly toCut: string | null;
}

/**
 * The words for a thread that a film makes tighter; null where an etch or a strip takes more than the film brings, or may make it too
 * loose while its class has room for the film.
 * @param window of its pitch diameter
 */
export function threadForCoating(
  limits: ThreadLimits,
  growth: BuildUp,
  window: CoatedWindow,
  system: UnitSystem,
): ThreadWords | null {
  if (growth.usualM <= 0) return null;
  const factor = flankFactor(limits.flankAngleRad);
  const { go, allowanceM } = limits.gauge;
  const inner = limits.kind === 'internal';
  const say = stepSayer(system);
  const mostM = factor * growth.highM;
  const film = `the film takes ${say(factor * Math.max(0, growth.lowM), mostM)} of its pitch diameter`;
  const room = `${limits.toleranceClass} leaves ${allowanceM > 0 ? say(allowanceM) : 'nothing'} for a coating, and ${film}.`;
  const way = inner ? 'goes into' : 'goes on';
  if (window.advice === 'coat as it is') {
    const gauge =
      mostM <= allowanceM
        ? `After coating the ${go} still ${way} every one.`
        : `After coating try the ${go} on those cut to the very ${inner ? 'low' : 'high'} limit.`;
    return { gauge, room, toCut: null };
  }
  if (mostM <= allowanceM) return null;
  const { before, changeM } = window;
  const width = before.highM - before.lowM;
  const pastM = Math.abs(changeM) - allowanceM;
  const percent = Math.round((1 - pastM / width) * 100);
  const gauge =
    percent <= 0
      ? `No ${limits.designation} would pass its GO gauge after coating.`
      : percent >= 100
        ? `Some of ${limits.designation} may not pass their GO gauge after coating.`
        : `Only those in ${percent} % of the tolerance of ${limits.designation} pass their GO gauge after coating.`;
  const metric = limits.designation.startsWith('M');
  return {
    gauge,
    room: `${room} Coated, it has to pass the ${go}.`,
    toCut: inner
      ? metric
        ? isoTap(limits, growth, before, system)
        : inchTap(limits, growth, window, system)
      : metric
        ? null
        : boltClass(limits, mostM, say),
  };
}

type Say = (lowM: number, highM?: number) => string;

/** Small lengths as the trade says them, upwards: "31 to 41 µm", "0.0012 to 0.0016 in (31 to 41 µm)". */
function stepSayer(system: UnitSystem): Say {
  const range = (low: string, high: string): string => (low === high ? high : `${low} to ${high}`);
  const um = (metres: number): string => String(Math.ceil(metres * 1e6 - 0.05));
  const inches = (metres: number): string => (metres / 25.4e-3).toFixed(4);
  return (lowM, highM = lowM) => {
    const micro = `${range(um(lowM), um(highM))} µm`;
    return system === 'us' ? `${range(inches(lowM), inches(highM))} in (${micro})` : micro;
  };
}

/**
 * The class to tap a 6H thread to. ISO 965-1 means position G for nuts that are coated: the limit with the most metal, basic H, is
 * what the coated thread may not pass, so 6G will do as long as the film closes it by no more than G lies above H. 6g is the bolts'
 * own class for a film, and nothing wider is held for it.
 */
function isoTap(limits: ThreadLimits, growth: BuildUp, before: Window, system: UnitSystem): string | null {
  if (limits.toleranceClass !== '6H') return null;
  const gap = positionGap(limits.pitchM);
  if (!gap.ok) return null;
  const factor = -flankFactor(limits.flankAngleRad);
  const tapped: Window = { lowM: before.lowM + gap.value, highM: before.highM + gap.value };
  const ends = coatedEnds(tapped, factor, growth);
  const is = `6G (pitch diameter ${sayWindow(tapped, system)})`;
  const um = stepSayer('metric');
  const most = Math.max(0, -factor * growth.highM);
  if (!liesWithin({ lowM: ends.lowM, highM: before.highM }, before)) {
    return `A tap for ${is} is not enough: it is ${um(gap.value)} over 6H, and the film takes up to ${um(most)}. A tap that much oversize, or a thinner film, is needed.`;
  }
  const loose = ends.highM - before.highM;
  const over = loose > 0.05e-6 ? `, the loosest up to ${um(loose)} over the high limit` : '';
  return `A tap for ${is} will do: after coating no thread is tighter than 6H${over}.`;
}

/** All B classes begin at basic size, so room for a film comes from the tap: the first limit that lies over basic by all that it may take. */
function inchTap(limits: ThreadLimits, growth: BuildUp, window: CoatedWindow, system: UnitSystem): string {
  const { within } = window;
  const factor = -flankFactor(limits.flankAngleRad);
  const tap = tapLimitOver(-factor * growth.highM);
  if (!tap.ok) return `${tap.error.message} That is not enough for this film. ${tap.error.remedy}`;
  const cut: Window = { lowM: within.lowM + tap.value.lowM, highM: within.lowM + tap.value.highM };
  const is = `of pitch limit ${tap.value.name}, ${sayWindow(cut, system)},`;
  return liesWithin(coatedEnds(cut, factor, growth), within)
    ? `A ground tap ${is} will do; a worn or wobbling one cuts larger, so gauge the first.`
    : `A ground tap ${is} leaves room for the film, but may end looser than ${limits.toleranceClass}: plug the thread, or take a thinner film.`;
}

/** A 3A bolt has no allowance: whether 2A’s would do (ASME B1.1, coated threads, from memory). */
function boltClass(limits: ThreadLimits, mostM: number, say: Say): string | null {
  const thread = /^(\S+)-(\d+) UN[CF]-3A$/.exec(limits.designation);
  if (!thread) return null;
  const looser = unifiedThread(thread[1]!, Number(thread[2]), '2A');
  if (!looser.ok) return null;
  const { allowanceM } = looser.value.gauge;
  return allowanceM >= mostM
    ? `2A leaves ${say(allowanceM)}, enough for this film: ask whether it may be cut to 2A.`
    : `2A would not do either: it leaves ${say(allowanceM)}.`;
}
