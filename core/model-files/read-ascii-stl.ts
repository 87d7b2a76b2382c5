/**
 * ASCII STL. Five million triangles are over a gigabyte of text, more than a string holds, and the library's loader
 * passes silently over whatever it does not understand. So the bytes are walked once here: every facet is checked
 * word by word and copied in canonical spelling into a piece of a few megabytes, cut after an `endfacet`, which the
 * loader then parses. Line numbers for messages and the progress come from the same walk.
 */
import type { Body } from '../mesh/mesh.ts';
import { failure, success, type Failure, type Result } from '../result.ts';
import { isBlank, isLineEnd, isNumber, isWord, quoteWord, textStart } from './ascii-bytes.ts';
import { notesOnNormals, tallyNormalsInto } from './count-file-normals.ts';
import { MAX_TRIANGLES, type ModelNote } from './loaded-model.ts';
import type { StlLoaderLike } from './loader-parsers.ts';
import { tooManyTriangles } from './read-binary-stl.ts';

export interface AsciiStl {
  readonly positions: Float32Array<ArrayBuffer>;
  readonly bodies: readonly Body[];
  readonly notes: readonly ModelNote[];
}

const PIECE_BYTES = 4 << 20;
/** No facet is longer in canonical spelling: twelve numbers of at most 64 bytes and its words. */
const LONGEST_FACET = 1024;
const LOADER_FLOOR_BYTES = 84;

const asciiOf = (text: string): Uint8Array => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
const OPEN = asciiOf('solid s\n');
const CLOSE = asciiOf('endsolid s\n');
const FACET_NORMAL = asciiOf('facet normal');
const ZERO_NORMAL = asciiOf(' 0 0 0');
const VERTEX = asciiOf('\nvertex');
const END_FACET = asciiOf('\nendfacet\n');

class Words {
  line = 1;
  start = 0;
  end = 0;
  /** True when a line ended between the word before and this one. */
  newLine = true;
  #at: number;

  constructor(readonly bytes: Uint8Array) {
    this.#at = textStart(bytes);
  }

  /** Moves to the next word; false at the end of the file. */
  next(): boolean {
    const { bytes } = this;
    let at = this.#at;
    this.newLine = at === 0;
    for (; at < bytes.length && isBlank(bytes[at]!); at++) {
      if (!isLineEnd(bytes[at]!)) continue;
      this.newLine = true;
      // CR LF is one line end.
      if (!(bytes[at] === 10 && at > 0 && bytes[at - 1] === 13)) this.line++;
    }
    this.start = at;
    while (at < bytes.length && !isBlank(bytes[at]!)) at++;
    this.end = at;
    this.#at = at;
    return this.start < this.end;
  }

  is(word: string): boolean {
    return isWord(this.bytes, this.start, this.end, word);
  }

  isNumber(): boolean {
    return isNumber(this.bytes, this.start, this.end);
  }

  quoted(): string {
    return quoteWord(this.bytes, this.start, this.end);
  }

