import { isBlank, isNumber, quoteWord } from './ascii-bytes.ts';

/** The file's values one after another; `at` and `end` bound the last one. */
interface PlyValues {
  start: number;
  at: number;
  /** Steps over one value and gives it where `wanted`, else 0; undefined where the file ends or holds no number. */
  next(type: string, bytes: number, wanted: boolean): number | undefined;
  /** Why the last `next` gave nothing. */
  problem(): string | null;
}

export function binaryValues(bytes: Uint8Array, bodyStart: number, little: boolean): PlyValues {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const values: PlyValues = {
    start: bodyStart,
    at: bodyStart,
    next(type, size, wanted) {
      values.start = values.at;
      if (values.at + size > bytes.length) return undefined;
      values.at += size;
      if (!wanted) return 0;
      if (size === 1) {
        return type.startsWith('u') ? view.getUint8(values.start) : view.getInt8(values.start);
      }
      if (size === 2) {
        return type.startsWith('u')
          ? view.getUint16(values.start, little)
          : view.getInt16(values.start, little);
      }
      if (size === 8) return view.getFloat64(values.start, little);
      if (type.startsWith('float')) return view.getFloat32(values.start, little);
      return type.startsWith('u')
        ? view.getUint32(values.start, little)
        : view.getInt32(values.start, little);
    },
    problem: () => null,
  };
  return values;
}

export function textValues(bytes: Uint8Array, bodyStart: number): PlyValues {
  let problem: string | null = null;
  const values: PlyValues = {
    start: bodyStart,
    at: bodyStart,
    next(_type, _size, wanted) {
      let at = values.at;
      while (at < bytes.length && isBlank(bytes[at]!)) at++;
      values.start = at;
      while (at < bytes.length && !isBlank(bytes[at]!)) at++;
      values.at = at;
      if (values.start === at) return undefined;
      if (!isNumber(bytes, values.start, at)) {
        problem = quoteWord(bytes, values.start, at);
        return undefined;
      }
      if (!wanted) return 0;
      let text = '';
      for (let i = values.start; i < at; i++) text += String.fromCharCode(bytes[i]!);
      return Number(text);
    },
    problem: () => problem,
  };
  return values;
}
