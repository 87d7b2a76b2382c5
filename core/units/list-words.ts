/** "a", "a and b", "a, b and c"; empty for none. */
export function listWords(words: readonly (string | number)[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
