import type { Dip } from './colour-book.ts';
import { deltaE2000 } from './colour.ts';
import { capital } from '../units/first-letter.ts';

/** More would hide the answer; the next is told once these are dealt with. */
const MOST_TOLD = 3;

/** What is said of dips that can not all be right. */
export interface DipDoubt {
  /** Where they stand among the dips given: one that contradicts several others, or two that contradict each other. */
  readonly places: readonly number[];
  readonly message: string;
  readonly remedy: string;
}

type Noted = Pick<
  Dip,
  'timeS' | 'temperatureK' | 'thicknessM' | 'alloy' | 'ph' | 'dyeKgPerM3' | 'colour' | 'colourFrom'
>;

/** Dips in settings nearer than these should give nearly one colour, `loosely` one that another film or pot explains in part (common practice). */
const ALIKE = { ratio: 1.15, temperatureK: 3, ph: 0.5, sameAlloy: true } as const;
const LOOSELY = { ratio: 1.5, temperatureK: 10, ph: 1, sameAlloy: false } as const;
/** Pieces of one load differ by 2 to 4, a camera adds a few: so far apart two dips of one setting are no scatter (common practice). */
const SAME_DELTA_E = 10;
/** Dye takes light away (Lambert and Beer), so more time makes no part lighter; a camera and a piece of another sheet may say so by less. */
const LIGHTER_L = 6;
/** A film of two thirds takes two thirds of the dye: of a part that loses nine tenths of its light, L* 12 lighter (Lambert and Beer). */
const LOOSELY_LIGHTER_L = 20;

/**
 * Dips of one dye that contradict each other, told before a curve is drawn through them: two of nearly one setting and time with
 * different colours, or a longer one that is lighter. A curve through them misleads, and would blame the dye.
 */
export function doubtDips(dips: readonly Noted[]): DipDoubt[] {
  let pairs = contradictions(dips);
  const doubts: DipDoubt[] = [];
  while (pairs.length > 0 && doubts.length < MOST_TOLD) {
    const counts = dips.map(
      (_, place) => pairs.filter(({ short, long }) => short === place || long === place).length,
    );
    const most = Math.max(...counts);
    // Where all that are in it contradict as many, nobody knows which is wrong.
    const stands = counts.some((count) => count > 0 && count < most);
    const alone = stands ? counts.indexOf(most) : null;
    const pair = pairs.find(({ short, long }) => alone === null || short === alone || long === alone)!;
    doubts.push(doubtOf(dips, pair, alone, most));
    pairs =
      alone === null
        ? pairs.filter((other) => other !== pair)
        : pairs.filter(({ short, long }) => short !== alone && long !== alone);
  }
  return doubts;
}

interface Pair {
  readonly short: number;
  readonly long: number;
  readonly kind: 'same' | 'lighter';
}

function contradictions(dips: readonly Noted[]): Pair[] {
  const pairs: Pair[] = [];
  for (let first = 0; first < dips.length; first++) {
    for (let second = first + 1; second < dips.length; second++) {
      const [short, long] = dips[first]!.timeS <= dips[second]!.timeS ? [first, second] : [second, first];
      const [a, b] = [dips[short]!, dips[long]!];
      const isLike = isAlike(a, b, ALIKE);
      if (!isLike && !isAlike(a, b, LOOSELY)) continue;
      const sameTime = b.timeS <= a.timeS * ALIKE.ratio;
      const lighter = b.colour.l - a.colour.l;
      if (
        sameTime
          ? isLike && deltaE2000(a.colour, b.colour) > SAME_DELTA_E
          : lighter > (isLike ? LIGHTER_L : LOOSELY_LIGHTER_L)
      )
        pairs.push({ short, long, kind: sameTime ? 'same' : 'lighter' });
    }
  }
  return pairs;
}

/** But for the time; what is not known is taken as alike. */
function isAlike(
  a: Noted,
  b: Noted,
  { ratio, temperatureK, ph, sameAlloy }: typeof ALIKE | typeof LOOSELY,
): boolean {
  const near = (one: number | null, other: number | null): boolean =>
    one === null || other === null || Math.max(one, other) <= Math.min(one, other) * ratio;
  return (
    Math.abs(a.temperatureK - b.temperatureK) <= temperatureK &&
    near(a.thicknessM, b.thicknessM) &&
    near(a.dyeKgPerM3, b.dyeKgPerM3) &&
    (a.ph === null || b.ph === null || Math.abs(a.ph - b.ph) <= ph) &&
    (!sameAlloy || a.alloy === '' || b.alloy === '' || a.alloy === b.alloy)
  );
}

function doubtOf(
  dips: readonly Noted[],
  { short, long, kind }: Pair,
  alone: number | null,
  count: number,
): DipDoubt {
  const name = (place: number): string => (place === alone ? 'it' : said(dips[place]!));
  const apart = deltaE2000(dips[short]!.colour, dips[long]!.colour).toFixed(0);
  const what =
    kind === 'same'
      ? `${name(long)} and ${name(short)} were dipped alike, and their colours are ΔE ${apart} apart.`
      : `${name(long)} came out lighter than ${name(short)}, and more time in the dye makes no part lighter.`;
  if (alone === null) {
    return {
      places: [short, long],
      message: capital(what),
      remedy:
        'One of the two is wrong, or the dye has grown weak: look at both in the list, and take the wrong one out.',
    };
  }
  return {
    places: [alone],
    message: `${capital(said(dips[alone]!))} contradicts ${count} of your other dips: ${what}`,
    remedy:
      'Look at its minutes and its colour in the list, and take it out if it is wrong; it may be right where the dye has grown weak.',
  };
}

function said({ timeS, colour, colourFrom }: Noted): string {
  const minutes = timeS === 0 ? 'the bare film' : `the dip of ${Number((timeS / 60).toFixed(2))} min`;
  return `${minutes} (L* ${colour.l.toFixed(0)}, ${colourFrom === 'photo' ? 'from a photo' : 'typed'})`;
}
