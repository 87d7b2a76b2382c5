import { failure, success, type Failure, type Result } from '../result.ts';
import { isBlank, isNumber, textStart } from './ascii-bytes.ts';

/** The tag the scanner stands on. Valid only until the listener returns. */
export interface XmlTag {
  /** Without its namespace prefix. */
  readonly name: string;
  /** Value of an attribute, by its name without prefix; undefined where there is none. */
  text(attribute: string): string | undefined;
  /** NaN where there is none or it is no decimal number. */
  number(attribute: string): number;
  /** Values of the attributes that declare namespaces, by prefix ('' for the default). */
  namespaces(): ReadonlyMap<string, string>;
}

export interface XmlListener {
  /** A Failure stops the scan. */
  open(tag: XmlTag): Failure | void;
  close?(name: string): Failure | void;
}

const LESS = 60;
const GREATER = 62;
const SLASH = 47;
const BANG = 33;
const QUESTION = 63;
const EQUALS = 61;
const COLON = 58;
const DOUBLE_QUOTE = 34;
const SINGLE_QUOTE = 39;
const MOST_ATTRIBUTES = 64;
const DEEPEST = 64;
const LONGEST_NAME = 256;

const NAMED: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };

/** The five entities that XML itself defines, and characters by number; anything else stays as it is written. */
function decodeEntities(text: string): string {
  if (!text.includes('&')) return text;
  return text.replace(/&(?:#(\d{1,7})|#x([\da-fA-F]{1,6})|([a-z]{2,4}));/g, (whole, decimal, hex, name) => {
    if (name !== undefined) return NAMED[name as string] ?? (whole as string);
    const code = decimal !== undefined ? Number(decimal) : Number.parseInt(hex as string, 16);
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : (whole as string);
  });
}

const damaged = (message: string): { ok: false; error: Failure } =>
  failure('xml-damaged', message, 'The file is damaged or was written wrongly: export the model again.');

/**
 * Walks the tags of an XML text in UTF-8, one after another, keeping nothing: no tree, no text between tags. There is
 * nothing to expand: a document type (the only place where entities can be made up or files drawn in) is refused, and
 * no address is ever followed. Failures: `xml-doctype`, `xml-damaged`, `xml-truncated`, and the listener's own.
 *
 * @param what names the text in messages
 */
