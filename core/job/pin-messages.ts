import { listWords } from '../units/list-words.ts';
import { LEAST_GRIP, type ContactAdvice } from '../racking/judge-place.ts';
import type { Failure } from '../result.ts';
import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { JobMessage } from './job-messages.ts';
import type { Part } from './job.ts';

/** What is known of one part's pins. */
export interface PinsKnown {
  /** By contact id; pins not judged yet are absent. */
  readonly critique: Readonly<Record<string, Pick<ContactAdvice, 'parts' | 'room' | 'isVent' | 'narrowM'>>>;
  /** Why they can't be judged. */
  readonly failure: Failure | null;
  /** Ids of those that lie on the part; the others are said to lie off it. */
  readonly onPart: ReadonlySet<string>;
}

/**
 * What the adviser says of the user's own pins that is worth a stop to look: a clamp that has nothing to hold against,
 * and one with too little room for its current. Pins that nobody has looked at yet are said to be so.
 */
export function pinMessages(
  part: Part,
  { critique, failure, onPart }: PinsKnown,
  system: UnitSystem,
): JobMessage[] {
  const waiting: number[] = [];
  const messages = part.contacts.flatMap(({ id }, index): JobMessage[] => {
    const judged = critique[id];
    if (judged) return verdictMessages(part, id, index, judged, system);
    if (onPart.has(id)) waiting.push(index + 1);
    return [];
  });
  if (waiting.length > 0) messages.push(notJudged(part, waiting, failure));
  return messages;
}

function verdictMessages(
  part: Part,
  contactId: string,
  index: number,
  { parts, room, isVent, narrowM }: Pick<ContactAdvice, 'parts' | 'room' | 'isVent' | 'narrowM'>,
  system: UnitSystem,
): JobMessage[] {
  const base = { level: 'check', stage: 'hanging', partId: part.id, contactId } as const;
  const pin = `Pin ${index + 1}`;
  const messages: JobMessage[] = [];
  if (isVent) {
    messages.push({
      ...base,
      code: 'pin-in-vent',
      message: `${pin} sits in the only way into a hollow: a bolt or plug there keeps the bath out, so the inside stays bare though it counts as coated, and what got in before stays in.`,
      remedy:
        'Clamp it elsewhere. Or hold it there by a wire that leaves the hole open: then the hollow has to fill and drain past it.',
    });
  } else if (parts.grip < LEAST_GRIP) {
    messages.push({
      ...base,
      code: 'pin-slips',
      message: `${pin}: nothing lies opposite within reach of a clamp, so it would slip off.`,
      remedy:
        'Move it to a hole or to two faces that lie opposite near an edge, or weld on a tab to hold it by.',
    });
  }
  const wireM = part.contacts[index].hanger.diameterM;
  if (narrowM !== null && wireM > narrowM) {
    const width = (metres: number): string => formatQuantity('length', metres, system, 2).text;
    messages.push({
      ...base,
      code: 'pin-too-thick',
      message: `${pin}: its wire, ${width(wireM)} across, does not go into the hole of ${width(narrowM)}.`,
      remedy: 'Take a wire thinner than the hole, or clamp elsewhere.',
    });
  }
  if (room && room.roomM2 < room.wantedM2) {
    const area = (m2: number): string =>
      (system === 'metric' ? formatIn('area', m2, 'mm²', 2) : formatQuantity('area', m2, system, 2)).text;
    messages.push({
      ...base,
      code: 'pin-small',
      message: `${pin}: room for ${area(room.roomM2)} of contact only, and ${formatIn('current', room.currentA, 'A', 2).text} through it wants ${area(room.wantedM2)} (rule of thumb): it gets hot and may let go.`,
      remedy: 'Add a pin, bare a larger patch under it, or clamp where more metal can be pressed on.',
    });
  }
  return messages;
}

/** "Pins 1 and 3 of “plate” are not looked at yet." */
function notJudged(part: Part, numbers: readonly number[], failure: Failure | null): JobMessage {
  const one = numbers.length === 1;
  const pins = `Pin${one ? '' : 's'} ${listWords(numbers)} of “${part.name}”`;
  const base = { code: 'pins-not-judged', stage: 'hanging', partId: part.id } as const;
  return failure
    ? {
        ...base,
        level: 'check',
        message: `${pins} could not be looked at: ${failure.message}`,
        remedy: failure.remedy,
      }
    : {
        ...base,
        level: 'note',
        pending: true,
        message: `${pins} ${one ? 'is' : 'are'} not looked at yet.`,
        remedy: 'Grip and contact area are being worked out; wait until this line is gone.',
      };
}
