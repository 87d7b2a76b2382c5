import type { ModelUnit } from '../job/job.ts';
import type { ModelNote } from './loaded-model.ts';
import type { DrawnFace } from './read-step.ts';
import type { StepText } from './scan-step.ts';

/** Units as people call them, by metres. */
const UNIT_NAMES: readonly (readonly [number, string, ModelUnit?])[] = [
  [1e-3, 'millimetres', 'mm'],
  [1e-2, 'centimetres', 'cm'],
  [1, 'metres', 'm'],
  [1e-6, 'micrometres'],
  [0.0254, 'inches', 'in'],
  [0.3048, 'feet', 'ft'],
];

const namedUnit = (metres: number) => UNIT_NAMES.find(([size]) => Math.abs(metres / size - 1) < 1e-6);

function unitName(metres: number): string {
  return namedUnit(metres)?.[1] ?? `units of ${metres * 1e3} mm`;
}

/** The one unit a file states, where a model can have it. */
export function statedUnit({ metresPerUnit }: StepText): { readonly drawnIn?: ModelUnit } {
  const unit = metresPerUnit.length === 1 ? namedUnit(metresPerUnit[0])?.[2] : undefined;
  return unit ? { drawnIn: unit } : {};
}

/** What is to be said of a STEP file that was read. */
export function stepNotes(
  text: StepText,
  drawn: readonly DrawnFace[],
  lostRoots: number,
  looseFaces: number,
  solids: number,
): ModelNote[] {
  const notes: ModelNote[] = [];
  const note = (code: string, level: ModelNote['level'], message: string, remedy: string): void => {
    notes.push({ code, level, message, remedy });
  };
  const units = text.metresPerUnit.map(unitName);
  if (units.length === 0) {
    note(
      'step-no-unit',
      'check',
      'The STEP file states no unit; its lengths were taken as millimetres.',
      'Measure the part or look at the drawing, and choose the unit that gives its true size.',
    );
  } else if (units.length > 1 || units[0] !== 'millimetres') {
    note(
      'step-unit',
      'note',
      `The STEP file is drawn in ${units.join(' and ')}; its lengths were converted to millimetres.`,
      'Nothing to do if the size shown is right.',
    );
  }
  // Roots without a shape of their own (empty products, drawings) are usual where no face is missing.
  if (text.missingCount > 0 || drawn.length < text.faceCount) {
    const what = [
      ...(drawn.length < text.faceCount
        ? [`${text.faceCount} faces are listed and ${drawn.length} could be built`]
        : []),
      ...(lostRoots > 0 ? [`${lostRoots} shapes could not be built`] : []),
      ...(text.missingCount > 0 ? [`${text.missingCount} things it refers to are missing`] : []),
    ];
    note(
      'step-incomplete',
      'check',
      `Not all of the STEP file became part of the model: ${what.join(', ')}.`,
      'Look whether the part is whole before you trust its area; otherwise export it again.',
    );
  }
  if (looseFaces > 0) {
    note(
      'step-loose-surfaces',
      'check',
      `${looseFaces === 1 ? 'One face belongs' : `${looseFaces} faces belong`} to no solid${solids > 0 ? ` and ${looseFaces === 1 ? 'is' : 'are'} counted beside the solids` : ', so inside and outside are not known'}.`,
      `Export the part as a solid, or check that ${looseFaces === 1 ? 'this face is' : 'these faces are'} wetted.`,
    );
  }
  const undrawn = drawn.filter(({ whole }) => !whole);
  if (undrawn.length > 0) {
    const area = undrawn.reduce((sum, { face }) => sum + face.areaModelUnits2, 0);
    note(
      'step-undrawn-faces',
      'check',
      `${undrawn.length} faces could not be drawn: each shows as one triangle, but its area counts in full (${Number(area.toPrecision(4))} mm² together).`,
      'Check them in the list of faces; to see them, export the part as STL as well.',
    );
  }
  return notes;
}
