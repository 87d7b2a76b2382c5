import type { AmbiguousFace } from '../faces/facets-both-ways.ts';

/** Questions that make no more than this share of the part's area together are left out: their ranges hold both figures. */
const NOT_WORTH = 5e-4;

/** The questions that matter to the area, in the order they come. */
export function worthAsking(questions: readonly AmbiguousFace[], area: number): AmbiguousFace[] {
  let left = NOT_WORTH * area;
  const idle = new Set<AmbiguousFace>();
  for (const question of [...questions].sort((one, two) => weight(one) - weight(two))) {
    left -= weight(question);
    if (left < 0) break;
    idle.add(question);
  }
  return questions.filter((question) => !idle.has(question));
}

/** What the answer changes, of the face or of the part, model units squared. */
function weight({ flatArea, roundArea, gainOfPart }: AmbiguousFace): number {
  return Math.max(Math.abs(roundArea - flatArea), Math.abs(gainOfPart));
}
