import type { RunPlan } from '../../core/electrical/plan-run.ts';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { splitAreaTakingCurrent } from '../../core/job/area-beside-parts.ts';
import type { UnitProposal } from '../../core/model-files/propose-unit.ts';
import { cautionsFor } from '../../core/reference/cautions.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import { isMeshed, type AnyPart } from './gather-parts.ts';
import { partLines } from './part-text.ts';
import type { PlannedJob } from './plan-job.ts';
import { line, said } from './text-lines.ts';
import { workingLines } from './working-lines.ts';

const FIGURE_WIDTH = 23;

/** " (2 h 2 min 30 s)" beside minutes that are hard to read; empty below an hour. */
export function clockText(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 3600) return '';
  const pieces = [
    [Math.floor(whole / 3600), 'h'],
    [Math.floor((whole % 3600) / 60), 'min'],
    [whole % 60, 's'],
  ] as const;
  return ` (${pieces.flatMap(([count, unit]) => (count > 0 ? [`${count} ${unit}`] : [])).join(' ')})`;
}

/** What to set and for how long, before how it comes about. */
function answerLines(run: RunPlan): string[] {
  if (!run.supplyHolds) return ['The supply cannot hold this plan: see what it could hold below.'];
  const print = (figure: Figure): string => printFigure(figure, 'metric').value.text;
  const loads = run.loads.length;
  const each = loads > 1 ? ` for the largest of ${loads} loads` : '';
  const unsure = run.loadCurrentA.unconfirmed === undefined ? '' : ` (${run.loadCurrentA.unconfirmed})`;
  const ramp =
    run.rampS.valueSi > 0 ? `: ramp up over ${print(run.rampS)}, then hold ${print(run.holdS)}` : '';
  return [
    `Set ${print(run.loadCurrentA)}${each}${unsure}.`,
    `Power on for ${print(run.totalS)}${clockText(run.totalS.valueSi)}${loads > 1 ? ' each' : ''}${ramp}.`,
  ];
}

/** The answer stands above the parts, so what makes an area doubtful is named beside it. */
function doubtLines(parts: readonly AnyPart[]): string[] {
  return parts.flatMap((gathered, index) => {
    if (!isMeshed(gathered)) return [];
    const { model, measure, fuseFailure } = gathered;
    const open = [...model.notes, ...measure.findings].filter(({ level }) => level !== 'note').length;
    const count = open + (fuseFailure ? 1 : 0);
    if (count === 0) return [];
    return [
      `  Check: part ${index + 1} has ${count === 1 ? 'a finding' : `${count} findings`} to look at below.`,
    ];
  });
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

/** Where wire or bus ends take current as well, so that this area can be told from the parts' own. */
function besideLines(parts: readonly AnyPart[], run: RunPlan): string[] {
  const measures = Object.fromEntries(parts.map(({ part, measure }) => [part.id, measure]));
  const { coatedM2, besideM2 } = splitAreaTakingCurrent(
    parts.map(({ part }) => part),
    measures,
    run,
  );
  if (besideM2 === 0) return [];
  const cm2 = (areaM2: number): string => formatIn('area', areaM2, 'cm²', 4).text;
  return [`    coated ${cm2(coatedM2)}, aluminium wire and bus ends in the bath ${cm2(besideM2)}`];
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

/** The plan for people: what to set, how that comes about, then each part. `working` adds formula, inputs and source. */
export function planText(
  { parts, process, plan, warnings }: PlannedJob,
  { working, allFaces }: { readonly working: boolean; readonly allFaces: boolean },
): string {
  const film = `${formatIn('length', process.thicknessM, 'µm').text} (${formatIn('length', process.thicknessM, 'mil').text})`;
  const density = `${formatIn('currentDensity', process.currentDensityAPerM2, 'A/dm²', 4).text} (${formatIn('currentDensity', process.currentDensityAPerM2, 'A/ft²', 4).text})`;
  const lines = plan.ok ? [...answerLines(plan.value), ''] : [];
  lines.push(`Plan for a film of ${film} at ${density}`);
  if (plan.ok) {
    const run = plan.value;
    lines.push(
      ...figureLines(run.areaM2, working, ` = ${formatIn('area', run.areaM2.valueSi, 'ft²', 4).text}`),
      ...besideLines(parts, run),
      ...figureLines(run.loadCurrentA, working),
      ...filmLines(run.thicknessM),
      ...figureLines(run.rampS, working),
      ...figureLines(run.holdS, working),
      ...figureLines(run.totalS, working),
      ...figureLines(run.loadChargeC, working),
      ...(run.loads.length > 1 ? figureLines(run.chargeC, working) : []),
      ...figureLines(run.loadCount, working),
      ...loadLines(parts, run),
      ...optionLines(run),
    );
  }
  for (const { level, message, remedy } of warnings) lines.push(...said(level, message, remedy));
  lines.push(...doubtLines(parts), '');
  lines.push(
    ...parts.flatMap((part, index) => [
      ...partLines(part, index + 1, allFaces, process.currentDensityAPerM2),
      '',
    ]),
  );
  lines.push('Cautions');
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