  mark(): { at: number; line: number; start: number; end: number; newLine: boolean } {
    return { at: this.#at, line: this.line, start: this.start, end: this.end, newLine: this.newLine };
  }

  back(mark: { at: number; line: number; start: number; end: number; newLine: boolean }): void {
    this.#at = mark.at;
    this.line = mark.line;
    this.start = mark.start;
    this.end = mark.end;
    this.newLine = mark.newLine;
  }
}

/**
 * Reads an ASCII STL file. Words may be in any case, line ends of any kind. Failures name the line:
 * `stl-facet-unfinished`, `stl-ascii-truncated`, `stl-too-few-corners`, `stl-too-many-corners`, `stl-not-a-number`,
 * `stl-unexpected-word`, `too-many-triangles`, `loader-disagrees`.
 */
export function readAsciiStl(
  bytes: Uint8Array,
  loader: StlLoaderLike,
  onProgress?: (fraction: number) => void,
): Result<AsciiStl> {
  const words = new Words(bytes);
  const piece = new Uint8Array(Math.min(PIECE_BYTES, bytes.length * 2 + 4096) + LONGEST_FACET * 2);
  let filled = 0;
  let facetsInPiece = 0;
  const pieces: Float32Array[] = [];
  const tally = { triangles: 0, missing: 0, opposed: 0 };
  let triangles = 0;
  const solids: { name: string; firstTriangle: number }[] = [];
  let solidOpen = false;
  let strayWords = 0;
  let strayLine = 0;

  const put = (part: Uint8Array): void => {
    piece.set(part, filled);
    filled += part.length;
  };
  const putWord = (): void => {
    piece[filled++] = 32;
    for (let at = words.start; at < words.end; at++) piece[filled++] = bytes[at]!;
  };
  const startPiece = (): void => {
    filled = 0;
    facetsInPiece = 0;
    put(OPEN);
  };
  const flush = (): Failure | undefined => {
    if (facetsInPiece === 0) return undefined;
    put(CLOSE);
    // The loader reads a count at byte 80 before it looks at the text, so a short piece is padded with blanks.
    const text = new Uint8Array(Math.max(filled, LOADER_FLOOR_BYTES)).fill(10);
    text.set(piece.subarray(0, filled));
    const geometry = loader.parse(text.buffer);
    const positions = Float32Array.from(geometry.getAttribute('position')?.array ?? []);
    if (positions.length !== facetsInPiece * 9) {
      return failure(
        'loader-disagrees',
        `Of ${facetsInPiece} facets before line ${words.line} only ${positions.length / 9} were understood.`,
        'Export the model again, as binary STL if possible.',
      ).error;
    }
    tallyNormalsInto(tally, positions, geometry.getAttribute('normal')?.array ?? []);
    pieces.push(positions);
    onProgress?.(words.end / bytes.length);
    startPiece();
    return undefined;
  };

  /** The rest of the line, or up to a facet that begins on the same line. */
  const readName = (): string => {
    const from = words.end;
    let to = from;
    let mark = words.mark();
    while (words.next() && !words.newLine) {
      if (words.is('facet')) {
        const atFacet = words.mark();
        const isFacet = words.next() && words.is('normal');
        words.back(atFacet);
        if (isFacet) break;
      }
      to = words.end;
      mark = words.mark();
    }
    words.back(mark);
    let name = '';
    for (let at = from; at < Math.min(to, from + 120); at++) name += String.fromCharCode(bytes[at]!);
    return name.trim();
  };

  /** The words of one facet after `facet`, up to and with `endfacet`. */
  const readFacet = (): Failure | undefined => {
    const firstLine = words.line;
    let corners = 0;
    const facetAt = filled;
    put(FACET_NORMAL);
    let normalDone = false;
    const closeNormal = (): void => {
      if (!normalDone) put(ZERO_NORMAL);
      normalDone = true;
    };
    while (words.next()) {
      if (words.is('vertex')) {
        closeNormal();
        if (++corners > 3) {
          return failure(
            'stl-too-many-corners',
            `The facet at line ${firstLine} has more than three corners (line ${words.line}).`,
            'STL allows triangles only: have the exporter cut the surface into triangles.',
          ).error;
        }
        put(VERTEX);
        const vertexLine = words.line;
        for (let axis = 0; axis < 3; axis++) {
          if (!words.next()) return endsInside(firstLine);
          if (!words.isNumber()) {
            return failure(
              'stl-not-a-number',
              `A corner at line ${vertexLine} has “${words.quoted()}” where a number belongs.`,
              /^[+-]?\d+,\d+$/.test(words.quoted())
                ? 'The file was written with decimal commas: export it again with decimal points.'
                : 'Export the model again, as binary STL if possible.',
            ).error;
          }
          putWord();
        }
      } else if (words.is('endfacet')) {
        if (corners < 3) {
          return failure(
            'stl-too-few-corners',
            `The facet at line ${firstLine} has ${corners} of its three corners.`,
            'Export the model again.',
          ).error;
        }
        put(END_FACET);
        return undefined;
      } else if (words.is('normal') && corners === 0 && !normalDone) {
        const normalAt = filled;
        let numbers = 0;
        for (let axis = 0; axis < 3; axis++) {
          const before = words.mark();
          if (!words.next()) break;
          if (words.is('outer') || words.is('vertex') || words.is('endfacet')) {
            words.back(before);
            break;
          }
          // "NaN" and its like are passed over with the whole normal.
          if (!words.isNumber()) continue;
          numbers++;
          putWord();
        }
        if (numbers === 3) normalDone = true;
        else filled = normalAt;
      } else if (words.is('facet') || words.is('endsolid') || words.is('solid')) {
        return failure(
          'stl-facet-unfinished',
          `The facet at line ${firstLine} is not finished when “${words.quoted()}” follows at line ${words.line}.`,
          'The file is damaged: export the model again.',
        ).error;
      } else if (!words.is('outer') && !words.is('loop') && !words.is('endloop')) {
        return failure(
          'stl-unexpected-word',
          `“${words.quoted()}” at line ${words.line} does not belong into a facet.`,
          'The file is damaged: export the model again.',
        ).error;
      }
    }
    filled = facetAt;
    return endsInside(firstLine);
  };
  const endsInside = (firstLine: number): Failure =>
    failure(
      'stl-ascii-truncated',
      `The file ends inside the facet at line ${firstLine}, after ${triangles} whole triangles.`,
      'The copy or download broke off: export or copy the model again.',
    ).error;

  startPiece();
  while (words.next()) {
    if (words.is('facet')) {
      if (!solidOpen) {
        solids.push({ name: '', firstTriangle: triangles });
        solidOpen = true;
      }
      const error = readFacet();
      if (error) return { ok: false, error };
      facetsInPiece++;
      if (++triangles > MAX_TRIANGLES) return tooManyTriangles(`more than ${MAX_TRIANGLES}`);
      if (filled > piece.length - LONGEST_FACET * 2) {
        const stopped = flush();
        if (stopped) return { ok: false, error: stopped };
      }
    } else if (words.is('solid')) {
      solids.push({ name: readName(), firstTriangle: triangles });
      solidOpen = true;
    } else if (words.is('endsolid')) {
      readName();
      solidOpen = false;
    } else if (words.is('vertex') || words.is('endfacet') || words.is('outer')) {
      return failure(
        'stl-facet-unfinished',
        `“${words.quoted()}” at line ${words.line} stands outside any facet.`,
        'The file is damaged: export the model again.',
      );
    } else {
      if (strayWords === 0) strayLine = words.line;
      strayWords++;
    }
  }
  const stopped = flush();
  if (stopped) return { ok: false, error: stopped };

  const positions = new Float32Array(triangles * 9);
  let at = 0;
  for (const part of pieces) {
    positions.set(part, at);
    at += part.length;
  }
  const bodies: Body[] = [];
  solids.forEach((solid, i) => {
    const end = solids[i + 1]?.firstTriangle ?? triangles;
    if (end === solid.firstTriangle) return;
    bodies.push({
      name: solid.name || `solid ${bodies.length + 1}`,
      firstTriangle: solid.firstTriangle,
      triangleCount: end - solid.firstTriangle,
    });
  });
  const notes = notesOnNormals(tally);
  if (solidOpen && triangles > 0) {
    notes.push({
      code: 'stl-no-endsolid',
      level: 'check',
      message: 'The file does not end with “endsolid”, so its end may be missing.',
      remedy: 'Check that the part is whole; otherwise export it again.',
    });
  }
  if (strayWords > 0) {
    notes.push({
      code: 'stl-stray-words',
      level: 'check',
      message: `${strayWords} words between the facets, the first at line ${strayLine}, were not understood and left out.`,
      remedy: 'Check that the part is whole; otherwise export it again.',
    });
  }
  return success({ positions, bodies, notes });
}
