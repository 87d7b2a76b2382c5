import { faceId, faceRow, type FaceTable } from '../../core/faces/face-table.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { partNumberFailure } from './part-number.ts';

/** One face as named on the command line. Without a part number it belongs to the only part. */
export interface FacesOfPart {
  /** From 1; undefined when not given. */
  readonly partNumber?: number;
  readonly row: number;
}

/** Reads "f3,f7", "2:f3" or "2:f3,f7" (the part number holds until the next one); `option` is named in a failure. */
export function parseFaceList(text: string, option = 'mask'): Result<FacesOfPart[]> {
  const faces: FacesOfPart[] = [];
  let partNumber: number | undefined;
  for (const word of text.split(',').map((part) => part.trim())) {
    if (word === '') continue;
    const match = /^(?:([1-9]\d*):)?(f[1-9]\d*)$/i.exec(word);
    if (!match) {
      return failure(
        'faces-invalid',
        `--${option}: “${word}” does not name a face.`,
        'Name faces as the plan lists them: f3,f7, or 2:f3 for the second part.',
      );
    }
    if (match[1] !== undefined) partNumber = Number(match[1]);
    faces.push({
      row: faceRow(match[2]!.toLowerCase())!,
      ...(partNumber === undefined ? {} : { partNumber }),
    });
  }
  if (faces.length === 0) {
    return failure(
      'faces-invalid',
      `--${option}: no face is named.`,
      'Name faces as the plan lists them: f3,f7.',
    );
  }
  return success(faces);
}

/** Rows to mask in part `partNumber` of `partCount`. Failures: `part-unknown`, `face-unknown`, `faces-ambiguous`. */
export function rowsForPart(
  masks: readonly FacesOfPart[],
  partNumber: number,
  partCount: number,
  faces: Pick<FaceTable, 'count'>,
): Result<number[]> {
  const chosen = forPart(masks, 'mask', partNumber, partCount, faces);
  return chosen.ok ? success(chosen.value.map(({ row }) => row)) : chosen;
}

/** What is said of faces of part `partNumber`. Failures as above. */
export function forPart<T extends FacesOfPart>(
  named: readonly T[],
  option: string,
  partNumber: number,
  partCount: number,
  faces: Pick<FaceTable, 'count'>,
): Result<T[]> {
  const own: T[] = [];
  for (const one of named) {
    const { partNumber: named, row } = one;
    const thing = faceId(row);
    const wrong = partNumberFailure(option, named, partCount, {
      code: 'faces-ambiguous',
      thing,
      said: thing,
    });
    if (wrong) return wrong;
    if ((named ?? 1) !== partNumber) continue;
    if (row >= faces.count) {
      return failure(
        'face-unknown',
        `--${option}: part ${partNumber} has no face ${faceId(row)}.`,
        `It has ${faces.count === 1 ? 'f1 only' : `f1 to ${faceId(faces.count - 1)}`}; run without --${option} to see them listed.`,
      );
    }
    own.push(one);
  }
  return success(own);
}
