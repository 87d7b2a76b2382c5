import type { Part } from '../../core/job/job.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { partNumberFailure } from './part-number.ts';

/** A void with a way out, as named on the command line. Without a part number it belongs to the only part. */
export interface VoidOfPart {
  /** From 1; undefined when not given. */
  readonly partNumber?: number;
  /** From 1, as the plan lists them. */
  readonly number: number | 'all';
}

/** Reads "1", "1,3", "all" or "2:1" (the part number holds until the next one). */
export function parseVoidList(text: string): Result<VoidOfPart[]> {
  const voids: VoidOfPart[] = [];
  let partNumber: number | undefined;
  for (const word of text.split(',').map((piece) => piece.trim())) {
    const match = /^(?:([1-9]\d*):)?([1-9]\d*|all)$/i.exec(word);
    if (!match) {
      return failure(
        'voids-invalid',
        `--vent: “${word}” does not name a void.`,
        'Name voids as the plan lists them: 1, 1,3 or all; 2:1 for the first void of the second part.',
      );
    }
    if (match[1] !== undefined) partNumber = Number(match[1]);
    voids.push({
      number: match[2]!.toLowerCase() === 'all' ? 'all' : Number(match[2]),
      ...(partNumber === undefined ? {} : { partNumber }),
    });
  }
  return success(voids);
}

/** The part with its named voids open to the bath. Failures: `voids-ambiguous`, `part-unknown`, `void-unknown`. */
export function withVents(
  part: Part,
  { voids }: Pick<PartGeometry, 'voids'>,
  named: readonly VoidOfPart[],
  partNumber: number,
  partCount: number,
): Result<Part> {
  const anchors = new Set(part.surface.ventedVoids);
  for (const { partNumber: of, number } of named) {
    // All of them are those of every part.
    const wanted = number === 'all' ? (of ?? partNumber) : of;
    const names = { code: 'voids-ambiguous', thing: `${number}`, said: `void ${number}` };
    const wrong = partNumberFailure('vent', wanted, partCount, names);
    if (wrong) return wrong;
    if ((wanted ?? 1) !== partNumber) continue;
    if (number === 'all') {
      for (const { anchor } of voids) anchors.add(anchor);
    } else if (number <= voids.length) anchors.add(voids[number - 1]!.anchor);
    else {
      return failure(
        'void-unknown',
        `--vent: part ${partNumber} has no void ${number}.`,
        voids.length === 0
          ? 'It has none without a way out.'
          : `It has ${voids.length === 1 ? 'void 1 only' : `voids 1 to ${voids.length}`}; run without --vent to see them listed.`,
      );
    }
  }
  return success({ ...part, surface: { ...part.surface, ventedVoids: [...anchors] } });
}
