import type { Source } from '../figure/figure.ts';
import type { Process } from '../job/job.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../reference/charge-constant.ts';

/** The constant of the shop's own runs, while it is the one in use. */
export function ownCharge(process: Process): Process['ownCharge'] {
  const { ownCharge: own, chargePerVolumeCPerM3 } = process;
  return own && Math.abs(chargePerVolumeCPerM3 / own.chargePerVolumeCPerM3 - 1) < 1e-6 ? own : undefined;
}

/** Source of the charge constant in use: the published default, the shop's own runs or the user's own number. */
export function chargeConstantSource(process: Process): Source {
  const own = ownCharge(process);
  if (own) return { standing: 'your own runs', text: `${own.count} runs of this shop` };
  const usual = CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3;
  const isDefault = Math.abs(process.chargePerVolumeCPerM3 / usual - 1) < 1e-6;
  return isDefault
    ? CHARGE_CONSTANT_DEFAULT.source
    : { standing: 'your entry', text: 'charge constant typed by you' };
}
