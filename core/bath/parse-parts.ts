import { failure, success, type Result } from '../result.ts';

const PARTS = /^(\d+(?:[.,]\d+)?)\s*[:+/]\s*(\d+(?:[.,]\d+)?)$/;

export interface Parts {
  readonly acid: number;
  readonly water: number;
}

/** A recipe in parts by volume, acid first: "1:3", "1 + 2.5". Fails with `parts-not-read`, and `no-parts` where one is none. */
export function parseParts(text: string): Result<Parts> {
  const parts = PARTS.exec(text.trim());
  if (!parts) {
    return failure(
      'parts-not-read',
      `“${text}” is not a recipe in parts.`,
      'Type acid first, then water: 1:3.',
    );
  }
  const number = (part: string): number => Number(part.replace(',', '.'));
  const [acid, water] = [number(parts[1]!), number(parts[2]!)];
  if (acid > 0 && water > 0) return success({ acid, water });
  return failure(
    'no-parts',
    acid > 0 ? `“${text}” has no water in it: that is the acid itself.` : `“${text}” has no acid in it.`,
    'Type acid first, then water: 1:3.',
  );
}
