import { failure, success, type Failure, type Result } from '../result.ts';
import { isBlank, textStart } from './ascii-bytes.ts';
import type { ModelFormat } from './loaded-model.ts';

/** Binary STL: 80 bytes of header, a 32-bit count, 50 bytes a triangle. */
export const STL_HEADER_BYTES = 84;
export const STL_TRIANGLE_BYTES = 50;

const LOOK_AT_BYTES = 4096;

interface Foreign {
  readonly starts: readonly (string | readonly number[])[];
  readonly failure: Failure;
}

const notAModel = (code: string, what: string, remedy: string): Failure => ({
  code,
  message: `This is ${what}, not a model.`,
  remedy,
});
const otherModel = (code: string, what: string): Failure => ({
  code,
  message: `This is ${what}, which is not read here.`,
  remedy: 'Export the part as STEP or STL and open that file.',
});

/** What turns up under the name of a model, by its first bytes. Compared without case, after leading blanks. */
const FOREIGN: readonly Foreign[] = [
  {
    starts: ['<!doctype html', '<html', '<head', '<body'],
    failure: notAModel(
      'file-is-web-page',
      'a web page',
      'The download went wrong: fetch the file again with the download button of its page.',
    ),
  },
  {
    starts: ['<?xml', '<svg', '<'],
    failure: notAModel('file-is-xml', 'an XML file', 'Export the part as STL or OBJ and open that file.'),
  },
  {
    starts: ['%pdf'],
    failure: notAModel('file-is-pdf', 'a PDF', 'Open the part’s model file instead.'),
  },
  {
    starts: [[0x89, 0x50, 0x4e, 0x47], [0xff, 0xd8, 0xff], 'gif8', [0x52, 0x49, 0x46, 0x46]],
    failure: notAModel('file-is-picture', 'a picture', 'Open the part’s model file instead.'),
  },
  {
    starts: [[0x1f, 0x8b], 'rar!', [0x37, 0x7a, 0xbc, 0xaf], 'bzh', [0xfd, 0x37, 0x7a, 0x58, 0x5a]],
    failure: notAModel('file-is-compressed', 'a compressed file', 'Unpack it and open the model inside.'),
  },
  { starts: ['gltf'], failure: otherModel('file-is-gltf', 'a glTF file') },
  {
    starts: [[0xd0, 0xcf, 0x11, 0xe0]],
    failure: otherModel('file-is-cad-native', 'a CAD or office program’s own file'),
  },
  { starts: ['{', '['], failure: otherModel('file-is-json', 'a JSON file') },
  {
    starts: [
      [0xff, 0xfe],
      [0xfe, 0xff],
    ],
    failure: notAModel(
      'file-is-utf16',
      'text in UTF-16',
      'If it is a model, save it again as plain text (ASCII or UTF-8).',
    ),
  },
];

function startsWith(bytes: Uint8Array, at: number, start: string | readonly number[]): boolean {
  if (at + start.length > bytes.length) return false;
  for (let i = 0; i < start.length; i++) {
    const byte = bytes[at + i]!;
    if (typeof start !== 'string') {
      if (byte !== start[i]) return false;
      continue;
    }
    const lower = byte >= 65 && byte <= 90 ? byte + 32 : byte;
    if (lower !== start.charCodeAt(i)) return false;
  }
  return true;
}

function firstInk(bytes: Uint8Array): number {
  let at = textStart(bytes);
  const stop = Math.min(bytes.length, LOOK_AT_BYTES);
  while (at < stop && isBlank(bytes[at]!)) at++;
  return at;
}

function looksLikeText(bytes: Uint8Array): boolean {
  const stop = Math.min(bytes.length, LOOK_AT_BYTES);
  for (let at = textStart(bytes); at < stop; at++) {
    const byte = bytes[at]!;
    if (byte < 32 && !isBlank(byte)) return false;
    if (byte === 0) return false;
  }
  return true;
}

/** First lines as text, one character a byte. */
function head(bytes: Uint8Array): string {
  let text = '';
  const stop = Math.min(bytes.length, LOOK_AT_BYTES);
  for (let at = textStart(bytes); at < stop; at++) text += String.fromCharCode(bytes[at]!);
  return text;
}

