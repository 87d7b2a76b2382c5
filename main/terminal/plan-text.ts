import type { RunPlan } from '../../core/electrical/plan-run.ts';
import { faceId, FACE_KINDS } from '../../core/faces/face-table.ts';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { metresPerUnit, partExtents } from '../../core/mesh/part-extents.ts';
import type { ModelFormat } from '../../core/model-files/loaded-model.ts';
import type { UnitProposal } from '../../core/model-files/propose-unit.ts';
import { cautionsFor } from '../../core/reference/cautions.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import { isMeshed, type AnyPart, type GatheredPart, type TypedPart } from './gather-parts.ts';
import type { PlannedJob } from './plan-job.ts';
import { workingLines } from './working-lines.ts';

const LABEL_WIDTH = 14;
const FIGURE_WIDTH = 23;
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
const MARKS = { note: 'Note', check: 'Check', stop: 'STOP' } as const;

const line = (label: string, text: string, width = LABEL_WIDTH): string => `  ${label.padEnd(width)}${text}`;
const said = (level: keyof typeof MARKS, message: string, remedy: string): string[] => [
  `  ${MARKS[level]}: ${message}`,
  `    ${remedy}`,
];

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
    const area = formatIn('area', measure.areaOfFaceM2[row]!, 'cm²', 4).text;
    return `    ${faceId(row).padEnd(idWidth)}  ${FACE_KINDS[geometry.faces.kind[row]!]!.padEnd(8)}  ${area.padStart(11)}${treatment === 'coat' ? '' : `  ${treatment}`}`;
  });
  if (shown.length < count) lines.push(`    and ${count - shown.length} smaller ones (--faces lists all)`);
  return lines;
}

function rangeText(lowM2: number, highM2: number): string {
  return `${formatIn('area', lowM2, 'cm²', 4).number} to ${formatIn('area', highM2, 'cm²', 4).text}`;
}

