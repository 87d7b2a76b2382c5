import type { BathMix } from '../../core/bath/mix-bath.ts';
import { mixFromTexts, mixReport, type MixTexts } from '../../core/bath/mix-report.ts';
import type { PartsMix } from '../../core/bath/mix-parts.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { sayQuantity } from '../../core/units/format-quantity.ts';
import type { QuantityKind, UnitSystem } from '../../core/units/unit-table.ts';
import { readCommandLine } from './command-line.ts';
import { printFailure } from './print-failure.ts';
import type { Verb } from './verb.ts';
import { workingLines } from './working-lines.ts';

const HELP = `tankside mix: acid and water for a bath, by mass balance with the density table.

tankside mix --acid STRENGTH --target STRENGTH --volume V [options]
tankside mix --acid STRENGTH --target STRENGTH --acid-volume V [options]
tankside mix --acid STRENGTH --parts A:W [--volume V | --acid-volume V] [options]

  --acid STRENGTH    as the container says: 35%, 96%, 1.265 or "SG 1.28" (specific gravity), 1.83g/cm3, 500g/L
  --target STRENGTH  of the finished bath: 180g/L, 16%, 24oz/gal
  --volume V         of the finished bath: 12L, 3gal; with --parts and none, one part is a litre
  --acid-volume V    all the acid there is, and how much bath it makes: 2L, 1gal
  --parts A:W        acid to water by volume, each measured at 20 °C: 1:3
  --us               amounts in US gallons, pounds and °F; so it is anyway when a volume is typed in US units
  --working          show formula, inputs and source of every figure
  --json             print one JSON object instead of text: acidL, waterL, acidKg, waterKg, finalGPerL,
                     finalWtPercent, mixingRiseK, waterPerAcid, pours (acidKg, reachesC)
  --help             show this

Always acid into water, slowly, stirring. Exit code: 0 done; 2 something is wrong with the input; 1 a fault in
the program.
`;

const OPTIONS = {
  acid: { type: 'string' },
  target: { type: 'string' },
  parts: { type: 'string' },
  volume: { type: 'string' },
  'acid-volume': { type: 'string' },
  us: { type: 'boolean', default: false },
  working: { type: 'boolean', default: false },
  json: { type: 'boolean', default: false },
} as const;

const US_VOLUME = /gal|qt|quart|oz/i;

interface MixOptions {
  readonly texts: MixTexts;
  readonly system: UnitSystem;
  readonly working: boolean;
  readonly json: boolean;
}

/** Failures: `option-unknown`, `mix-input`. */
function readOptions(args: readonly string[]): Result<MixOptions> {
  const parsed = readCommandLine('mix', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  if (positionals.length > 0) {
    return failure(
      'option-unknown',
      `“${positionals[0]}” belongs to no option.`,
      'See tankside mix --help for the options there are.',
    );
  }
  const { acid, target, parts, volume, 'acid-volume': acidVolume, us, working, json } = values;
  if (acid === undefined) {
    return failure('mix-input', 'The acid is missing.', 'Give its strength, for example --acid 35%.');
  }
  return success({
    texts: {
      acid,
      ...(target === undefined ? {} : { target }),
      ...(parts === undefined ? {} : { parts }),
      ...(volume === undefined ? {} : { volume }),
      ...(acidVolume === undefined ? {} : { acidVolume }),
    },
    system: us || US_VOLUME.test(`${volume ?? ''} ${acidVolume ?? ''}`) ? 'us' : 'metric',
    working,
    json,
  });
}

/** A bath from the acid on the shelf, or the strength a recipe in parts gives. */
export const mixVerb: Verb = {
  name: 'mix',
  summary: 'acid and water for a bath, and how warm mixing makes it',
  help: HELP,
  async run(args, output) {
    const options = readOptions(args);
    if (!options.ok) {
      printFailure(output, options.error);
      return 2;
    }
    const { texts, system, working, json } = options.value;
    if (json) {
      const report = mixReport(texts);
      if (report.ok) output.out(`${JSON.stringify(report.value, null, 2)}\n`);
      else printFailure(output, report.error);
      return report.ok ? 0 : 2;
    }
    const mix = mixFromTexts(texts);
    if (!mix.ok) {
      printFailure(output, mix.error);
      return 2;
    }
    output.out(mixText(mix.value, system, working));
    return 0;
  },
};

function mixText(mix: BathMix | PartsMix, system: UnitSystem, working: boolean): string {
  const figures = [
    mix.waterVolume,
    mix.acidVolume,
    mix.waterMass,
    mix.acidMass,
    mix.finalConcentration,
    mix.finalStrength,
    mix.waterParts,
    mix.rise,
    mix.temperature,
  ];
  const lines = figures.flatMap((figure) => {
    const printed = printFigure(figure, system);
    const line = `  ${printed.label}: ${printed.value.text}${printed.range ? ` (${printed.range})` : ''}`;
    if (!working) return [line];
    return [line, ...workingLines(printed)];
  });
  const { steps, caution } = mix;
  const say = (kind: QuantityKind, si: number, unit: string, digits = 3): string =>
    sayQuantity(kind, si, system, unit, digits);
  const acidKgPerM3 = mix.acidMass.valueSi / mix.acidVolume.valueSi;
  const pours = steps.map(
    ({ acidKg, temperatureK }, i) =>
      `  pour ${i + 1} of ${steps.length}: ${say('mass', acidKg, 'kg', 4)} of acid (${say('volume', acidKg / acidKgPerM3, 'L', 4)}); it may reach ${say('temperature', temperatureK, '°C', 2)}${i + 1 < steps.length ? ', let it cool' : ''}`,
  );
  return [
    ...lines,
    `  first ${say('volume', mix.waterVolume.valueSi, 'L', 4)} of cold water into the vessel, then the acid:`,
    ...pours,
    ...(caution ? [caution] : []),
    'Always acid into water, slowly, stirring; eyes covered, air moving.',
    '',
  ].join('\n');
}
