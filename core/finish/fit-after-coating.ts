import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { success, type Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { BuildUp } from './build-up.ts';
import {
  coatedWindow,
  flankFactor,
  growthFactor,
  type CoatedWindow,
  type FitAdvice,
} from './coated-window.ts';
import { assumedText, parseFit, type FitSide, type ParsedFit } from './parse-fit.ts';
import { threadForCoating } from './thread-for-coating.ts';

export interface FitAfterCoating {
  readonly fit: ParsedFit;
  /** Diameter of a hole or shaft, pitch diameter of a thread. */
  readonly window: CoatedWindow;
  /** Thread crests and roots, where the standard limits them. */
  readonly minor: CoatedWindow | null;
  readonly major: CoatedWindow | null;
  readonly advice: FitAdvice;
  /** A few sentences for the user; of a lost thread what to do stands on a line of its own. */
  readonly text: string;
  readonly change: Figure;
  readonly before: Figure;
  readonly after: Figure;
  /** Null when no size before coating is safe. */
  readonly machineTo: Figure | null;
}

/** A fit is read to the micrometre: 499.937 mm. */
const FIT_DIGITS = 6;

/**
 * What a coating does to a fit or thread given as text, and what to do about it.
 * @param growth build-up of one surface
 * @param system what sizes are said in
 * @param side of the face it is for: decides the class of a thread that is written without one
 * Fails as `parseFit` does.
 */
export function fitAfterCoating(
  text: string,
  growth: BuildUp,
  side?: FitSide,
  system: UnitSystem = 'metric',
): Result<FitAfterCoating> {
  const fit = parseFit(text, side);
  if (!fit.ok) return fit;
  const parsed = fit.value;
  const inner = parsed.kind === 'size' ? parsed.limits.kind === 'hole' : parsed.limits.kind === 'internal';
  const sign = inner ? -1 : 1;
  const factor =
    parsed.kind === 'size'
      ? growthFactor(inner ? 'hole' : 'shaft')
      : sign * flankFactor(parsed.limits.flankAngleRad);
  const limited =
    parsed.kind === 'size'
      ? { lowM: parsed.limits.lowM, highM: parsed.limits.highM }
      : parsed.limits.pitchDiameter;
  const window = coatedWindow(
    limited,
    factor,
    growth,
    parsed.kind === 'thread' && parsed.limits.gauge.allowanceM > 0 ? parsed.limits.coatedPitch : limited,
  );
  const crest = (limits: { lowM: number | null; highM: number | null }): CoatedWindow | null =>
    limits.lowM === null || limits.highM === null
      ? null
      : coatedWindow({ lowM: limits.lowM, highM: limits.highM }, 2 * sign, growth);
  const what = parsed.kind === 'size' ? 'Diameter' : 'Pitch diameter';
  const formula = parsed.kind === 'size' ? '2 · b' : '2 · b / sin(30°)';
  const inputs = [
    figureInput('b', 'build-up on each surface', 'length', growth.usualM, 'µm'),
    { ...figureInput('D_low', 'low limit', 'length', limited.lowM), digits: FIT_DIGITS },
    { ...figureInput('D_high', 'high limit', 'length', limited.highM), digits: FIT_DIGITS },
  ];
  const typed = parsed.limits.source.standing === 'your entry';
  const source = typed
    ? growth.source
    : {
        standing: parsed.limits.source.standing,
        text: `${parsed.limits.source.text}; ${growth.source.text}`,
      };
  const shown = (label: string, low: number, high: number, how: string): Figure => ({
    label: `${what} ${label}`,
    kind: 'length',
    valueSi: (low + high) / 2,
    lowSi: low,
    highSi: high,
    digits: FIT_DIGITS,
    formula: how,
    inputs,
    source,
  });
  const mark = sign < 0 ? '−' : '+';
  const back = sign < 0 ? '+' : '−';
  const { before, machineTo } = window;
  const ends = [factor * growth.lowM, factor * growth.highM];
  const least = Math.min(...ends);
  const most = Math.max(...ends);
  return success({
    fit: parsed,
    window,
    minor: parsed.kind === 'thread' ? crest(parsed.limits.minorDiameter) : null,
    major: parsed.kind === 'thread' ? crest(parsed.limits.majorDiameter) : null,
    advice: window.advice,
    text: [adviceText(window, parsed, inner, growth, system), assumedText(parsed)].filter(Boolean).join(' '),
    change: {
      label: `${what}: change by coating`,
      kind: 'length',
      unit: 'µm',
      valueSi: window.changeM,
      lowSi: least,
      highSi: most,
      formula: `ΔD = ${mark}${formula}`,
      inputs: inputs.slice(0, 1),
      source,
    },
    before: shown(
      'by the drawing',
      before.lowM,
      before.highM,
      typed ? 'limits as typed' : 'limits of the standard',
    ),
    after: shown(
      'after coating',
      before.lowM + least,
      before.highM + most,
      `D ${mark} ${formula}, over the whole range of b`,
    ),
    machineTo: machineTo
      ? shown(
          'to machine to',
          machineTo.lowM,
          machineTo.highM,
          `D ${back} ${formula}, over the whole range of b`,
        )
      : null,
  });
}

function adviceText(
  window: CoatedWindow,
  fit: ParsedFit,
  inner: boolean,
  growth: BuildUp,
  system: UnitSystem,
): string {
  const words = fit.kind === 'thread' ? threadForCoating(fit.limits, growth, window, system) : null;
  const name = fit.limits.designation;
  switch (window.advice) {
    case 'coat as it is': {
      if (words && fit.kind === 'thread' && fit.limits.gauge.allowanceM > 0)
        return `${words.room} Coat it as it is. ${words.gauge}`;
      const small = `The coating takes less than a tenth of the tolerance of ${name}. Coat it as it is; keep off the very last of the limit.`;
      return words ? `${small} ${words.gauge}` : small;
    }
    case 'mask':
      return `The build-up is uncertain by more than the whole tolerance of ${name}. Mask it, or measure the build-up of your own runs first.`;
    case 'machine first': {
      if (words) {
        const cut = inner ? 'Tap it oversize' : 'Cut it undersize';
        const cover = inner ? 'plug it' : 'mask it';
        const toDo = `${cut} to the pitch diameter given, or ${cover}.`;
        return `${words.gauge} ${words.room}\n${toDo}${words.toCut === null ? '' : ` ${words.toCut}`}`;
      }
      // Of a thread that may get too loose, by how much at most; of all others by the usual change.
      const lostM =
        fit.kind === 'thread' && growth.usualM > 0
          ? flankFactor(fit.limits.flankAngleRad) * Math.max(0, -growth.lowM)
          : Math.abs(window.changeM);
      const share = lostM / (window.before.highM - window.before.lowM);
      const fate =
        share >= 1
          ? `No part made to ${name} would still be inside its limits.`
          : `Only parts in ${Math.round((1 - share) * 100)} % of the tolerance of ${name} stay inside it.`;
      if (fit.kind === 'size') return `${fate} Machine it to the size given, or mask it.`;
      // A thread that an etch or a strip opens is cut with more metal.
      return `${fate} ${inner ? 'Tap it undersize' : 'Cut it oversize'} to the pitch diameter given, or mask it.`;
    }
  }
}
