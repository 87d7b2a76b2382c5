import { failure, success, type Failure, type Result } from '../result.ts';

/** Bytes of each number type, under both of its names (the format's own description, G. Turk, 1994). */
const TYPE_BYTES: Readonly<Record<string, number>> = {
  char: 1,
  uchar: 1,
  short: 2,
  ushort: 2,
  int: 4,
  uint: 4,
  float: 4,
  double: 8,
  int8: 1,
  uint8: 1,
  int16: 2,
  uint16: 2,
  int32: 4,
  uint32: 4,
  float32: 4,
  float64: 8,
};

export interface PlyProperty {
  readonly name: string;
  readonly type: string;
  /** Bytes of one value of `type`. */
  readonly bytes: number;
  /** Present for a list: the type of its length, a whole number. */
  readonly countType?: string;
  readonly countBytes: number;
}

export interface PlyElement {
  readonly name: string;
  readonly count: number;
  readonly properties: readonly PlyProperty[];
}

export interface PlyHeader {
  readonly encoding: 'ascii' | 'binary_little_endian' | 'binary_big_endian';
  readonly elements: readonly PlyElement[];
  readonly comments: readonly string[];
  /** First byte of the values. */
  readonly bodyStart: number;
}

/** Real headers are under a kilobyte. */
const LONGEST_HEADER = 65_536;
const MOST_ELEMENTS = 64;
const MOST_PROPERTIES = 256;
const MOST_COUNT = 2 ** 31;

const wrong = (message: string): { ok: false; error: Failure } =>
  failure('ply-header-wrong', message, 'The file is damaged or was written wrongly: export the model again.');

/** Failure code `ply-header-wrong`, or `ply-truncated` where the header has no end. */
export function readPlyHeader(bytes: Uint8Array): Result<PlyHeader> {
  const elements: { name: string; count: number; properties: PlyProperty[] }[] = [];
  const comments: string[] = [];
  let encoding: PlyHeader['encoding'] | undefined;
  let at = 0;
  for (let line = 1; at < Math.min(bytes.length, LONGEST_HEADER); line++) {
    let text = '';
    while (at < bytes.length && at < LONGEST_HEADER && bytes[at] !== 10 && bytes[at] !== 13) {
      text += String.fromCharCode(bytes[at++]!);
    }
    at += bytes[at] === 13 && bytes[at + 1] === 10 ? 2 : 1;
    const words = text.trim().split(/\s+/);
    const [keyword, ...rest] = words;
    const element = elements.at(-1);
    switch (keyword) {
      case 'ply':
      case '':
      case 'obj_info':
        break;
      case 'comment':
        comments.push(rest.join(' '));
        break;
      case 'format':
        encoding = (['ascii', 'binary_little_endian', 'binary_big_endian'] as const).find(
          (known) => known === rest[0],
        );
        if (!encoding) return wrong(`Line ${line} of the PLY header names an unknown form of the numbers.`);
        break;
      case 'element': {
        const count = Number(rest[1]);
        if (rest.length !== 2 || !/^\d+$/.test(rest[1]!) || count > MOST_COUNT) {
          return wrong(`Line ${line} of the PLY header does not say how many there are of what.`);
        }
        if (elements.length >= MOST_ELEMENTS)
          return wrong('The PLY header lists too many kinds of elements.');
        elements.push({ name: rest[0]!, count, properties: [] });
        break;
      }
      case 'property': {
        const isList = rest[0] === 'list';
        const [type = '', name = ''] = isList ? rest.slice(2) : rest;
        const typeBytes = TYPE_BYTES[type];
        const countType = isList ? rest[1]! : undefined;
        const countBytes = countType === undefined ? 0 : TYPE_BYTES[countType];
        if (!element || !typeBytes || countBytes === undefined || name === '') {
          return wrong(`Line ${line} of the PLY header does not describe a property.`);
        }
        if (countType !== undefined && /^(float|double)/.test(countType)) {
          return wrong(`Line ${line} of the PLY header counts a list in fractions.`);
        }
        if (element.properties.length >= MOST_PROPERTIES) {
          return wrong('The PLY header lists too many properties.');
        }
        element.properties.push({
          name,
          type,
          bytes: typeBytes,
          countBytes,
          ...(countType === undefined ? {} : { countType }),
        });
        break;
      }
      case 'end_header':
        if (!encoding) return wrong('The PLY header does not say in which form its numbers are.');
        return success({ encoding, elements, comments, bodyStart: Math.min(at, bytes.length) });
      default:
        return wrong(`Line ${line} of the PLY header is not understood.`);
    }
  }
  return failure(
    'ply-truncated',
    'The PLY file ends inside its header.',
    'The copy or download broke off: copy or export the model again.',
  );
}
