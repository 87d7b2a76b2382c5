import { FACE_KINDS, faceId } from '../../core/faces/face-table.ts';
import type { ModelUnit } from '../../core/job/job.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { OpenSurfaces } from '../../core/mesh/thicken-sheet.ts';
import type { ModelNote } from '../../core/model-files/loaded-model.ts';
import { failure, type Failure } from '../../core/result.ts';
import type { InputProblem } from './gather-parts.ts';

/** What is to be said of files and options where core's own words are for the window, or where only the terminal asks. */

export function countProblem(option: string, given: number, wanted: number, what: string): InputProblem[] {
  if (given <= 1 || given === wanted) return [];
  const error = failure(
    'option-count',
    `--${option} is given ${given} times for ${wanted} ${wanted === 1 ? what.replace(/s$/, '') : what}.`,
    `Give it once for all, or once for each in their order.`,
  ).error;
  return [{ error }];
}

interface StatedUnits {
  /** Of the lengths as read, where the file states it. */
  readonly stated: ModelUnit | undefined;
  /** Of a STEP file: what its lengths were converted from. */
  readonly drawnIn: ModelUnit | undefined;
}

/**
 * What --unit does to a file, and what is to be said where the two disagree. The word of the command line counts for a
 * file it is meant for; one unit for several files is for those that state none. A STEP file that is drawn in inches was
 * converted as it was read: the same word again must not multiply it by 25.4 once more.
 *
 * @param isForAll one --unit for all files
 * @param takers how many files there are
 */
export function unitFor(
  given: ModelUnit | undefined,
  { stated, drawnIn }: StatedUnits,
  isForAll: boolean,
  takers: number,
): { readonly given: ModelUnit | undefined; readonly notes: readonly ModelNote[] } {
  if (given === undefined || stated === undefined) return { given, notes: [] };
  if (drawnIn !== undefined && drawnIn !== stated) {
    const note: ModelNote = {
      code: 'unit-differs',
      level: 'check',
      message: `The STEP file states its unit, ${drawnIn}, and its lengths were converted by it; --unit ${given} was not used.`,
      remedy: 'If the size above is wrong, export the part again with its true unit.',
    };
    const isMeantForOthers = isForAll && takers > 1;
    return { given: undefined, notes: given === drawnIn || isMeantForOthers ? [] : [note] };
  }
  return { given: takers > 1 && isForAll ? undefined : given, notes: unitNotes(given, stated, takers) };
}

function unitNotes(given: ModelUnit, stated: ModelUnit, takers: number): ModelNote[] {
  if (given === stated) return [];
  const message = `The file states its unit, ${stated}, but --unit ${given} was given`;
  return [
    {
      code: 'unit-differs',
      level: 'check',
      message:
        takers > 1
          ? `${message} for all files; ${stated} was used, since the file says so.`
          : `${message}; ${given} was used.`,
      remedy:
        takers > 1
          ? 'Give --unit once for each file if the one in this file is wrong.'
          : 'Check the size above; leave --unit out to go by the file.',
    },
  ];
}

export const NOTHING_TO_WELD: ModelNote = {
  code: 'nothing-to-weld',
  level: 'note',
  message: '--weld: no torn edges lie near enough to each other to be joined.',
  remedy: 'Nothing was changed.',
};

export const NOTHING_TO_THICKEN: ModelNote = {
  code: 'nothing-to-thicken',
  level: 'note',
  message: '--sheet: nothing is drawn without thickness here.',
  remedy: 'Nothing was changed.',
};

/** Why open surfaces are given no thickness, and what to do. */
function sheetTrouble({ turned, crowded }: Pick<OpenSurfaces, 'turned' | 'crowded'>): {
  readonly why: string;
  readonly remedy: string;
} {
  const both = [
    ...(turned > 0
      ? [
          {
            why: 'neighbouring triangles face opposite ways, so its two sides cannot be told apart',
            remedy:
              'Turn them in the window (“Turn them outwards”) and save the job, or let the program that drew it make the normals consistent and export again.',
          },
        ]
      : []),
    ...(crowded > 0
      ? [
          {
            why: 'three triangles or more meet at an edge, as where one sheet stands on another',
            remedy: 'What joins like that is to be modelled with its thickness and exported again.',
          },
        ]
      : []),
  ];
  return {
    why: both.map(({ why }) => why).join('; '),
    remedy: both.map(({ remedy }) => remedy).join(' '),
  };
}

export function sheetFailure(open: OpenSurfaces): { readonly ok: false; readonly error: Failure } {
  const { why, remedy } = sheetTrouble(open);
  return failure('sheet-not-thickened', `--sheet: no thickness can be given to this part: ${why}.`, remedy);
}

/** Some got theirs, some did not. */
export function sheetInPart(open: OpenSurfaces): ModelNote {
  const left = open.turned + open.crowded;
  const { why, remedy } = sheetTrouble(open);
  return {
    code: 'sheet-in-part',
    level: 'check',
    message: `--sheet: ${left} of ${open.thin + left} open surfaces got no thickness and ${left === 1 ? 'counts' : 'count'} one side only: ${why}.`,
    remedy,
  };
}

/** Where none of the parts has anything to thicken. */
export const NO_SHEET_AT_ALL: Failure = {
  code: NOTHING_TO_THICKEN.code,
  message: NOTHING_TO_THICKEN.message,
  remedy: 'Leave --sheet out.',
};

export const NOTHING_TO_VENT: ModelNote = {
  code: 'nothing-to-vent',
  level: 'note',
  message: '--vent: this part has no hollow without a way out.',
  remedy: 'Nothing was changed.',
};

/** In the terminal faces are named, not clicked: which ones could carry the thread. */
export function threadFailure(error: Failure, { faces }: PartGeometry): Failure {
  if (error.code !== 'thread-not-a-cylinder') return error;
  const cylinders = Array.from({ length: faces.count }, (_, row) => row).filter(
    (row) => FACE_KINDS[faces.kind[row]!] === 'cylinder',
  );
  const remedy =
    cylinders.length === 0
      ? 'This part has no cylinder; run with --faces to see what it has.'
      : `Name a cylinder: ${cylinders.slice(0, 12).map(faceId).join(', ')}${cylinders.length > 12 ? ', … (--faces lists all)' : ''}.`;
  return { ...error, remedy };
}

/** In the terminal a model can be named beside the job, not dropped. */
export function jobFailure(error: Failure): Failure {
  const isForeign = error.code === 'job-not-a-container' || error.code === 'job-foreign';
  if (!isForeign) return error;
  return {
    ...error,
    remedy: 'Name a model file instead; a job is what Tankside saved (.tankside).',
  };
}
