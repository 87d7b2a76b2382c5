import { success, type Result } from '../result.ts';
import type { BuildUp } from './build-up.ts';
import type { Window } from './coated-window.ts';
import { fitAfterCoating } from './fit-after-coating.ts';

/** What the terminal prints: mm, rounded to a tenth of a micrometre; a thread by its pitch diameter. */
export interface FitReport {
  readonly beforeMm: readonly [number, number];
  /** Over the whole range of the build-up. */
  readonly afterMm: readonly [number, number];
  /** Null where no size before coating is safe. */
  readonly machineToMm: readonly [number, number] | null;
  readonly advice: string;
}

const mm = (metres: number): number => Math.round(metres * 1e7) / 1e4;
const pair = (window: Window): readonly [number, number] => [mm(window.lowM), mm(window.highM)];

/** A fit or thread after coating, in the terminal's form. Fails as fitAfterCoating does. */
export function fitReport(text: string, growth: BuildUp): Result<FitReport> {
  const fit = fitAfterCoating(text, growth);
  if (!fit.ok) return fit;
  const { before, machineTo } = fit.value.window;
  const { valueSi, lowSi = valueSi, highSi = valueSi } = fit.value.after;
  return success({
    beforeMm: pair(before),
    afterMm: pair({ lowM: lowSi, highM: highSi }),
    machineToMm: machineTo ? pair(machineTo) : null,
    advice: fit.value.text.replaceAll('\n', ' '),
  });
}
