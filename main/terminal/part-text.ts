import { questionText } from '../../core/job/facet-questions.ts';
import { markLevelWords, saidDepthM } from '../../core/job/hung-depth.ts';
import { repairWords } from '../../core/job/repair-words.ts';
import type { ModelUnit } from '../../core/job/job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import { faceId, FACE_KINDS } from '../../core/faces/face-table.ts';
import type { RepairStep } from '../../core/mesh/apply-repairs.ts';
import { metresPerUnit, partExtents } from '../../core/mesh/part-extents.ts';
import type { ModelFormat } from '../../core/model-files/loaded-model.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import { terminalRemedy } from './finding-words.ts';
import { isMeshed, type AnyPart, type GatheredPart, type TypedPart } from './gather-parts.ts';
import { line, said } from './text-lines.ts';

const FEW_FACES = 16;
const FORMAT_NAMES: Readonly<Record<ModelFormat | 'drawn', string>> = {
  drawn: 'drawn shape',
  'stl-binary': 'binary STL',
  'stl-ascii': 'ASCII STL',
  obj: 'OBJ',
  'ply-ascii': 'ASCII PLY',
  'ply-binary': 'binary PLY',
  '3mf': '3MF',
  step: 'STEP',
};

function areaText(areaM2: number): string {
  return ['cm²', 'dm²', 'in²', 'ft²'].map((unit) => formatIn('area', areaM2, unit, 4).text).join(' = ');
}

function faceLines({ geometry, measure }: GatheredPart, allFaces: boolean): string[] {
  const { count } = geometry.faces;
  const rows = Array.from({ length: count }, (_, row) => row);
  const shown =
    allFaces || count <= FEW_FACES
      ? rows
      : rows
          .sort((a, b) => geometry.faces.area[b]! - geometry.faces.area[a]!)
          .slice(0, FEW_FACES)
          .sort((a, b) => a - b);
  const idWidth = faceId(count - 1).length;
  const lines = shown.map((row) => {
    const treatment = measure.treatmentOfFace[row]!;
    const whole = measure.areaOfFaceM2[row]!;
    const wetted = measure.wettedOfFaceM2[row]!;
    const [area, us] = (['cm²', 'in²'] as const).map((unit) => formatIn('area', wetted, unit, 4).text);
    const above =
      wetted < whole * (1 - 1e-9)
        ? `  ${wetted > 0 ? `of ${formatIn('area', whole, 'cm²', 4).text}, the rest ` : ''}above the level`
        : '';
    return `    ${faceId(row).padEnd(idWidth)}  ${FACE_KINDS[geometry.faces.kind[row]!]!.padEnd(8)}  ${area!.padStart(11)} = ${us!.padEnd(10)}${treatment === 'coat' ? '' : `  ${treatment}`}${above}`.trimEnd();
  });
  if (shown.length < count) lines.push(`    and ${count - shown.length} smaller ones (--faces lists all)`);
  return lines;
}

/** Empty where both ends print alike: a range narrower than the digits shown says nothing. */
function rangeLines(lowM2: number, highM2: number): string[] {
  const [low, high] = [lowM2, highM2].map((areaM2) => formatIn('area', areaM2, 'cm²', 4));
  return low!.text === high!.text ? [] : [line('Range', `${low!.number} to ${high!.text}`)];
}

function repairLines(repairs: readonly RepairStep[], unit: ModelUnit): string[] {
  const scale2 = metresPerUnit(unit) ** 2;
  return repairs.map(({ repair, areaBefore, areaAfter, trianglesAdded }) => {
    const [before, after] = [areaBefore, areaAfter].map((area) => formatIn('area', area * scale2, 'cm²', 6));
    const words = repairWords(repair, unit, 'metric', trianglesAdded);
    return line('Repaired', `${words}; area ${before!.number} cm² before, ${after!.number} after`);
  });
}

/** Hollows without a way out in the model, numbered as --vent names them. */
function voidLines({ voids, sealedM2 }: PartMeasure): string[] {
  if (voids.length === 0) return [];
  const area = (valueM2: number): string => formatIn('area', valueM2, 'cm²', 4).text;
  const sealed = voids.filter(({ vented }) => !vented).length;
  const all =
    sealed > 0 ? `${sealed} sealed, ${area(sealedM2)} of walls left out` : 'all vented, their walls count';
  const each = voids.map(({ areaM2, volumeM3, vented }, i) => {
    const volume = formatIn('volume', volumeM3, 'mL', 3).text;
    return line('', `void ${i + 1}: ${area(areaM2)}, ${volume}${vented ? ', vented' : ''}`);
  });
  return [line('Voids', all), ...each];
}

