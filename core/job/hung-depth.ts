import { metresPerUnit } from '../mesh/part-extents.ts';
import { lowestOf, type HangingSize } from '../racking/hanging-size.ts';
import { sayBoth } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { Part } from './job.ts';

/** How deep a part is to hang in the bath, m from its lowest point up, as the user said; null: all of it. */
export function saidDepthM({ surface, unit }: Pick<Part, 'surface' | 'unit'>): number | null {
  return surface.immersedDepth === null ? null : surface.immersedDepth * metresPerUnit(unit);
}

/** The box of a part with the depth said of it; a depth that the part does not stand out of says nothing. */
export function withDepth(size: HangingSize, part: Pick<Part, 'surface' | 'unit'>): HangingSize {
  const depthM = saidDepthM(part);
  return depthM !== null && depthM < size.heightM ? { ...size, depthM } : size;
}

/** Height of the bath's level on a part along its way up, model units; undefined where all of it is in the bath. */
export const levelOnPart = (
  size: HangingSize | undefined,
  { unit }: Pick<Part, 'unit'>,
): number | undefined =>
  size?.depthM === undefined ? undefined : (lowestOf(size) + size.depthM) / metresPerUnit(unit);

/** "150 mm (5.91 in)", the reader's own first. */
export const depthText = (depthM: number, system: UnitSystem): string =>
  sayBoth('length', depthM, system, ['mm', 'in']);

/** "150 mm (5.91 in) deep: mark the level": for everybody who hangs it by hand. */
export const markLevelWords = (depthM: number, system: UnitSystem): string =>
  `${depthText(depthM, system)} deep, from its lowest point up: mark the level`;

type Hung = Pick<Part, 'name' | 'surface' | 'unit'>;

/** One sentence for each part that hangs only partly in the bath; empty where none does. */
export const depthSentences = (parts: readonly Hung[], system: UnitSystem): string =>
  eachDepth(parts)
    .map(([name, depthM]) => `Hang ${parts.length === 1 ? 'it' : name} ${markLevelWords(depthM, system)}.`)
    .join(' ');

/** ", 150 mm (5.91 in) deep", after the name of a step; empty where no part hangs only partly in the bath. */
export function depthTitle(parts: readonly Hung[], system: UnitSystem): string {
  const [first] = eachDepth(parts);
  if (!first) return '';
  return parts.length === 1 ? `, ${depthText(first[1], system)} deep` : ', each to its mark';
}

/** For the moment the power goes on, with a space before it; empty where no part hangs only partly in the bath. */
export function levelSentence(parts: readonly Hung[], system: UnitSystem): string {
  const marks = eachDepth(parts).map(
    ([name, depthM]) => `${parts.length === 1 ? '' : `of ${name}, `}${depthText(depthM, system)} up`,
  );
  return marks.length === 0 ? '' : ` The liquid stands at the mark ${marks.join(' and ')}.`;
}

const eachDepth = (parts: readonly Hung[]): (readonly [name: string, depthM: number])[] =>
  parts.flatMap((part) => {
    const depthM = saidDepthM(part);
    return depthM === null ? [] : [[part.name, depthM] as const];
  });
