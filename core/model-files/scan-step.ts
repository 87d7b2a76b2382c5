/**
 * A look over the text of a STEP file (ISO 10303-21) before the kernel gets it, and for what the kernel does not tell:
 * the unit the file was drawn in, whether it is whole, and how many faces it lists. One pass over the bytes; only the
 * short statements about units are ever made into strings.
 */
import { failure, success, type Failure, type Result } from '../result.ts';
import { isBlank, textStart } from './ascii-bytes.ts';

export interface StepText {
  /** Metres per unit of each different length unit that shapes are given in; empty where the file states none. */
  readonly metresPerUnit: readonly number[];
  /** Statements that describe one face each. */
  readonly faceCount: number;
  /** Things that are referred to and not there. */
  readonly missingCount: number;
}

/** More text than this fills the kernel's memory several times over. */
export const LONGEST_STEP_BYTES = 200e6;
/** Ids beyond this are not kept track of: 32 MB of marks. */
const HIGHEST_ID = 2 ** 28;
/** Statements about units are shorter than this. */
const LONGEST_UNIT_STATEMENT = 8192;
const MOST_UNIT_STATEMENTS = 100_000;
const FACE_WORDS = ['ADVANCED_FACE', 'FACE_SURFACE'];
const END_WORD = 'END-ISO-10303-21';

const HASH = 35;
const QUOTE = 39;
const OPEN = 40;
const STAR = 42;
const SLASH = 47;
const SEMICOLON = 59;
const EQUALS = 61;

const truncated = (where: string): { ok: false; error: Failure } =>
  failure(
    'step-truncated',
    `The STEP file ends ${where}, before its closing line.`,
    'The copy or download broke off: copy or export the model again.',
  );

/** Numbers from 0 to HIGHEST_ID that were seen, one bit each, growing as needed. */
class Marks {
  bits = new Uint32Array(1024);

  add(id: number): void {
    const word = id >>> 5;
    if (word >= this.bits.length) {
      const larger = new Uint32Array(Math.max(word + 1, this.bits.length * 2));
      larger.set(this.bits);
      this.bits = larger;
    }
    this.bits[word]! |= 1 << (id & 31);
  }
}

function countOnlyIn(a: Marks, b: Marks): number {
  let count = 0;
  for (let word = 0; word < a.bits.length; word++) {
    let rest = a.bits[word]! & ~(b.bits[word] ?? 0);
    while (rest !== 0) {
      rest &= rest - 1;
      count++;
    }
  }
  return count;
}

function matches(bytes: Uint8Array, at: number, word: string): boolean {
  for (let i = 0; i < word.length; i++) if (bytes[at + i] !== word.charCodeAt(i)) return false;
  return true;
}

