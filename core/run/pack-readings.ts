import { fnv1a } from '../fnv1a.ts';
import { failure, success, type Result } from '../result.ts';
import { checkReadings, READING_ORIGINS, type Readings } from './readings.ts';

/**
 * Readings as bytes for the store, without loss.
 *
 * Byte 0 version, byte 1 origin, byte 2 bit 0 whether temperatures follow, then the count (4 bytes, little endian), the
 * columns and a 32-bit FNV-1a sum of all before it. A column whose values are all decimal numbers of up to six places,
 * as displays and supplies give them, is kept as whole numbers: first value, then differences (of the times: differences
 * of differences), zigzag, seven bits a byte. Any other column is kept as float64. Missing temperatures are bits of a
 * presence map. 7 200 readings with three decimals come to about 40 kB, two decimals to about 30 kB.
 */
export const READINGS_VERSION = 1;

const HEADER_BYTES = 7;
const SUM_BYTES = 4;
const RAW = 255;
const MOST_DECIMALS = 6;
/** Room for second differences of whole numbers that must stay exact in float64. */
const LARGEST_WHOLE = 2 ** 50;
/** A zigzagged second difference stays below 2^53: eight groups of seven bits. */
const MOST_VARINT_BYTES = 8;

export function packReadings(readings: Readings): Uint8Array {
  checkReadings(readings);
  const { tS, voltageV, currentA, bathTemperatureK } = readings;
  const count = tS.length;
  const columns = bathTemperatureK ? 4 : 3;
  const bytes = new Uint8Array(HEADER_BYTES + SUM_BYTES + columns * (1 + count * 8) + Math.ceil(count / 8));
  const view = new DataView(bytes.buffer);
  bytes[0] = READINGS_VERSION;
  bytes[1] = READING_ORIGINS.indexOf(readings.origin);
  bytes[2] = bathTemperatureK ? 1 : 0;
  view.setUint32(3, count, true);
  let at = HEADER_BYTES;
  at = writeColumn(bytes, view, at, tS, 2);
  at = writeColumn(bytes, view, at, voltageV, 1);
  at = writeColumn(bytes, view, at, currentA, 1);
  if (bathTemperatureK) {
    for (let i = 0; i < count; i++) {
      if (!Number.isNaN(bathTemperatureK[i])) bytes[at + (i >> 3)]! |= 1 << (i & 7);
    }
    at += Math.ceil(count / 8);
    at = writeColumn(
      bytes,
      view,
      at,
      bathTemperatureK.filter((kelvin) => !Number.isNaN(kelvin)),
      1,
    );
  }
  view.setUint32(at, fnv1a(bytes.subarray(0, at)), true);
  return bytes.slice(0, at + SUM_BYTES);
}

/** Failures: `readings-newer` (written by a later version), `readings-damaged`. */
export function unpackReadings(bytes: Uint8Array): Result<Readings> {
  const damaged = failure(
    'readings-damaged',
    'The readings of this run are damaged.',
    'Restore them from a backup file.',
  );
  if (bytes.length < 1) return damaged;
  if (bytes[0]! > READINGS_VERSION) {
    return failure(
      'readings-newer',
      'The readings of this run were written by a newer version of the program.',
      'Update the program and open the run again.',
    );
  }
  if (bytes.length < HEADER_BYTES + SUM_BYTES || bytes[0] !== READINGS_VERSION) return damaged;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = bytes.length - SUM_BYTES;
  const count = view.getUint32(3, true);
  const origin = READING_ORIGINS[bytes[1]!];
  // Every reading takes at least a byte, so a count above the length is damage, not a reason to fill memory.
  if (view.getUint32(end, true) !== fnv1a(bytes.subarray(0, end)) || count > bytes.length || !origin)
    return damaged;
  const cursor = { at: HEADER_BYTES, end };
  const tS = readColumn(bytes, view, cursor, count, 2);
  const voltageV = readColumn(bytes, view, cursor, count, 1);
  const currentA = readColumn(bytes, view, cursor, count, 1);
  if (!tS || !voltageV || !currentA) return damaged;
  let bathTemperatureK: Float64Array | null = null;
  if (bytes[2]! & 1) {
    const map = bytes.subarray(cursor.at, cursor.at + Math.ceil(count / 8));
    cursor.at += map.length;
    bathTemperatureK = new Float64Array(count).fill(NaN);
    const present: number[] = [];
    for (let i = 0; i < count; i++) if (map[i >> 3]! & (1 << (i & 7))) present.push(i);
    const kelvins = readColumn(bytes, view, cursor, present.length, 1);
    if (!kelvins) return damaged;
    for (let i = 0; i < present.length; i++) bathTemperatureK[present[i]!] = kelvins[i]!;
  }
  return success({ origin, tS, voltageV, currentA, bathTemperatureK });
}

