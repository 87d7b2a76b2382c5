import type { Process } from '../job/job.ts';
import { leastChargePerVolumeCPerM3, POROUS_FILM_DENSITY_KG_PER_M3 } from './faraday.ts';

export type ProcessField = Exclude<keyof Process, 'ownCharge' | 'ownVoltage'>;

/** Something to say at one field: `stop` makes the plan impossible, `check` and `note` do not. */
export interface FieldMessage {
  readonly field: ProcessField;
  readonly level: 'note' | 'check' | 'stop';
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

/** What each field may hold, SI, both ends included; shown beside the field before anything is wrong. */
export const PROCESS_LIMITS = {
  thicknessM: { low: 0.5e-6, high: 150e-6 },
  currentDensityAPerM2: { low: 10, high: 600 },
  chargePerVolumeCPerM3: {
    low: leastChargePerVolumeCPerM3(POROUS_FILM_DENSITY_KG_PER_M3.low),
    high: 10e10,
  },
  rampS: { low: 0, high: 3600 },
  supplyCurrentLimitA: { low: 0.01, high: 10_000 },
  supplyVoltageLimitV: { low: 1, high: 200 },
} as const satisfies Record<ProcessField, { low: number; high: number }>;

const COLD_BATH_THICKNESS_M = 30e-6;
const LOW_DENSITY_A_PER_M2 = 60;
const HARD_COAT_DENSITY_A_PER_M2 = 400;

const NAMES: Readonly<Record<ProcessField, string>> = {
  thicknessM: 'Thickness',
  currentDensityAPerM2: 'Current density',
  chargePerVolumeCPerM3: 'Charge constant',
  rampS: 'Ramp',
  supplyCurrentLimitA: 'The supply’s current',
  supplyVoltageLimitV: 'The supply’s voltage',
};

/** Where the bath is cold enough for a hard coat; without it an ordinary, stirred one is thought of. */
interface ProcessBath {
  readonly cold: boolean;
  readonly stirred: boolean;
}

/** Everything there is to say about the process before any part is looked at. */
export function checkProcess(
  process: Process,
  bath: ProcessBath = { cold: false, stirred: true },
): FieldMessage[] {
  const messages: FieldMessage[] = [];
  for (const field of Object.keys(PROCESS_LIMITS) as ProcessField[]) {
    const value = process[field];
    if (value === null) continue;
    const { low, high } = PROCESS_LIMITS[field];
    const belowFaraday = field === 'chargePerVolumeCPerM3' && value < low * (1 - 1e-9);
    if (belowFaraday) {
      messages.push({
        field,
        level: 'stop',
        code: 'charge-below-faraday',
        message: 'So little charge can’t grow even the most porous film: it is below Faraday’s bound.',
        remedy: 'Use the 720 rule, or the constant from your own measured runs.',
      });
    } else if (!(value >= low * (1 - 1e-9) && value <= high * (1 + 1e-9))) {
      messages.push({
        field,
        level: 'stop',
        code: 'out-of-range',
        message: `${NAMES[field]} is outside what a small anodizing tank can do.`,
        remedy: 'Type a value inside the range given under the field.',
      });
    }
  }
  const has = (field: ProcessField) => messages.some((message) => message.field === field);
  if (!has('rampS') && !has('thicknessM') && !has('currentDensityAPerM2') && rampTooLong(process)) {
    messages.push({
      field: 'rampS',
      level: 'stop',
      code: 'ramp-too-long',
      message: 'The ramp alone would already pass more charge than this thickness takes.',
      remedy: 'Shorten the ramp, lower the current density or ask for a thicker film.',
    });
  }
  if (!has('thicknessM') && process.thicknessM > COLD_BATH_THICKNESS_M && !bath.cold) {
    messages.push({
      field: 'thicknessM',
      level: 'check',
      code: 'thick-needs-cold-bath',
      message:
        'Above about 30 µm (1.2 mil) the acid of a bath at 20 °C softens the film as fast as it grows.',
      remedy: 'Plan a cold bath (hard coat), or ask for 25 µm or less.',
    });
  }
  if (!has('currentDensityAPerM2') && process.currentDensityAPerM2 < LOW_DENSITY_A_PER_M2) {
    messages.push({
      field: 'currentDensityAPerM2',
      level: 'check',
      code: 'density-low',
      message:
        'Below about 0.6 A/dm² (6 A/ft²) the run gets so long that the acid eats into the film’s yield.',
      remedy: 'Raise the density, or measure the thickness of a test piece first.',
    });
  }
  if (
    !has('currentDensityAPerM2') &&
    process.currentDensityAPerM2 > HARD_COAT_DENSITY_A_PER_M2 &&
    !(bath.cold && bath.stirred)
  ) {
    messages.push({
      field: 'currentDensityAPerM2',
      level: 'check',
      code: 'density-hard-coat',
      message: 'Above about 4 A/dm² (37 A/ft²) a bath that is not cold and well stirred burns the part.',
      remedy: 'Plan a bath near 0 °C with strong stirring, or lower the density.',
    });
  }
  return messages;
}

function rampTooLong(process: Process): boolean {
  const chargePerAreaCPerM2 = process.chargePerVolumeCPerM3 * process.thicknessM;
  return (process.currentDensityAPerM2 * process.rampS) / 2 > chargePerAreaCPerM2;
}
