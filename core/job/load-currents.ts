import { formatIn } from '../units/format-quantity.ts';

/** Loads that are run at one current. */
export interface LoadCurrent {
  /** Numbers of the loads, from 1, rising. */
  readonly loads: readonly number[];
  readonly currentA: number;
  /** The current as it is printed: "3.94 A". */
  readonly text: string;
}

/**
 * Loads by the current that each is run at, in the order in which they come. Two currents are one where they are printed alike:
 * nobody can set a supply finer than that.
 *
 * @param currentsA per load, A
 */
export function loadCurrents(currentsA: readonly number[]): LoadCurrent[] {
  const groups = new Map<string, { loads: number[]; currentA: number }>();
  currentsA.forEach((currentA, index) => {
    const { text } = formatIn('current', currentA, 'A', 3);
    const group = groups.get(text);
    if (group) group.loads.push(index + 1);
    else groups.set(text, { loads: [index + 1], currentA });
  });
  return [...groups].map(([text, group]) => ({ ...group, text }));
}

/** "load 3", "loads 1 and 2", "loads 1-4, 6 and 9": three or more in a row stand as a range. */
export function loadsWords(loads: readonly number[]): string {
  const pieces: string[] = [];
  for (let first = 0; first < loads.length;) {
    let last = first;
    while (last + 1 < loads.length && loads[last + 1] === loads[last]! + 1) last++;
    if (last - first >= 2) pieces.push(`${loads[first]}-${loads[last]}`);
    else pieces.push(...loads.slice(first, last + 1).map(String));
    first = last + 1;
  }
  const end = pieces.pop() ?? '';
  return `load${loads.length > 1 ? 's' : ''} ${pieces.length > 0 ? `${pieces.join(', ')} and ${end}` : end}`;
}

/** More currents than this are left to the table of loads. */
const MOST_IN_A_LINE = 4;

/**
 * The current of a step that is for these loads: "to 3.94 A", or "load 1 to 3.94 A, load 2 to 3.29 A".
 * @param word stands before each current: "to", "at"
 */
export function currentWords(groups: readonly LoadCurrent[], word: 'to' | 'at'): string {
  if (groups.length === 1) return `${word} ${groups[0]!.text}`;
  if (groups.length > MOST_IN_A_LINE) return `each load ${word} its own current`;
  return groups.map(({ loads, text }) => `${loadsWords(loads)} ${word} ${text}`).join(', ');
}
