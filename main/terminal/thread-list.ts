import { faceRow } from '../../core/faces/face-table.ts';
import { failure, success, type Result } from '../../core/result.ts';
import type { FacesOfPart } from './face-list.ts';

/** A face that carries a thread, as named on the command line. */
export interface ThreadedFaceOption extends FacesOfPart {
  readonly designation: string;
}

/** Reads "f3=M6x1", "f3=M6,f7=1/4-20" or "2:f3=M6" (the part number holds until the next one). */
export function parseThreadList(text: string): Result<ThreadedFaceOption[]> {
  const threads: ThreadedFaceOption[] = [];
  let partNumber: number | undefined;
  for (const word of text.split(',').map((piece) => piece.trim())) {
    if (word === '') continue;
    const match = /^(?:([1-9]\d*):)?(f[1-9]\d*)\s*=\s*(\S.*)$/i.exec(word);
    if (!match) {
      return failure(
        'threads-invalid',
        `--threaded: “${word}” does not name a face and its thread.`,
        'Write the face, “=”, and the thread: f3=M6x1, or 2:f3=1/4-20 for the second part.',
      );
    }
    if (match[1] !== undefined) partNumber = Number(match[1]);
    threads.push({
      row: faceRow(match[2]!.toLowerCase())!,
      designation: match[3]!.trim(),
      ...(partNumber === undefined ? {} : { partNumber }),
    });
  }
  if (threads.length === 0) {
    return failure('threads-invalid', '--threaded: no face is named.', 'Write for example f3=M6x1.');
  }
  return success(threads);
}
