import { CHARGE_CONSTANT_DEFAULT } from '../../core/reference/charge-constant.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { importLog, type ImportedLog } from '../../core/run/import-log.ts';
import { TIME_UNITS, type TimeUnit } from '../../core/run/log-columns.ts';
import { logDoubts } from '../../core/run/log-doubts.ts';
import { readingAt } from '../../core/run/readings.ts';
import { logWatch, watchedRun } from '../../core/run/watch-run.ts';
import type { WatchPlan } from '../../core/run/watch-event.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { optionFailure, readCommandLine } from './command-line.ts';
import { printFailure } from './print-failure.ts';
import { readFileBytes, readPiped } from './read-file.ts';
import { parseAmounts } from './parse-amounts.ts';
import type { Verb } from './verb.ts';
import { watchedJson, watchedText, type Watched } from './watched-text.ts';

const HELP = `tankside watch: delivered charge, film and lost contacts from a run’s readings.

tankside watch READINGS.csv --area A --density J --mode current|voltage [options]

  READINGS.csv     columns t_s, volt, amp and, if read, degC; other loggers’ files are understood
                   as far as their headings tell what is what; - reads them from standard input.
                   Readings minutes apart are held one against the other, as typed ones are
  --area A         coated area with its unit: 568cm2, 88in2
  --density J      planned current density: 6A/ft2, 0.65A/dm2
  --mode MODE      what the supply holds: current or voltage
  --thickness T    wanted film, for the end time: 25um, 1mil
  --charge K       charge constant: 720A.min/ft2/mil (default)
  --time FORM      what the log’s times are, where its heading does not say: min:s, h:min (a clock’s
                   too, with or without seconds), s, ms, min, h
  --ramp T         planned rise of the current: 5min
  --supply I       what the supply gives at most: 10A
  --supply-volts V what the supply gives at most: 30V
  --us             °F and mil first in what is said; so it is anyway when area or density is typed in US units
  --json           print one JSON object instead of text
  --help           show this

Exit code: 0 watched, whatever was found; 2 something is wrong with the input; 1 a fault in the program.
`;

const OPTIONS = {
  area: { type: 'string' },
  density: { type: 'string' },
  mode: { type: 'string' },
  thickness: { type: 'string' },
  charge: { type: 'string' },
  time: { type: 'string' },
  ramp: { type: 'string' },
  supply: { type: 'string' },
  'supply-volts': { type: 'string' },
  us: { type: 'boolean', default: false },
  json: { type: 'boolean', default: false },
} as const;

const AMOUNTS = {
  area: { kind: 'area', low: 1e-6, high: 1000, range: '1 mm² to 1000 m²' },
  density: { kind: 'currentDensity', low: 1, high: 5000, range: '0.01 to 50 A/dm²' },
  thickness: { kind: 'length', low: 1e-7, high: 1e-3, range: '0.1 µm to 1 mm' },
  charge: { kind: 'chargePerVolume', low: 1e9, high: 1e12, range: '0.1 to 100 C/cm²/µm' },
  ramp: { kind: 'time', low: 0, high: 36_000, range: '0 to 10 h' },
  supply: { kind: 'current', low: 1e-3, high: 1e5, range: '1 mA to 100 kA' },
  'supply-volts': { kind: 'voltage', low: 1, high: 1000, range: '1 to 1000 V' },
} as const;

/** Where the film's share of the wanted one doesn't matter: something to work the end time out with. */
const USUAL_THICKNESS_M = 25e-6;

const SAY_TIME =
  'Add --time min:s or --time h:min, or name the column time (mm:ss) or time (hh:mm) in the file.';

/** As they are typed; a clock's times are hours and minutes too. */
const TIME_NAMES: Readonly<Record<string, TimeUnit>> = {
  ...Object.fromEntries(TIME_UNITS.map((unit) => [unit, unit])),
  'mm:ss': 'min:s',
  'h:min': 'clock',
  'h:min:s': 'clock',
  'hh:mm': 'clock',
  'hh:mm:ss': 'clock',
};

/** Square inches and feet, however they are typed. */
const US_TYPED = /(?:in|ft)\s*\^?[2²]|asf/i;

interface WatchOptions {
  readonly file: string;
  readonly timeUnit: TimeUnit | null;
  readonly plan: WatchPlan;
  readonly thicknessM: number | null;
  readonly system: UnitSystem;
  readonly json: boolean;
}