/** How the best figure comes about, where it is not the plain sum of the triangles. */
function trueAreaLines({ measure, fuse, part }: GatheredPart, densityAPerM2: number): string[] {
  const { totalM2, totalLowM2, totalHighM2, meshM2, aboveM2 } = measure;
  const lines = rangeLines(totalLowM2, totalHighM2);
  if (Math.abs(meshM2 - totalM2) > 1e-9 * meshM2) {
    lines.push(line('As meshed', formatIn('area', meshM2, 'cm²', 4).text));
  }
  if (fuse) {
    const scale2 = metresPerUnit(part.unit) ** 2;
    const removed = formatIn('area', fuse.removedArea * scale2, 'cm²', 4).text;
    lines.push(line('Fused', `${fuse.bodiesBefore} bodies; fusing took ${removed} off`));
  }
  lines.push(...voidLines(measure));
  const depthM = saidDepthM(part);
  if (depthM !== null && aboveM2 > 0) {
    lines.push(
      line('Hang it', markLevelWords(depthM, 'metric')),
      line('Above level', `${formatIn('area', aboveM2, 'cm²', 4).text} left out`),
    );
  }
  for (const { row, area } of measure.threads) {
    if (row === undefined || !area?.ok) continue;
    lines.push(
      line('Thread', `${faceId(row)}: ${area.value.area.label}, × ${formatNumber(area.value.factor, 4)}`),
    );
  }
  for (const question of measure.questions) {
    const { rows, flatM2, roundM2, gainM2, taken } = question;
    const areas = `round ${formatIn('area', roundM2, 'cm²', 4).text}, flat sides ${formatIn('area', flatM2, 'cm²', 4).text}`;
    const percent = `${formatNumber((100 * Math.abs(roundM2 - flatM2)) / flatM2, 2)} %`;
    const amps = formatIn('current', Math.abs(gainM2) * densityAPerM2 * part.quantity, 'A', 2).text;
    const counted = taken === 'round' ? 'round' : 'flat sides';
    lines.push(
      line('Ask', `${questionText(question)} ${areas} (${percent} apart, ${amps} in all).`),
      line('', `Counted as ${counted}; say --round ${faceId(rows[0]!)} or --flat ${faceId(rows[0]!)}.`),
    );
  }
  return lines;
}

function typedLines({ part, measure }: TypedPart, number: number): string[] {
  return [
    `Part ${number}: ${part.name}`,
    line('Area', `${areaText(measure.totalM2)}  (typed in, not measured)`),
    line('Pieces', String(part.quantity)),
  ];
}

/** One part: what was read, its area and how it comes about, its faces and what is to be said of its mesh. */
export function partLines(
  gathered: AnyPart,
  number: number,
  allFaces: boolean,
  densityAPerM2: number,
): string[] {
  if (!isMeshed(gathered)) return typedLines(gathered, number);
  const { file, part, model, geometry, measure, repairs, fuseFailure } = gathered;
  const extents = partExtents(geometry, part.unit);
  const bodies = model.bodies.length > 1 ? `, ${model.bodies.length} bodies` : '';
  const lines = [
    `Part ${number}: ${file}`,
    line(
      'Read',
      `${FORMAT_NAMES[model.format]}, ${geometry.triangleCount} triangles${bodies}, ${geometry.closed ? 'closed' : 'not closed'}`,
    ),
    line(
      'Size',
      `${extents.metric} = ${extents.us}  (unit ${part.unit}${part.unitConfirmed ? '' : ', NOT CONFIRMED'})`,
    ),
    line('Area', `${areaText(measure.totalM2)}${geometry.cad ? '  (exact, from the CAD faces)' : ''}`),
    ...repairLines(repairs, part.unit),
    ...trueAreaLines(gathered, densityAPerM2),
    line('Coated', areaText(measure.coatedM2)),
  ];
  if (measure.maskedM2 > 0) lines.push(line('Masked', areaText(measure.maskedM2)));
  if (measure.contactM2 > 0) lines.push(line('Contact', areaText(measure.contactM2)));
  if (geometry.closed && measure.volumeM3 > 0) {
    lines.push(
      line(
        'Volume',
        `${formatNumber(measure.volumeM3 * 1e6, 4)} cm³ = ${formatIn('volume', measure.volumeM3, 'in³', 4).text}`,
      ),
    );
  }
  lines.push(line('Pieces', String(part.quantity)));
  lines.push(line('Faces', String(geometry.faces.count)), ...faceLines(gathered, allFaces));
  for (const { level, message, remedy } of model.notes) lines.push(...said(level, message, remedy));
  for (const finding of measure.findings) {
    lines.push(...said(finding.level, finding.message, terminalRemedy(finding)));
  }
  if (fuseFailure) lines.push(...said('check', fuseFailure.message, fuseFailure.remedy));
  return lines;
}