/** Failures: `step-truncated`, `step-too-large`. */
export function scanStep(bytes: Uint8Array): Result<StepText> {
  if (bytes.length > LONGEST_STEP_BYTES) {
    return failure(
      'step-too-large',
      `The STEP file has ${Math.round(bytes.length / 1e6)} MB, and ${LONGEST_STEP_BYTES / 1e6} MB is the most that can be read.`,
      'Export the part alone, without the rest of its assembly.',
    );
  }
  const defined = new Marks();
  const named = new Marks();
  const unitStatements = new Map<number, string>();
  let faceCount = 0;
  let ended = false;
  let at = textStart(bytes);
  while (at < bytes.length) {
    while (at < bytes.length && isBlank(bytes[at]!)) at++;
    if (at >= bytes.length) break;
    const start = at;
    let equals = -1;
    let id = -1;
    // To the end of the statement: text in quotes and comments holds no structure.
    for (; at < bytes.length && bytes[at] !== SEMICOLON; at++) {
      const byte = bytes[at]!;
      if (byte === QUOTE) {
        at++;
        while (at < bytes.length && bytes[at] !== QUOTE) at++;
        if (at >= bytes.length) return truncated('inside a text');
      } else if (byte === SLASH && bytes[at + 1] === STAR) {
        at += 2;
        while (at < bytes.length && !(bytes[at] === STAR && bytes[at + 1] === SLASH)) at++;
        if (at >= bytes.length) return truncated('inside a comment');
        at++;
      } else if (byte === HASH) {
        let number = 0;
        while (bytes[at + 1]! >= 48 && bytes[at + 1]! <= 57) number = number * 10 + bytes[++at]! - 48;
        if (equals < 0) id = number;
        else if (number <= HIGHEST_ID) named.add(number);
      } else if (byte === EQUALS && equals < 0) equals = at;
    }
    if (at >= bytes.length) return ended ? finish() : truncated('inside a statement');
    if (id >= 0 && equals >= 0) {
      if (id <= HIGHEST_ID) defined.add(id);
      let word = equals + 1;
      while (word < at && isBlank(bytes[word]!)) word++;
      if (FACE_WORDS.some((face) => matches(bytes, word, face))) faceCount++;
      const mayBeUnit =
        bytes[word] === OPEN ||
        matches(bytes, word, 'LENGTH_') ||
        matches(bytes, word, 'SI_UNIT') ||
        matches(bytes, word, 'MEASURE_WITH_UNIT') ||
        matches(bytes, word, 'CONVERSION_BASED_UNIT') ||
        matches(bytes, word, 'GLOBAL_UNIT');
      if (mayBeUnit && at - word < LONGEST_UNIT_STATEMENT && unitStatements.size < MOST_UNIT_STATEMENTS) {
        const text = plainText(bytes, word, at);
        if (/UNIT/.test(text)) unitStatements.set(id, text);
      }
    } else if (matches(bytes, start, END_WORD)) ended = true;
    at++;
  }
  return finish();

  function finish(): Result<StepText> {
    if (!ended) return truncated('early');
    return success({
      metresPerUnit: lengthUnits(unitStatements),
      faceCount,
      missingCount: countOnlyIn(named, defined),
    });
  }
}

function plainText(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let at = start; at < end; at++) text += String.fromCharCode(bytes[at]!);
  return text.replace(/\s+/g, ' ');
}

/** ISO 10303-41, si_prefix. */
const SI_PREFIXES: Readonly<Record<string, number>> = {
  EXA: 1e18,
  PETA: 1e15,
  TERA: 1e12,
  GIGA: 1e9,
  MEGA: 1e6,
  KILO: 1e3,
  HECTO: 1e2,
  DECA: 10,
  DECI: 0.1,
  CENTI: 0.01,
  MILLI: 1e-3,
  MICRO: 1e-6,
  NANO: 1e-9,
  PICO: 1e-12,
  FEMTO: 1e-15,
  ATTO: 1e-18,
};

/** The different length units among those that GLOBAL_UNIT_ASSIGNED_CONTEXT assigns to shapes. */
function lengthUnits(statements: ReadonlyMap<number, string>): number[] {
  const found = new Set<number>();
  for (const text of statements.values()) {
    const assigned = /GLOBAL_UNIT_ASSIGNED_CONTEXT ?\( ?\(([^)]*)\)/.exec(text);
    for (const [, id] of assigned?.[1]!.matchAll(/#(\d+)/g) ?? []) {
      const metres = metresOf(statements, Number(id), 0);
      if (metres !== undefined) found.add(metres);
    }
  }
  return [...found];
}

/** Undefined for what is no length. A unit that is given by another is followed a few steps only: it may be a ring. */
function metresOf(statements: ReadonlyMap<number, string>, id: number, depth: number): number | undefined {
  const text = statements.get(id);
  if (text === undefined || depth > 8) return undefined;
  const si = /SI_UNIT ?\( ?(\$|\.([A-Z]+)\.) ?, ?\.METRE\./.exec(text);
  if (si) return si[2] === undefined ? 1 : SI_PREFIXES[si[2]];
  const based = /CONVERSION_BASED_UNIT ?\( ?'[^']*' ?, ?#(\d+)/.exec(text);
  if (!based) return undefined;
  const measure = statements.get(Number(based[1])) ?? '';
  const given = /MEASURE_WITH_UNIT ?\( ?(?:[A-Z_]+ ?\( ?)?([-+.\dE]+) ?\)? ?, ?#(\d+)/.exec(measure);
  if (!given) return undefined;
  const base = metresOf(statements, Number(given[2]), depth + 1);
  const metres = base === undefined ? NaN : Number(given[1]) * base;
  return metres > 0 && metres < Infinity ? Number(metres.toPrecision(12)) : undefined;
}
