/**
 * Whether a number may be another one with a slip of the finger in it: a digit wrong, missing or too many, two exchanged, or the point
 * at another place.
 */

/** What was meant is this near to what was there before, share: a run goes on between two readings. */
const LIKE = 0.05;

export function mayBeSlip(typed: number, like: number): boolean {
  return meantBy(String(typed)).some((text) => {
    const meant = Number(text);
    return meant > 0 && Math.abs(meant / like - 1) <= LIKE;
  });
}

/** All that one slip makes of another number, that number's text being this. */
function meantBy(text: string): string[] {
  const list: string[] = [];
  const digits = [...'0123456789'];
  for (let i = 0; i <= text.length; i++) {
    const [before, here, after] = [text.slice(0, i), text[i], text.slice(i + 1)];
    for (const digit of digits) list.push(before + digit + text.slice(i));
    if (here === undefined) continue;
    list.push(before + after);
    if (here !== '.') for (const digit of digits) list.push(before + digit + after);
    const next = text[i + 1];
    if (next !== undefined) list.push(before + next + here + text.slice(i + 2));
  }
  const bare = text.replace('.', '');
  for (let i = 0; i <= bare.length; i++) list.push(`${bare.slice(0, i)}.${bare.slice(i)}`);
  return list;
}
