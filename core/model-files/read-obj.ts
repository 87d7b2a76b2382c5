/**
 * OBJ. The library's loader turns a face that names a missing corner into NaN, mixes lines into the triangles of
 * their object, keeps texture data nobody needs here, and cuts every polygon as a fan from its first corner, which
 * covers too much where the polygon has a reentrant corner. So the bytes are walked once: every line is checked, and
 * only corners, faces and names are handed on. Polygons are looked at again after loading.
 */
import { strFromU8 } from 'fflate';
import type { Body } from '../mesh/mesh.ts';
import { failure, success, type Failure, type Result } from '../result.ts';
import { isBlank, isLineEnd, isNumber, isWord, quoteWord, textStart } from './ascii-bytes.ts';
import { MAX_TRIANGLES, type ModelNote } from './loaded-model.ts';
import type { ModelLoaders, ObjNodeLike } from './loader-parsers.ts';
import { tooManyTriangles } from './read-binary-stl.ts';
import { recutPolygonsInto } from './recut-polygons.ts';

export interface ObjModel {
  readonly positions: Float32Array<ArrayBuffer>;
  readonly bodies: readonly Body[];
  readonly notes: readonly ModelNote[];
}

/** The longest string of the common JavaScript engines (2²⁹ − 24), with a margin. */
const LONGEST_TEXT = 2 ** 29 - 1024;
const LETTER_V = 118;
const SLASH = 47;
const BACKSLASH = 92;
const HASH = 35;

interface CleanObj {
  readonly text: Uint8Array;
  readonly triangles: number;
  /** Flat pairs: first triangle, number of corners, for each face of more than three corners. */
  readonly polygons: number[];
  readonly notes: ModelNote[];
}

/** Checks every line and copies corners, faces, objects and groups; nothing else. */
function cleanObj(bytes: Uint8Array, onProgress?: (fraction: number) => void): Result<CleanObj> {
  const out = new Uint8Array(bytes.length + 16);
  // An object of its own for what comes before the first name: the loader would give it that name.
  let filled = 2;
  out.set([111, 10]);
  let line = 1;
  let at = textStart(bytes);
  let corners = 0;
  let triangles = 0;
  let linesAndPoints = 0;
  let shortFaces = 0;
  let freeForm = 0;
  const polygons: number[] = [];
  let nextReport = 0;

  // The current word; a backslash before the line end continues the line.
  let start = 0;
  let end = 0;
  const nextWord = (): boolean => {
    for (;;) {
      while (at < bytes.length && isBlank(bytes[at]!) && !isLineEnd(bytes[at]!)) at++;
      if (bytes[at] === BACKSLASH && at + 1 < bytes.length && isLineEnd(bytes[at + 1]!)) {
        at += bytes[at + 1] === 13 && bytes[at + 2] === 10 ? 3 : 2;
        line++;
        continue;
      }
      break;
    }
    start = at;
    while (at < bytes.length && !isBlank(bytes[at]!)) {
      if (bytes[at] === BACKSLASH && at + 1 < bytes.length && isLineEnd(bytes[at + 1]!)) break;
      at++;
    }
    end = at;
    return start < end;
  };
  const skipLine = (): void => {
    while (at < bytes.length && !isLineEnd(bytes[at]!)) at++;
  };
  const put = (from: number, to: number): void => {
    for (let i = from; i < to; i++) out[filled++] = bytes[i]!;
  };
  const notANumber = (what: string): { ok: false; error: Failure } =>
    failure(
      'obj-not-a-number',
      `${what} at line ${line} has ${start < end ? `“${quoteWord(bytes, start, end)}” where a number belongs` : 'too few numbers'}.`,
      'The file is damaged or was written wrongly: export the model again.',
    );

  while (at < bytes.length) {
    const lineAt = line;
    if (nextWord() && bytes[start] !== HASH) {
      if (end - start === 1 && bytes[start] === LETTER_V) {
        corners++;
        out[filled++] = LETTER_V;
        for (let axis = 0; axis < 3; axis++) {
          if (!nextWord() || !isNumber(bytes, start, end)) return notANumber('The corner');
          out[filled++] = 32;
          put(start, end);
        }
        out[filled++] = 10;
      } else if (isWord(bytes, start, end, 'f')) {
        const faceAt = filled;
        out[filled++] = 102;
        let count = 0;
        while (nextWord()) {
          if (bytes[start] === HASH) break;
          let to = start;
          while (to < end && bytes[to] !== SLASH) to++;
          let index = 0;
          let digits = 0;
          const negative = bytes[start] === 45;
          for (let i = negative ? start + 1 : start; i < to; i++) {
            const digit = bytes[i]! - 48;
            if (digit < 0 || digit > 9 || ++digits > 10) return notANumber('The face');
            index = index * 10 + digit;
          }
          if (digits === 0) return notANumber('The face');
          if (index === 0 || index > corners) {
            return failure(
              'obj-corner-missing',
              `The face at line ${lineAt} uses corner ${negative ? '-' : ''}${index}, but ${corners} are listed above it${index === 0 ? ' and they are counted from 1' : ''}.`,
              'The file is damaged or was cut: export the model again.',
            );
          }
          out[filled++] = 32;
          put(start, to);
          count++;
        }
        out[filled++] = 10;
        if (count < 3) {
          shortFaces++;
          filled = faceAt;
        } else {
          if (count > 3) polygons.push(triangles, count);
          triangles += count - 2;
          if (triangles > MAX_TRIANGLES) return tooManyTriangles(`more than ${MAX_TRIANGLES}`);
        }
      } else if (isWord(bytes, start, end, 'o') || isWord(bytes, start, end, 'g')) {
        const from = start;
        skipLine();
        put(from, at);
        out[filled++] = 10;
      } else if (isWord(bytes, start, end, 'l') || isWord(bytes, start, end, 'p')) {
        linesAndPoints++;
      } else if (isWord(bytes, start, end, 'surf') || isWord(bytes, start, end, 'curv')) {
        freeForm++;
      }
    }
    skipLine();
    if (at < bytes.length) {
      at += bytes[at] === 13 && bytes[at + 1] === 10 ? 2 : 1;
      line++;
    }
    if (at > nextReport) {
      onProgress?.((at / bytes.length) * 0.5);
      nextReport = at + (1 << 22);
    }
  }
  const notes: ModelNote[] = [];
  const leftOut = (code: string, level: 'note' | 'check', message: string, remedy: string): void => {
    notes.push({ code, level, message, remedy });
  };
  if (linesAndPoints > 0) {
    leftOut(
      'obj-lines-left-out',
      'note',
      `${linesAndPoints} lines or points in the file have no surface and were left out.`,
      'Nothing to do unless a surface is missing.',
    );
  }
  if (shortFaces > 0) {
    leftOut(
      'obj-short-faces',
      'check',
      `${shortFaces} faces with fewer than three corners were left out.`,
      'Check that the part is whole; otherwise export it again.',
    );
  }
  if (freeForm > 0) {
    leftOut(
      'obj-free-form',
      'check',
      `${freeForm} free-form curves or surfaces in the file were left out.`,
      'Export the part again as a mesh (triangles or polygons).',
    );
  }
  return success({ text: out.subarray(0, filled), triangles, polygons, notes });
}

