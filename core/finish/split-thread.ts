import { UNIFIED_SIZES } from '../reference/asme-b1-1.ts';

/** A thread as it is written, taken apart; nothing looked up but what "UNC" means for a size. */
export type WrittenThread =
  | {
      readonly system: 'metric';
      readonly diameterMm: number;
      /** null: the coarse one. */
      readonly pitchMm: number | null;
      /** "6H"; null where none is written. */
      readonly toleranceClass: string | null;
    }
  | {
      readonly system: 'unified';
      readonly size: string;
      readonly perInch: number;
      /** "2B"; null where none is written. */
      readonly toleranceClass: string | null;
    };

const METRIC =
  /^[Mm]\s*(\d+(?:[.,]\d+)?)(?:\s*[xX×*]\s*(\d+(?:[.,]\d+)?))?(?:\s*[-\s]\s*(\d[a-zA-Z](?:\d[a-zA-Z])?))?$/;
const UNIFIED =
  /^(?:#|no\.?\s*)?\s*(\d+(?:\/\d+)?)(?:\s*(?:in|"))?\s*(?:-\s*(\d+))?\s*(UNC|UNF)?(?:\s*[-\s]\s*([123]?[AB]))?$/i;

/** M6, M6x1, M8x1-6H, 1/4-20, 1/4-20 UNC-2B, 1/4 UNC, #10-32 UNF; null for anything else, and for a UNC that is none. */
export function splitThread(text: string): WrittenThread | null {
  const trimmed = text.trim();
  const number = (part: string): number => Number(part.replace(',', '.'));
  const metric = METRIC.exec(trimmed);
  if (metric) {
    return {
      system: 'metric',
      diameterMm: number(metric[1]!),
      pitchMm: metric[2] === undefined ? null : number(metric[2]),
      toleranceClass: metric[3] ?? null,
    };
  }
  const unified = UNIFIED.exec(trimmed);
  if (!unified || (unified[2] === undefined && unified[3] === undefined)) return null;
  const size = unified[1]!;
  const row = UNIFIED_SIZES.find(([name]) => name === size);
  const series = unified[3]?.toUpperCase();
  const ofSeries = series === 'UNC' ? row?.[2] : series === 'UNF' ? row?.[3] : undefined;
  const perInch = unified[2] === undefined ? ofSeries : Number(unified[2]);
  if (perInch === undefined || (ofSeries !== undefined && perInch !== ofSeries)) return null;
  return { system: 'unified', size, perInch, toleranceClass: unified[4]?.toUpperCase() ?? null };
}

/** Which side a class belongs to: capital letters and B are nuts and tapped holes. */
export function sideOfClass({ system, toleranceClass }: WrittenThread): 'internal' | 'external' | null {
  if (toleranceClass === null) return null;
  const letter = toleranceClass.replace(/\d/g, '');
  if (system === 'unified') return letter === 'B' ? 'internal' : 'external';
  return letter === letter.toUpperCase() ? 'internal' : 'external';
}

/** The usual class of a side, where none is written. */
export function usualClass(system: WrittenThread['system'], side: 'internal' | 'external'): string {
  if (system === 'metric') return side === 'internal' ? '6H' : '6g';
  return side === 'internal' ? '2B' : '2A';
}