export function scanXml(
  bytes: Uint8Array,
  what: string,
  listener: XmlListener,
  onProgress: (fraction: number) => void = () => {},
): Result<null> {
  const cut = failure(
    'xml-truncated',
    `${what} ends in the middle.`,
    'The copy or download broke off: copy or export the model again.',
  );
  // Four offsets an attribute: its name, its value.
  const spans = new Int32Array(MOST_ATTRIBUTES * 4);
  let attributes = 0;
  let tagName = '';
  const open: string[] = [];
  let rootSeen = false;
  let nextReport = 0;

  const slice = (from: number, to: number): string => {
    let text = '';
    for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]!);
    return text;
  };
  const localStart = (from: number, to: number): number => {
    for (let i = from; i < to; i++) if (bytes[i] === COLON) return i + 1;
    return from;
  };
  const find = (attribute: string): number => {
    for (let a = 0; a < attributes; a++) {
      const to = spans[4 * a + 1]!;
      const from = localStart(spans[4 * a]!, to);
      if (to - from !== attribute.length) continue;
      let same = true;
      for (let i = 0; same && i < attribute.length; i++) same = bytes[from + i] === attribute.charCodeAt(i);
      if (same) return a;
    }
    return -1;
  };
  const tag: XmlTag = {
    get name() {
      return tagName;
    },
    text(attribute) {
      const a = find(attribute);
      return a < 0 ? undefined : decodeEntities(utf8(bytes, spans[4 * a + 2]!, spans[4 * a + 3]!));
    },
    number(attribute) {
      const a = find(attribute);
      if (a < 0) return NaN;
      let from = spans[4 * a + 2]!;
      let to = spans[4 * a + 3]!;
      while (from < to && isBlank(bytes[from]!)) from++;
      while (to > from && isBlank(bytes[to - 1]!)) to--;
      return isNumber(bytes, from, to) ? Number(slice(from, to)) : NaN;
    },
    namespaces() {
      const found = new Map<string, string>();
      for (let a = 0; a < attributes; a++) {
        const name = slice(spans[4 * a]!, spans[4 * a + 1]!);
        if (name !== 'xmlns' && !name.startsWith('xmlns:')) continue;
        found.set(name.slice(6), utf8(bytes, spans[4 * a + 2]!, spans[4 * a + 3]!));
      }
      return found;
    },
  };

  let at = textStart(bytes);
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    return damaged(`${what} is in UTF-16, not in UTF-8.`);
  }
  while (at < bytes.length) {
    if (bytes[at] !== LESS) {
      at++;
      continue;
    }
    if (at >= nextReport) {
      onProgress(at / bytes.length);
      nextReport = at + (1 << 20);
    }
    const next = bytes[at + 1];
    if (next === QUESTION || next === BANG) {
      const end = skipMarkup(bytes, at);
      if (end === 'doctype') {
        return failure(
          'xml-doctype',
          `${what} declares a document type, which no 3MF file may (it could draw in other files).`,
          'Do not open this file elsewhere either; export the model again.',
        );
      }
      if (end < 0) return cut;
      at = end;
      continue;
    }
    if (next === SLASH) {
      const start = at + 2;
      at = start;
      while (at < bytes.length && bytes[at] !== GREATER) at++;
      if (at >= bytes.length) return cut;
      let end = at;
      while (end > start && isBlank(bytes[end - 1]!)) end--;
      const whole = slice(start, Math.min(end, start + LONGEST_NAME));
      if (open.pop() !== whole)
        return damaged(`${what} closes “${whole.slice(0, 40)}” where it is not open.`);
      at++;
      const problem = listener.close?.(whole.slice(whole.indexOf(':') + 1));
      if (problem) return { ok: false, error: problem };
      continue;
    }
    if (rootSeen && open.length === 0) return damaged(`${what} goes on after its end.`);
    const nameStart = ++at;
    while (at < bytes.length && !isBlank(bytes[at]!) && bytes[at] !== GREATER && bytes[at] !== SLASH) at++;
    const nameEnd = at;
    if (nameEnd === nameStart || nameEnd - nameStart > LONGEST_NAME) {
      return damaged(`${what} has a tag without a usable name.`);
    }
    attributes = 0;
    for (;;) {
      while (at < bytes.length && isBlank(bytes[at]!)) at++;
      if (at >= bytes.length) return cut;
      if (bytes[at] === GREATER || bytes[at] === SLASH) break;
      const start = at;
      while (at < bytes.length && bytes[at] !== EQUALS && bytes[at] !== GREATER && !isBlank(bytes[at]!)) at++;
      const end = at;
      while (at < bytes.length && isBlank(bytes[at]!)) at++;
      if (at >= bytes.length) return cut;
      if (bytes[at] !== EQUALS) return damaged(`${what} has an attribute without a value.`);
      at++;
      while (at < bytes.length && isBlank(bytes[at]!)) at++;
      const quote = bytes[at];
      if (quote !== DOUBLE_QUOTE && quote !== SINGLE_QUOTE) {
        return at >= bytes.length ? cut : damaged(`${what} has an attribute without quotes.`);
      }
      const valueStart = ++at;
      while (at < bytes.length && bytes[at] !== quote) at++;
      if (at >= bytes.length) return cut;
      if (attributes >= MOST_ATTRIBUTES) return damaged(`${what} has a tag with too many attributes.`);
      spans.set([start, end, valueStart, at], 4 * attributes++);
      at++;
    }
    const selfClosed = bytes[at] === SLASH;
    if (selfClosed) at++;
    if (bytes[at] !== GREATER)
      return at >= bytes.length ? cut : damaged(`${what} has a tag that does not end.`);
    at++;
    rootSeen = true;
    tagName = slice(localStart(nameStart, nameEnd), nameEnd);
    const problem = listener.open(tag);
    if (problem) return { ok: false, error: problem };
    if (!selfClosed) {
      if (open.length >= DEEPEST) return damaged(`${what} is nested too deeply.`);
      open.push(slice(nameStart, nameEnd));
    } else {
      const closing = listener.close?.(tagName);
      if (closing) return { ok: false, error: closing };
    }
  }
  if (!rootSeen) return damaged(`${what} holds no XML.`);
  return open.length > 0 ? cut : success(null);
}

/** End of a comment, a processing instruction or a CDATA section that begins at `at`; -1 where it has none. */
function skipMarkup(bytes: Uint8Array, at: number): number | 'doctype' {
  const starts = (word: string): boolean => {
    for (let i = 0; i < word.length; i++) if (bytes[at + i] !== word.charCodeAt(i)) return false;
    return true;
  };
  const after = (word: string, from: number): number => {
    for (let i = from; i + word.length <= bytes.length; i++) {
      let k = 0;
      while (k < word.length && bytes[i + k] === word.charCodeAt(k)) k++;
      if (k === word.length) return i + word.length;
    }
    return -1;
  };
  if (starts('<?')) return after('?>', at + 2);
  if (starts('<!--')) return after('-->', at + 4);
  if (starts('<![CDATA[')) return after(']]>', at + 9);
  return 'doctype';
}

/** bytes[from, to) as UTF-8; a damaged sequence becomes the replacement character. */
function utf8(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  for (let i = from; i < to;) {
    const lead = bytes[i++]!;
    const more = lead < 0x80 ? 0 : lead >= 0xf0 ? 3 : lead >= 0xe0 ? 2 : lead >= 0xc0 ? 1 : -1;
    if (more === 0) {
      text += String.fromCharCode(lead);
      continue;
    }
    let code = more < 0 ? -1 : lead & (0x3f >> more);
    for (let k = 0; k < more; k++) {
      const next = i < to ? bytes[i]! : 0;
      if ((next & 0xc0) !== 0x80) {
        code = -1;
        break;
      }
      code = (code << 6) | (next & 0x3f);
      i++;
    }
    text += code >= 0 && code <= 0x10ffff ? String.fromCodePoint(code) : '\ufffd';
  }
  return text;
}
