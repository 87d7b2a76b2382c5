import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { ParsedFit } from './parse-fit.ts';
import type { RoundFeature } from './round-features.ts';
import { threadFits } from './thread-area.ts';

/** A drawing's size and the model's are the same but for rounding; less than this says nothing. */
const SAME_SIZE = 0.01;
const SAME_SIZE_M = 0.1e-3;

/** What to say where the model shows another size than the fit that was typed for it; '' where it does not. */
export function offModel(
  { kind, limits }: ParsedFit,
  { diameterM, shape }: RoundFeature,
  system: UnitSystem,
): string {
  const asMeant =
    kind === 'thread'
      ? threadFits(diameterM, limits.nominalM, limits.pitchM)[0]!.fits
      : Math.abs(diameterM - limits.nominalM) <= Math.max(SAME_SIZE_M, SAME_SIZE * limits.nominalM);
  if (asMeant) return '';
  const shown = formatQuantity('length', diameterM, system, 4).text;
  return `But the model’s ${shape === 'hole' ? 'bore' : 'boss'} is ${shown} across${kind === 'thread' ? ', none of this thread’s diameters' : ''}: check the size and the unit.`;
}

/** A hole’s fit on a shaft’s face, or the other way round. */
export function wrongSide(text: string, inner: boolean): string {
  return inner
    ? `“${text}” is for a hole, and this face is the outside of a shaft. Small letters (h6, 6g) and A (2A) are for shafts and bolts.`
    : `“${text}” is for a shaft, and this face is a hole. Capital letters (H7, 6H) and B (2B) are for holes.`;
}