/** Fewest decimals that keep every value exactly, or RAW. */
function decimalsOf(values: Float64Array): number {
  let decimals = 0;
  for (const value of values) {
    while (!isDecimal(value, 10 ** decimals)) {
      decimals++;
      if (decimals > MOST_DECIMALS) return RAW;
    }
  }
  return values.every((value) => isDecimal(value, 10 ** decimals)) ? decimals : RAW;
}

function isDecimal(value: number, scale: number): boolean {
  const whole = Math.round(value * scale);
  // A negative zero would lose its sign as a whole number.
  return Math.abs(whole) <= LARGEST_WHOLE && whole / scale === value && !Object.is(value, -0);
}

function writeColumn(
  bytes: Uint8Array,
  view: DataView,
  start: number,
  values: Float64Array,
  order: 1 | 2,
): number {
  const decimals = decimalsOf(values);
  let at = start;
  bytes[at++] = decimals;
  if (decimals === RAW) {
    for (const value of values) {
      view.setFloat64(at, value, true);
      at += 8;
    }
    return at;
  }
  const scale = 10 ** decimals;
  let last = 0;
  let lastStep = 0;
  for (const value of values) {
    const whole = Math.round(value * scale);
    const step = whole - last;
    const kept = order === 2 ? step - lastStep : step;
    let zigzag = kept < 0 ? -2 * kept - 1 : 2 * kept;
    while (zigzag >= 128) {
      bytes[at++] = (zigzag % 128) | 128;
      zigzag = Math.floor(zigzag / 128);
    }
    bytes[at++] = zigzag;
    last = whole;
    lastStep = step;
  }
  return at;
}

function readColumn(
  bytes: Uint8Array,
  view: DataView,
  cursor: { at: number; readonly end: number },
  count: number,
  order: 1 | 2,
): Float64Array | undefined {
  if (cursor.at >= cursor.end) return undefined;
  const decimals = bytes[cursor.at++]!;
  const values = new Float64Array(count);
  if (decimals === RAW) {
    if (cursor.at + 8 * count > cursor.end) return undefined;
    for (let i = 0; i < count; i++) values[i] = view.getFloat64(cursor.at + 8 * i, true);
    cursor.at += 8 * count;
    return values;
  }
  if (decimals > MOST_DECIMALS) return undefined;
  const scale = 10 ** decimals;
  let last = 0;
  let lastStep = 0;
  for (let i = 0; i < count; i++) {
    let zigzag = 0;
    let weight = 1;
    for (let used = 1; ; used++) {
      if (cursor.at >= cursor.end || used > MOST_VARINT_BYTES) return undefined;
      const byte = bytes[cursor.at++]!;
      zigzag += (byte & 127) * weight;
      weight *= 128;
      if (byte < 128) break;
    }
    const kept = zigzag % 2 === 1 ? -(zigzag + 1) / 2 : zigzag / 2;
    const step = order === 2 ? kept + lastStep : kept;
    last += step;
    lastStep = step;
    values[i] = last / scale;
  }
  return values;
}
