import { isoLimits, type SizeLimits } from '../reference/iso-286.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import { failure, success, type Result } from '../result.ts';
import { limitsOf } from './parse-thread.ts';
import { splitThread, usualClass } from './split-thread.ts';
import {
  inchesByLook,
  readWrittenSize,
  SIZE_NUMBER,
  SIZE_UNIT,
  sizeNumber,
  sizeUnit,
  type WrittenSize,
} from './written-size.ts';

export type FitSide = 'internal' | 'external';

export type ParsedFit =
  | {
      readonly kind: 'size';
      readonly limits: SizeLimits;
      /** Limits that don't say whether they are a hole's, taken as one. */
      readonly assumedHole: boolean;
    }
  | {
      readonly kind: 'thread';
      readonly limits: ThreadLimits;
      /** "2B", taken because none is written; null where one is. */
      readonly assumedClass: string | null;
    };

/** 10H7, 25 g6, 0.257 in H7, 1/4 H7: size, unit, letters, grade. */
export const SIZE_WITH_CLASS = new RegExp(
  String.raw`^[⌀øØ]?\s*(${SIZE_NUMBER})\s*(${SIZE_UNIT})?\s*([A-Za-z]{1,2})\s*(\d{1,2})$`,
);
/** H7, js6: a class whose size is the face's. */
export const FIT_CLASS = /^(?!M\s*\d)[A-Za-z]{1,2}\s*\d{1,2}$/;
/** FN2, LN3: the inch standard's kinds of fit. */
const INCH_FIT = /(?:^|[\d\s"])(RC|LC|LT|LN|FN)\s*\d{1,2}$/i;

/**
 * Reads a size with its tolerance class (10H7, 25 g6, 0.257 in H7, 1/4 H7), limits (.2575/.2565), a size with its deviations
 * (0.2570 +0.0005 -0.0000 in) or a thread (M6x1-6H, M8-6g, 1/4-20-2B, #10-32 UNF-2A, or M6 and
 * 1/4-20 without a class). Letters keep their case: H is a hole, h a shaft. Fails with `fit-not-read`, as
 * readWrittenSize does, and with the tables' failures.
 * @param side of the face it is for; a thread without a class, and limits, are taken as inside ones where nobody says
 */
export function parseFit(text: string, side?: FitSide): Result<ParsedFit> {
  const trimmed = text.trim();
  const size = SIZE_WITH_CLASS.exec(trimmed);
  if (size && !INCH_FIT.test(trimmed)) return classedSize(size);
  const thread = splitThread(trimmed);
  if (thread) {
    const assumedClass =
      thread.toleranceClass === null ? usualClass(thread.system, side ?? 'internal') : null;
    const limits = limitsOf(thread, assumedClass ?? thread.toleranceClass!);
    return limits.ok ? success({ kind: 'thread', limits: limits.value, assumedClass }) : limits;
  }
  const written = readWrittenSize(trimmed);
  if (written) return written.ok ? success(writtenFit(trimmed, written.value, side)) : written;
  if (INCH_FIT.test(trimmed)) {
    return failure(
      'fit-not-read',
      `“${trimmed}” stands for limits in the tables of ANSI B4.1, which are not held here.`,
      'Look its limits up and type them: .2575/.2565, or 0.2570 +0.0005 -0.0000.',
    );
  }
  return failure(
    'fit-not-read',
    `“${trimmed}” is not a fit or thread that can be read.`,
    'Type a size with its class (10H7, 25g6, 1/4 H7), its limits (.2575/.2565), a size with deviations (0.2570 +0.0005 -0.0000), or a thread (M6x1-6H, 1/4-20-2B).',
  );
}

function classedSize([, number, unit, letters, grade]: RegExpExecArray): Result<ParsedFit> {
  const inches = unit === undefined ? inchesByLook(number!) : sizeUnit(unit) === 'in';
  const sizeM = sizeNumber(number!) * (inches ? 25.4e-3 : 1e-3);
  const limits = isoLimits(sizeM, letters!, Number(grade));
  if (!limits.ok) return limits;
  const designation = inches ? `${number} in ${letters}${grade}` : limits.value.designation;
  return success({ kind: 'size', limits: { ...limits.value, designation }, assumedHole: false });
}

/** Its nominal size is the limit with the most metal, as a gauge is made to. */
function writtenFit(designation: string, size: WrittenSize, side: FitSide | undefined): ParsedFit {
  const hole = (size.side ?? side ?? 'internal') === 'internal';
  const nominalM = hole ? size.lowM : size.highM;
  return {
    kind: 'size',
    limits: {
      kind: hole ? 'hole' : 'shaft',
      nominalM,
      lowerM: size.lowM - nominalM,
      upperM: size.highM - nominalM,
      lowM: size.lowM,
      highM: size.highM,
      designation,
      source: { standing: 'your entry', text: '' },
    },
    assumedHole: size.side === null && side === undefined,
  };
}

/** What to say of what was taken for granted, a thread's class or a size's side; null where both are written. */
export function assumedText(fit: ParsedFit): string | null {
  if (fit.kind === 'size') {
    return fit.assumedHole
      ? `Taken as a hole’s limits; for a shaft write “shaft ${fit.limits.designation}”.`
      : null;
  }
  if (fit.assumedClass === null) return null;
  const inside = fit.limits.kind === 'internal';
  const other = { '6H': '6g', '6g': '6H', '2A': '2B', '2B': '2A' }[fit.assumedClass]!;
  return `No class is written, so ${fit.assumedClass} is taken, the usual one ${inside ? 'inside; for a bolt' : 'outside; for a hole'} write -${other}.`;
}
