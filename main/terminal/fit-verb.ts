import { buildUp, typedBuildUp, type BuildUp } from '../../core/finish/build-up.ts';
import { fitAfterCoating } from '../../core/finish/fit-after-coating.ts';
import { fitReport, type FitReport } from '../../core/finish/fit-report.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { COATING_TYPES } from '../../core/reference/growth-ratio.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import { readCommandLine } from './command-line.ts';
import { printFailure } from './print-failure.ts';
import type { Verb } from './verb.ts';
import { workingLines } from './working-lines.ts';

const HELP = `tankside fit: what the coating does to a fit or a thread, and what to machine or mask.

tankside fit FIT [FIT…] --build-up B [options]
tankside fit FIT [FIT…] --thickness T [--type TYPE] [options]

  FIT             a size with its class (10H7, 25g6, "1/4 H7"), limits (.8745/.8740, 22.20/22.18mm), a size with its
                  deviations ("0.2570in +0.0005 -0.0000") or a thread (M6x1-6H, 1/4-20-2B): its pitch diameter;
                  M2 to M24 as 6H, 6G, 6g or 6h, UNC and UNF from #4 to 1 in as 1A to 3A and 1B to 3B.
                  Limits are a hole's unless "shaft" stands before them, a thread without a class is taken as 6H or 2B,
                  and both are said. .8745 without its zero is in inches; other limits name their unit
  --build-up B    how far each surface moves out, taken as exact: 8.5um
  --thickness T   film thickness instead; its build-up with the published range of the type of film
  --type TYPE     ordinary (default) or hard
  --working       show formula, inputs and source of every figure
  --json          print one JSON object instead of text: beforeMm, afterMm, machineToMm, advice; for several
                  fits { "fits": [ … ] }, each with its "fit"
  --help          show this

Exit code: 0 done; 2 something is wrong with the input; 1 a fault in the program.
`;

const OPTIONS = {
  'build-up': { type: 'string' },
  thickness: { type: 'string' },
  type: { type: 'string', default: 'ordinary' },
  working: { type: 'boolean', default: false },
  json: { type: 'boolean', default: false },
} as const;

interface FitOptions {
  readonly fits: readonly string[];
  readonly growth: BuildUp;
  readonly working: boolean;
  readonly json: boolean;
}

/** Failures: `option-unknown`, `fit-missing`, `build-up-missing`, `option-invalid` and those of parseQuantity. */
function readOptions(args: readonly string[]): Result<FitOptions> {
  const parsed = readCommandLine('fit', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  if (positionals.length === 0) {
    return failure(
      'fit-missing',
      'No fit is named.',
      'Name a fit, limits or a thread, for example 10H7, .8745/.8740 or M6x1-6H.',
    );
  }
  const growth = readGrowth(values['build-up'], values.thickness, values.type);
  if (!growth.ok) return growth;
  return success({
    fits: positionals,
    growth: growth.value,
    working: values.working,
    json: values.json,
  });
}

function readGrowth(
  typed: string | undefined,
  thickness: string | undefined,
  typeName: string,
): Result<BuildUp> {
  if ((typed === undefined) === (thickness === undefined)) {
    return failure(
      'build-up-missing',
      'Either the build-up or the film’s thickness is needed, not both.',
      'Give --build-up 8.5um, or --thickness 25um.',
    );
  }
  const length = parseQuantity('length', (typed ?? thickness)!);
  if (!length.ok) return length;
  if (!(length.value >= 0 && length.value <= 1e-3)) {
    return failure('option-invalid', 'A film is between 0 and 1 mm.', 'Check the unit, for example 8.5um.');
  }
  if (typed !== undefined) return success(typedBuildUp(length.value));
  const type = COATING_TYPES.find((candidate) => candidate === typeName);
  if (!type) {
    return failure('option-invalid', `“${typeName}” is no type of film.`, 'Use ordinary or hard.');
  }
  return success(buildUp(type, length.value));
}

/** Fits and threads after coating. */
export const fitVerb: Verb = {
  name: 'fit',
  summary: 'a fit or thread after coating: what to machine or mask',
  help: HELP,
  async run(args, output) {
    const options = readOptions(args);
    if (!options.ok) {
      printFailure(output, options.error);
      return 2;
    }
    const { fits, growth, working, json } = options.value;
    const reports: (FitReport & { fit: string })[] = [];
    for (const text of fits) {
      const report = fitReport(text, growth);
      if (!report.ok) {
        printFailure(output, report.error, text);
        return 2;
      }
      reports.push({ fit: text, ...report.value });
    }
    if (json) {
      const { fit: _, ...only } = reports[0]!;
      output.out(`${JSON.stringify(reports.length === 1 ? only : { fits: reports }, null, 2)}\n`);
      return 0;
    }
    output.out(reports.map((report) => fitText(report, growth, working)).join('\n'));
    return 0;
  },
};

function fitText(report: FitReport & { fit: string }, growth: BuildUp, working: boolean): string {
  const inches = (mm: number): string => (mm / 25.4).toFixed(5);
  const pair = ([low, high]: readonly [number, number]): string =>
    `${low} to ${high} mm (${inches(low)} to ${inches(high)} in)`;
  const whole = fitAfterCoating(report.fit, growth);
  const isThread = whole.ok && (whole.value.minor !== null || whole.value.major !== null);
  const lines = [
    isThread ? `${report.fit}, all as pitch diameter` : report.fit,
    `  by the drawing: ${pair(report.beforeMm)}`,
    `  after coating: ${pair(report.afterMm)}`,
    `  machine to: ${report.machineToMm ? pair(report.machineToMm) : 'no size is safe'}`,
    `  ${report.advice}`,
  ];
  if (working && whole.ok) {
    for (const figure of [whole.value.change, whole.value.after, whole.value.machineTo]) {
      if (!figure) continue;
      const printed = printFigure(figure, 'metric');
      lines.push(`    ${printed.label}: ${printed.range || printed.value.text}`, ...workingLines(printed));
    }
  }
  return `${lines.join('\n')}\n`;
}
