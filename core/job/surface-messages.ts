import { faceId } from '../faces/face-table.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import { proposeUnit } from '../model-files/propose-unit.ts';
import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { Part } from './job.ts';
import { questionText } from './facet-questions.ts';
import type { JobMessage } from './job-messages.ts';
import type { PartMeasure } from './measure-part.ts';

/** Longest side of a part for somebody's own tank, m. Common practice: from a screw's head to a trough. */
const SHORTEST_USUAL_M = 0.003;
const LONGEST_USUAL_M = 2.5;

/** Below this a file that does not state its unit is asked about where another unit is likelier, m. */
const SMALL_M = 0.01;
/** All that is asked of a part is less than this share of its area: told, and nothing to be dealt with before the power goes on. */
const TRIFLE_SHARE = 2e-3;
/** Formats that state their unit. */
const STATES_UNIT = /\.(stp|step|3mf)$/i;

const long = (metres: number): string =>
  `${formatIn('length', metres, 'mm', 3).text} (${formatIn('length', metres, 'in', 3).text})`;

/** Why its unit is doubted; null where it is not, or where the user said that the size is right. */
function unitDoubt({ source, surface, unit, unitConfirmed }: Part, { sizeM }: PartMeasure): string | null {
  if (source.kind !== 'file' || surface.sizeRightIn === unit) return null;
  const longest = Math.max(...sizeM);
  if (longest < SHORTEST_USUAL_M || longest > LONGEST_USUAL_M) return 'no usual size for a small tank';
  if (!unitConfirmed || longest >= SMALL_M || STATES_UNIT.test(source.fileName)) return null;
  const scale = metresPerUnit(unit);
  const [x, y, z] = sizeM;
  const likelier = proposeUnit([x / scale, y / scale, z / scale]).unit;
  if (likelier === unit) return null;
  return `as “${unit}” is chosen; as “${likelier}” it would be ${long((longest / scale) * metresPerUnit(likelier))}, a likelier size`;
}

/** What there is to say about a part's true surface, findings of the mesh aside. */
export function surfaceMessages(part: Part, measure: PartMeasure): JobMessage[] {
  const messages: JobMessage[] = [];
  const partId = part.id;
  const where = `“${part.name}”`;
  if (part.source.kind === 'typed') {
    messages.push({
      level: 'check',
      code: 'area-typed',
      stage: 'part',
      partId,
      message: `The area of ${where} was typed in and not measured on a model.`,
      remedy: 'Check it against the drawing; a model or a drawn shape would show what is counted.',
    });
    return messages;
  }
  const doubt = unitDoubt(part, measure);
  if (doubt) {
    messages.push({
      level: 'check',
      code: 'suspect-unit',
      stage: 'part',
      partId,
      message: `${where} is ${long(Math.max(...measure.sizeM))} long, ${doubt}; a wrong unit makes the area wrong by its square.`,
      remedy: 'Measure it, then choose the unit that gives its real size, or say that the size is right.',
    });
  }
  const vented = measure.voids.filter((hollow) => hollow.vented);
  if (vented.length > 0) {
    const volumeM3 = vented.reduce((sum, hollow) => sum + hollow.volumeM3, 0);
    messages.push({
      level: 'check',
      code: 'acid-in-void',
      stage: 'part',
      partId,
      message: `${where} has ${vented.length === 1 ? 'a vented void' : `${vented.length} vented voids`} of ${formatIn('volume', volumeM3, 'mL', 3).text} (${formatIn('volume', volumeM3, 'in³', 3).text}) that acid fills and leaves slowly: it bleeds out in the dye and the seal, and for days after.`,
      remedy:
        'Plug the vent with a silicone or wax plug, or drill a second hole as a drain, rinse long and neutralise inside; acid shut in hot seal water can squirt out: wear face shield and gloves.',
    });
  }
  const [first, ...more] = measure.questions;
  if (first) {
    const share = measure.questions.reduce((sum, { gainM2 }) => sum + Math.abs(gainM2), 0) / measure.totalM2;
    const isTrifle = share < TRIFLE_SHARE;
    messages.push({
      level: isTrifle ? 'note' : 'check',
      code: 'round-or-flat',
      stage: 'faces',
      partId,
      message: `${where}: ${questionText(first)} The mesh is the same for both; it counts as ${first.taken === 'round' ? 'round' : 'flat sides'} until you say.${more.length > 0 ? ` The same is asked of ${more.length === 1 ? 'one more place' : `${more.length} more places`}.` : ''}${isTrifle ? ` It is about ${formatNumber(100 * share, 1)} % of the area.` : ''}`,
      remedy: 'Look at the part and say which it is, in Faces.',
    });
  }
  for (const { row, designation, area } of measure.threads) {
    if (row === undefined || area === null) {
      messages.push({
        level: 'check',
        code: 'thread-lost',
        stage: 'faces',
        partId,
        message: `The face of ${where} that carries the thread ${designation} is not there any more, or has another thread.`,
        remedy: 'Take the thread off the list and mark its face again.',
      });
    } else if (!area.ok) {
      messages.push({
        level: 'check',
        stage: 'faces',
        partId,
        code: area.error.code,
        message: `${faceId(row)} of ${where}: ${area.error.message}`,
        remedy: area.error.remedy,
      });
    }
  }
  return messages;
}
