/** Reading words and numbers straight from the bytes of a text file, so that a file too long for a string can be read. */

const TAB = 9;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const SPACE = 32;

/** Longest word still taken for a number. */
const LONGEST_NUMBER = 64;

export function isLineEnd(byte: number): boolean {
  return byte === LINE_FEED || byte === CARRIAGE_RETURN;
}

export function isBlank(byte: number): boolean {
  return byte === SPACE || (byte >= TAB && byte <= CARRIAGE_RETURN) || byte === 0;
}

/** First byte after the UTF-8 byte order mark, if there is one. */
export function textStart(bytes: Uint8Array): number {
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
}

/** True when bytes[start, end) is `word` (given in lower case), whatever its case in the file. */
export function isWord(bytes: Uint8Array, start: number, end: number, word: string): boolean {
  if (end - start !== word.length) return false;
  for (let i = 0; i < word.length; i++) {
    const byte = bytes[start + i]!;
    const lower = byte >= 65 && byte <= 90 ? byte + 32 : byte;
    if (lower !== word.charCodeAt(i)) return false;
  }
  return true;
}

/** True when bytes[start, end) is a decimal number in full: sign, digits, one point, exponent. */
export function isNumber(bytes: Uint8Array, start: number, end: number): boolean {
  if (end - start > LONGEST_NUMBER) return false;
  let at = start;
  const digits = (): number => {
    const from = at;
    while (at < end && bytes[at]! >= 48 && bytes[at]! <= 57) at++;
    return at - from;
  };
  const sign = (): void => {
    if (at < end && (bytes[at] === 43 || bytes[at] === 45)) at++;
  };
  sign();
  let mantissa = digits();
  if (at < end && bytes[at] === 46) {
    at++;
    mantissa += digits();
  }
  if (mantissa === 0) return false;
  if (at < end && (bytes[at] === 69 || bytes[at] === 101)) {
    at++;
    sign();
    if (digits() === 0) return false;
  }
  return at === end;
}

/** A short printable rendering of bytes[start, end) for a message. */
export function quoteWord(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let at = start; at < Math.min(end, start + 24); at++) {
    const byte = bytes[at]!;
    text += byte > SPACE && byte < 127 ? String.fromCharCode(byte) : '?';
  }
  return end - start > 24 ? `${text}…` : text;
}