/** How the best figure comes about, where it is not the plain sum of the triangles. */
function trueAreaLines({ geometry, measure, fuse, part }: GatheredPart): string[] {
  const lines: string[] = [];
  const { totalM2, totalLowM2, totalHighM2, meshM2, sealedM2, aboveM2 } = measure;
  if (totalHighM2 - totalLowM2 > 1e-9 * totalM2)
    lines.push(line('Range', rangeText(totalLowM2, totalHighM2)));
  if (Math.abs(meshM2 - totalM2) > 1e-9 * meshM2) {
    lines.push(line('As meshed', formatIn('area', meshM2, 'cm²', 4).text));
  }
  if (fuse) {
    const scale2 = metresPerUnit(part.unit) ** 2;
    const removed = formatIn('area', fuse.removedArea * scale2, 'cm²', 4).text;
    lines.push(line('Fused', `${fuse.bodiesBefore} bodies; fusing took ${removed} off`));
  }
  if (sealedM2 > 0) {
    const area = formatIn('area', sealedM2, 'cm²', 4).text;
    lines.push(line('Voids', `${geometry.voids.length} sealed, ${area} of walls left out`));
  }
  if (aboveM2 > 0) lines.push(line('Above level', `${formatIn('area', aboveM2, 'cm²', 4).text} left out`));
  for (const { row, area } of measure.threads) {
    if (row === undefined || !area?.ok) continue;
    lines.push(
      line('Thread', `${faceId(row)}: ${area.value.area.label}, × ${formatNumber(area.value.factor, 4)}`),
    );
  }
  for (const { row, facetCount, flatM2, roundM2, taken } of measure.questions) {
    const both = `flat ${formatIn('area', flatM2, 'cm²', 4).text}, round ${formatIn('area', roundM2, 'cm²', 4).text}`;
    lines.push(line('Ask', `${faceId(row)} of ${facetCount} facets: ${both}; taken as ${taken}`));
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

function partLines(gathered: AnyPart, number: number, allFaces: boolean): string[] {
  if (!isMeshed(gathered)) return typedLines(gathered, number);
  const { file, part, model, geometry, measure, fuseFailure } = gathered;
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
    ...trueAreaLines(gathered),
    line('Coated', areaText(measure.coatedM2)),
  ];
  if (measure.maskedM2 > 0) lines.push(line('Masked', areaText(measure.maskedM2)));
  if (measure.contactM2 > 0) lines.push(line('Contact', areaText(measure.contactM2)));
  if (geometry.closed) {
    lines.push(
      line(
        'Volume',
        `${formatNumber(measure.volumeM3 * 1e6, 4)} cm³ = ${formatIn('volume', measure.volumeM3, 'in³', 4).text}`,
      ),
    );
  }
  lines.push(line('Pieces', String(part.quantity)));
  lines.push(line('Faces', String(geometry.faces.count)), ...faceLines(gathered, allFaces));
  for (const { level, message, remedy } of [...model.notes, ...geometry.findings]) {
    lines.push(...said(level, message, remedy));
  }
  if (fuseFailure) lines.push(...said('check', fuseFailure.message, fuseFailure.remedy));
  return lines;
}

/** "2 h 2.5 min" beside minutes that are hard to read; empty below an hour. */
function clockText(seconds: number): string {
  if (seconds < 3600) return '';
  const hours = Math.floor(seconds / 3600 + 1e-9);
  return ` (${hours} h ${formatNumber(Math.max(0, seconds / 60 - hours * 60), 3)} min)`;
}

/** The film at the current planned, where the area is known only to a range. */
function filmLines(thickness: Figure): string[] {
  const { range } = printFigure(thickness, 'metric');
  const inMil = printFigure(thickness, 'us').range;
  return range === '' ? [] : [line('Film', `${range} (${inMil}), as the area has a range`, FIGURE_WIDTH)];
}

function figureLines(figure: Figure, working: boolean, extra = ''): string[] {
  const printed = printFigure(figure, 'metric');
  const also = printed.also === '' ? '' : ` ${printed.also}`;
  const unsure = figure.unconfirmed === undefined ? '' : `  (${figure.unconfirmed})`;
  const lines = [line(printed.label, `${printed.value.text}${also}${extra}${unsure}`, FIGURE_WIDTH)];
  if (!working) return lines;
  lines.push(...workingLines(printed));
  if (printed.range !== '') lines.push(`      range: ${printed.range}`);
  return lines;
}

function loadLines(parts: readonly AnyPart[], plan: RunPlan): string[] {
  if (plan.loads.length < 2) return [];
  return plan.loads.map((load, index) => {
    const pieces = load.pieces.flatMap((count, item) =>
      count > 0 ? [`${count} × ${parts[item]!.part.name}`] : [],
    );
    const current = formatIn('current', load.currentA, 'A', 4).text;
    return `    load ${index + 1}: ${pieces.join(', ')}, ${formatIn('area', load.areaM2, 'cm²', 4).text}, ${current}`;
  });
}

function optionLines(plan: RunPlan): string[] {
  if (plan.options.length === 0) return [];
  return [
    '  What the supply could hold:',
    ...plan.options.map((option) => {
      const density = `${formatIn('currentDensity', option.currentDensityAPerM2, 'A/dm²').text} (${formatIn('currentDensity', option.currentDensityAPerM2, 'A/ft²').text})`;
      return `    ${option.loads} ${option.loads === 1 ? 'load' : 'loads'} at ${density}: ${formatIn('current', option.currentA, 'A').text}, ${formatIn('time', option.totalPerLoadS, 'min').text} each`;
    }),
  ];
}

/** The plan for people. `working` adds formula, inputs and source under each figure. */
export function planText(
  { parts, process, plan, warnings }: PlannedJob,
  { working, allFaces }: { readonly working: boolean; readonly allFaces: boolean },
): string {
  const lines = parts.flatMap((part, index) => [...partLines(part, index + 1, allFaces), '']);
  const film = `${formatIn('length', process.thicknessM, 'µm').text} (${formatIn('length', process.thicknessM, 'mil').text})`;
  const density = `${formatIn('currentDensity', process.currentDensityAPerM2, 'A/dm²', 4).text} (${formatIn('currentDensity', process.currentDensityAPerM2, 'A/ft²', 4).text})`;
  lines.push(`Plan for a film of ${film} at ${density}`);
  if (plan.ok) {
    const run = plan.value;
    lines.push(
      ...figureLines(run.areaM2, working, ` = ${formatIn('area', run.areaM2.valueSi, 'ft²', 4).text}`),
      ...figureLines(run.loadCurrentA, working),
      ...filmLines(run.thicknessM),
      ...figureLines(run.rampS, working),
      ...figureLines(run.holdS, working),
      ...figureLines(run.totalS, working, clockText(run.totalS.valueSi)),
      ...figureLines(run.chargeC, working),
      ...figureLines(run.loadCount, working),
      ...loadLines(parts, run),
      ...optionLines(run),
    );
  }
  for (const { level, message, remedy } of warnings) lines.push(...said(level, message, remedy));
  lines.push('', 'Cautions');
  for (const caution of cautionsFor(['general', 'acid', 'current', 'waste'])) lines.push(`  ${caution.text}`);
  return `${lines.join('\n')}\n`;
}

/** The table of what a file without a unit would measure in each. */
export function proposalText({ unit, reason, sizes }: UnitProposal): string {
  const triple = (sides: readonly number[]): string => sides.map((side) => formatNumber(side, 4)).join(' × ');
  const width = Math.max(...sizes.map((size) => triple(size.mm).length));
  return [
    ...sizes.map(
      (size) =>
        `  --unit ${size.unit.padEnd(2)}  ${triple(size.mm).padStart(width)} mm = ${triple(size.inches)} in`,
    ),
    `  Proposed: ${unit}. ${reason}`,
    '',
  ].join('\n');
}
