import { failure, success, type Result } from '../../core/result.ts';
import { exportLog } from '../../core/run/export-log.ts';
import { simulateRun, usualSetup, type SimulatedSetup } from '../../core/run/simulated-run.ts';
import { parseFault } from './parse-fault.ts';
import { optionFailure, readCommandLine } from './command-line.ts';
import { printFailure } from './print-failure.ts';
import { parseAmounts } from './parse-amounts.ts';
import type { Verb } from './verb.ts';

const HELP = `tankside simulate: a made-up run’s readings, to practise and to test with.

tankside simulate [options] > READINGS.csv

  --area A         coated area: 568cm2 (default)
  --density J      current density: 6A/ft2 (default)
  --mode MODE      what the supply holds: current (default) or voltage
  --ramp T         rise from zero: 5min (default)
  --duration T     length of the run: 60min (default)
  --every T        from one reading to the next: 5s (default)
  --noise P        a reading’s noise: 1% (default)
  --volts V        voltage at 12 A/ft2 and 20 °C: 15V (default)
  --supply-volts V what the supply gives at most: 30V (default)
  --fault FAULT    something that goes wrong; may be given again:
                     contact@30min:40%    that share of the area loses contact
                     drift@30min:40%      the same, bit by bit in ten minutes
                     loose@30min:40%      it comes and goes
                     resistance@30min:50mohm  a contact gets worse
                     total@30min  short@30min  burning@30min  off@30min  restore@40min
                     slow-ramp:3  limit:14V  wrong-mode
  --seed N         whole number; the same seed gives the same run (default 1)
  --help           show this

Columns t_s, volt, amp, degC. The last line says that the run is simulated.
Exit code: 0 done; 2 something is wrong with the input; 1 a fault in the program.
`;

const OPTIONS = {
  area: { type: 'string', default: '568cm2' },
  density: { type: 'string', default: '6A/ft2' },
  mode: { type: 'string', default: 'current' },
  ramp: { type: 'string', default: '5min' },
  duration: { type: 'string', default: '60min' },
  every: { type: 'string', default: '5s' },
  noise: { type: 'string', default: '1%' },
  volts: { type: 'string', default: '15V' },
  'supply-volts': { type: 'string', default: '30V' },
  fault: { type: 'string', multiple: true },
  seed: { type: 'string', default: '1' },
} as const;

const AMOUNTS = {
  area: { kind: 'area', low: 1e-6, high: 1000, range: '1 mm² to 1000 m²' },
  density: { kind: 'currentDensity', low: 10, high: 600, range: '0.1 to 6 A/dm²' },
  ramp: { kind: 'time', low: 0, high: 7200, range: '0 to 2 h' },
  duration: { kind: 'time', low: 10, high: 86_400, range: '10 s to 24 h' },
  every: { kind: 'time', low: 0.1, high: 3600, range: '0.1 s to 1 h' },
  noise: { kind: 'fraction', low: 0, high: 0.2, range: '0 to 20 %' },
  volts: { kind: 'voltage', low: 5, high: 80, range: '5 to 80 V' },
  'supply-volts': { kind: 'voltage', low: 1, high: 1000, range: '1 to 1000 V' },
} as const;

function parseSetup(args: readonly string[]): Result<SimulatedSetup> {
  const parsed = readCommandLine('simulate', args, OPTIONS);
  if (!parsed.ok) return parsed;
  const { values, positionals } = parsed.value;
  if (positionals.length > 0) {
    return failure(
      'option-unknown',
      `“${positionals[0]}” belongs to no option.`,
      'See tankside simulate --help.',
    );
  }
  const amounts = parseAmounts(values, AMOUNTS);
  if (!amounts.ok) return amounts;
  const { area, density, ramp, duration, every, noise, volts } = amounts.value as Required<
    typeof amounts.value
  >;
  const seedText = String(values['seed']);
  const seed = /^\d{1,10}$/.test(seedText) ? Number(seedText) : NaN;
  if (!(seed <= 0xffffffff)) {
    return optionFailure('seed', `“${seedText}” is not a seed.`, 'Use a whole number from 0 to 4294967295.');
  }
  const mode = values['mode'];
  if (mode !== 'current' && mode !== 'voltage') {
    return optionFailure('mode', `“${String(mode)}” is not a mode.`, 'Use current or voltage.');
  }
  const usual = usualSetup(area, density, seed);
  const offsetV = volts - usual.cell.referenceVoltageV;
  let setup: SimulatedSetup = {
    ...usual,
    mode,
    rampS: ramp,
    durationS: duration,
    sampleS: every,
    cell: { ...usual.cell, referenceVoltageV: volts },
    setVoltageV: usual.setVoltageV + offsetV,
    supplyVoltageLimitV: amounts.value['supply-volts']!,
    noise: {
      ...usual.noise,
      relative: noise,
      // With no noise asked for, none: neither stirring nor the display's steps beyond a thousandth.
      ...(noise === 0 ? { ripple: 0, wander: 0, voltageStepV: 0.001, currentStepA: 0.0001 } : {}),
      // A display has three digits of the set current at least.
      currentStepA: noise === 0 ? 0.0001 : Math.min(0.01, 10 ** Math.floor(Math.log10(area * density) - 2)),
    },
  };
  for (const text of (values['fault'] as string[] | undefined) ?? []) {
    const fault = parseFault(text);
    if (!fault.ok) return fault;
    if ('at' in fault.value) setup = { ...setup, faults: [...setup.faults, fault.value.at] };
    else if ('slowRamp' in fault.value) setup = { ...setup, rampS: setup.rampS * fault.value.slowRamp };
    else if ('voltageLimitV' in fault.value)
      setup = { ...setup, supplyVoltageLimitV: fault.value.voltageLimitV };
    else setup = { ...setup, mode: mode === 'current' ? 'voltage' : 'current' };
  }
  if (setup.durationS / setup.sampleS > 1e6) {
    return optionFailure(
      'every',
      'That makes more than a million readings.',
      'Read less often, or a shorter run.',
    );
  }
  return success(setup);
}

/** A simulated run's readings as CSV on standard output. */
export const simulateVerb: Verb = {
  name: 'simulate',
  summary: 'a simulated run’s readings, with a fault of your choice',
  help: HELP,
  run(args, output) {
    const setup = parseSetup(args);
    if (!setup.ok) {
      printFailure(output, setup.error);
      return Promise.resolve(2);
    }
    output.out(exportLog(simulateRun(setup.value).readings, `tankside simulate ${args.join(' ')}`));
    return Promise.resolve(0);
  },
};
