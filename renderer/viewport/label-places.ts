export interface PlacePx {
  readonly x: number;
  readonly y: number;
}

/** A box on the picture by its middle. */
interface BoxPx extends PlacePx {
  readonly halfWidth: number;
  readonly halfHeight: number;
}

const LETTER_PX = 9;
const HALF_HEIGHT_PX = 11;
/** Where along its line a label may stand, best first. */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95];
/** On its line; where that is too short or crowded, a row below or above it. */
const ASIDE_PX = [0, 2, -2, 4, -4].map((rows) => rows * HALF_HEIGHT_PX);

/**
 * Middles of the labels of lines on a picture: each on its own line or a row beside it, off the labels before it and off
 * the round badges, as far as there is such a place; else in the middle of its line.
 */
export function labelPlaces(
  lines: readonly { readonly from: PlacePx; readonly to: PlacePx; readonly text: string }[],
  badges: readonly PlacePx[],
  badgePx: number,
): PlacePx[] {
  const taken: BoxPx[] = badges.map(({ x, y }) => ({ x, y, halfWidth: badgePx, halfHeight: badgePx }));
  return lines.map(({ from, to, text }) => {
    const halfWidth = (LETTER_PX * text.length) / 2;
    const boxes = ASIDE_PX.flatMap((asidePx) =>
      ALONG.map((share): BoxPx => ({
        x: from.x + share * (to.x - from.x),
        y: from.y + share * (to.y - from.y) + asidePx,
        halfWidth,
        halfHeight: HALF_HEIGHT_PX,
      })),
    );
    const box = boxes.find((candidate) => !taken.some((other) => overlap(candidate, other))) ?? boxes[0]!;
    taken.push(box);
    return { x: box.x, y: box.y };
  });
}

function overlap(a: BoxPx, b: BoxPx): boolean {
  return Math.abs(a.x - b.x) < a.halfWidth + b.halfWidth && Math.abs(a.y - b.y) < a.halfHeight + b.halfHeight;
}