function sniffZip(bytes: Uint8Array, ending: string): Result<ModelFormat> {
  const text = head(bytes);
  if (ending === 'tankside' || text.includes('job.json')) {
    return {
      ok: false,
      error: notAModel(
        'file-is-job',
        'a saved job',
        'Give it the ending .tankside and open it again, or name it with --job in the terminal.',
      ),
    };
  }
  if (ending === '3mf' || text.includes('.model') || text.includes('3D/')) return success('3mf');
  return { ok: false, error: notAModel('file-is-zip', 'a zip file', 'Unpack it and open the model inside.') };
}

const OBJ_LINE =
  /^\s*(?:v\s+[-+.\d]|vn\s|vt\s|vp\s|f\s+-?\d|l\s+-?\d|p\s+-?\d|o(?:\s|$)|g(?:\s|$)|mtllib\s|usemtl\s|s\s+(?:off|\d))/m;

export function fileEnding(name: string): string {
  const match = /\.([A-Za-z0-9]+)$/.exec(name.trim());
  return match ? match[1]!.toLowerCase() : '';
}

/**
 * What a file is, from its bytes; its name's ending only breaks ties. Failures name what was found instead:
 * `file-empty`, `file-is-…`, `stl-too-short`, `file-unknown`.
 */
export function sniffFormat(name: string, bytes: Uint8Array): Result<ModelFormat> {
  if (bytes.length === 0) {
    return failure('file-empty', 'The file is empty.', 'Export or copy the model again.');
  }
  const ending = fileEnding(name);
  if (bytes.length > STL_HEADER_BYTES) {
    const count = new DataView(bytes.buffer, bytes.byteOffset).getUint32(80, true);
    // The length of a sound binary STL fits its count to the byte; its header may hold anything at all.
    if (bytes.length === STL_HEADER_BYTES + STL_TRIANGLE_BYTES * count) return success('stl-binary');
  }
  const ink = firstInk(bytes);
  const text = looksLikeText(bytes);
  if (startsWith(bytes, ink, 'solid')) {
    // Many CAD programs begin the header of a binary file with "solid" too.
    if (!text && bytes.length > STL_HEADER_BYTES) return success('stl-binary');
    return success('stl-ascii');
  }
  if (startsWith(bytes, 0, 'pk\u0003\u0004') || startsWith(bytes, 0, 'pk\u0005\u0006')) {
    return sniffZip(bytes, ending);
  }
  if (startsWith(bytes, ink, 'iso-10303-21')) return success('step');
  if (startsWith(bytes, 0, 'ply\n') || startsWith(bytes, 0, 'ply\r')) {
    return success(/^format\s+ascii\b/m.test(head(bytes)) ? 'ply-ascii' : 'ply-binary');
  }
  for (const foreign of FOREIGN) {
    if (foreign.starts.some((start) => startsWith(bytes, ink, start) || startsWith(bytes, 0, start))) {
      return { ok: false, error: foreign.failure };
    }
  }
  if (text) {
    const start = head(bytes);
    if (OBJ_LINE.test(start) || (ending === 'obj' && start.includes('#'))) return success('obj');
    if (/^.{72}S\s*0*1\s*$/m.test(start))
      return { ok: false, error: otherModel('file-is-iges', 'an IGES file') };
    if (/^\s*0\s+SECTION\b/.test(start)) return { ok: false, error: otherModel('file-is-dxf', 'a DXF file') };
    if (/^\s*C?OFF\s/.test(start)) return { ok: false, error: otherModel('file-is-off', 'an OFF file') };
  }
  if (ending === 'stl' && !text) {
    if (bytes.length >= STL_HEADER_BYTES) return success('stl-binary');
    return failure(
      'stl-too-short',
      `The file ends after ${bytes.length} bytes, inside the header of a binary STL file (84 bytes).`,
      'Export or copy the model again.',
    );
  }
  return failure(
    'file-unknown',
    'No model was recognised in this file: it is neither STEP, STL, OBJ, PLY nor 3MF.',
    'Export the part as STEP (best) or STL and open that file.',
  );
}