function meshesOf(node: ObjNodeLike, into: ObjNodeLike[]): void {
  if (node.geometry) into.push(node);
  for (const child of node.children) meshesOf(child, into);
}

/**
 * Reads an OBJ file; each `o` or `g` with faces becomes a body. Failures: `obj-not-a-number`, `obj-corner-missing`
 * (both with the line), `obj-too-long`, `too-many-triangles`, `no-triangles`, `loader-disagrees`.
 */
export function readObj(
  bytes: Uint8Array,
  loaders: ModelLoaders,
  onProgress?: (fraction: number) => void,
): Result<ObjModel> {
  const clean = cleanObj(bytes, onProgress);
  if (!clean.ok) return clean;
  const { text, triangles, polygons, notes } = clean.value;
  if (triangles === 0) {
    return failure(
      'no-triangles',
      'The file holds no faces.',
      notes.some((note) => note.code === 'obj-free-form')
        ? 'It describes free-form surfaces: export the part as a mesh (triangles or polygons).'
        : 'Export the part again as a mesh of its surface, not as lines or points.',
    );
  }
  if (text.length > LONGEST_TEXT) {
    return failure(
      'obj-too-long',
      `The corners and faces fill ${Math.round(text.length / 1e6)} MB of text, and ${Math.floor(LONGEST_TEXT / 1e6)} MB is the most that can be read.`,
      'Export the part as binary STL, or with a coarser tolerance.',
    );
  }
  const meshes: ObjNodeLike[] = [];
  meshesOf(loaders.obj.parse(strFromU8(text)), meshes);
  onProgress?.(0.9);
  const positions = new Float32Array(triangles * 9);
  const bodies: Body[] = [];
  let at = 0;
  for (const mesh of meshes) {
    const corners = mesh.geometry!.getAttribute('position')?.array ?? [];
    if (at + corners.length > positions.length || corners.length % 9 !== 0) {
      at = -1;
      break;
    }
    positions.set(corners, at);
    bodies.push({
      name: mesh.name.trim() || `object ${bodies.length + 1}`,
      firstTriangle: at / 9,
      triangleCount: corners.length / 9,
    });
    at += corners.length;
  }
  if (at !== positions.length) {
    return failure(
      'loader-disagrees',
      `The file lists ${triangles} triangles, but not all of them were understood.`,
      'Export the model again, as binary STL if possible.',
    );
  }
  notes.push(...recutPolygonsInto(positions, polygons, loaders.cutPolygon));
  return success({ positions, bodies, notes });
}