function parseWatchOptions(args: readonly string[]): Result<WatchOptions> {
  const parsed = readCommandLine('watch', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  if (positionals.length !== 1) {
    return failure(
      'file-missing',
      'Name one file of readings.',
      'For example: tankside watch READINGS.csv --area 568cm2 …',
    );
  }
  const amounts = parseAmounts(values, AMOUNTS);
  if (!amounts.ok) return amounts;
  const { area, density, thickness, charge, ramp, supply } = amounts.value;
  if (area === undefined)
    return optionFailure('area', 'The coated area is missing.', 'Add --area 568cm2, say.');
  if (density === undefined) {
    return optionFailure('density', 'The planned current density is missing.', 'Add --density 6A/ft2, say.');
  }
  const mode = values['mode'];
  if (mode !== 'current' && mode !== 'voltage') {
    return optionFailure(
      'mode',
      'What the supply holds is not said.',
      'Add --mode current or --mode voltage.',
    );
  }
  const time = values['time'];
  const timeUnit = typeof time === 'string' ? TIME_NAMES[time] : null;
  if (timeUnit === undefined) {
    return optionFailure(
      'time',
      `“${String(time)}” is no form of a time.`,
      'Say --time min:s or --time h:min.',
    );
  }
  return success({
    file: positionals[0]!,
    timeUnit,
    plan: {
      mode,
      areaM2: area,
      currentDensityAPerM2: density,
      chargePerVolumeCPerM3: charge ?? CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
      rampS: ramp ?? null,
      supplyVoltageLimitV: amounts.value['supply-volts'] ?? null,
      supplyCurrentLimitA: supply ?? null,
    },
    thicknessM: thickness ?? null,
    system:
      values['us'] === true || US_TYPED.test(`${values['area'] ?? ''} ${values['density'] ?? ''}`)
        ? 'us'
        : 'metric',
    json: values['json'] === true,
  });
}

/** Charge for the wanted film, C; null where none is named. */
function wantedChargeC({ plan, thicknessM }: WatchOptions): number | null {
  return thicknessM === null ? null : plan.chargePerVolumeCPerM3 * plan.areaM2 * thicknessM;
}

function watchLog(log: ImportedLog, options: WatchOptions): Watched {
  const { readings } = log;
  const watch = logWatch(options.plan, readings);
  for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
  const plan = {
    ...options.plan,
    learntVoltage: null,
    thicknessM: options.thicknessM ?? USUAL_THICKNESS_M,
    chargeRelativeUncertainty: CHARGE_CONSTANT_DEFAULT.relativeUncertainty,
    chargeSource: CHARGE_CONSTANT_DEFAULT.source,
    rampS: options.plan.rampS ?? 0,
  };
  const doubts = logDoubts(readings, wantedChargeC(options));
  return { log, doubts, ...watchedRun(readings, plan, watch.events()) };
}

/** From a file of readings to charge, film and what went wrong. */
export const watchVerb: Verb = {
  name: 'watch',
  summary: 'charge, film and lost contacts from a run’s readings',
  help: HELP,
  async run(args, output) {
    const options = parseWatchOptions(args);
    if (!options.ok) {
      printFailure(output, options.error);
      return 2;
    }
    const { file, json } = options.value;
    const name = file === '-' ? 'standard input' : file;
    const bytes = file === '-' ? await readPiped() : await readFileBytes(file);
    if (!bytes.ok) {
      printFailure(output, bytes.error, name);
      return 2;
    }
    const { timeUnit } = options.value;
    const log = importLog(new TextDecoder().decode(bytes.value), {
      wantedC: wantedChargeC(options.value),
      ...(timeUnit === null ? {} : { timeUnit }),
    });
    if (!log.ok) {
      const isUnsure = log.error.code === 'log-time-unsure';
      printFailure(output, isUnsure ? { ...log.error, remedy: SAY_TIME } : log.error, name);
      return 2;
    }
    for (const { line, message } of log.value.problems.slice(0, 5)) {
      output.err(`${name}: line ${line} left out: ${message}.\n`);
    }
    const more = log.value.problems.length - 5;
    if (more > 0) output.err(`${name}: and ${more} more.\n`);
    const watched = watchLog(log.value, options.value);
    output.out(
      json
        ? `${JSON.stringify(watchedJson(watched, options.value.thicknessM), null, 2)}\n`
        : watchedText(watched, options.value.thicknessM, options.value.system),
    );
    return 0;
  },
};
