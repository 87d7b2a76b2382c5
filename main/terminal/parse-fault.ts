import { success, type Result } from '../../core/result.ts';
import type { SimulatedFault } from '../../core/run/simulated-run.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import { optionFailure } from './command-line.ts';

/** What a fault on the command line changes: something at a moment, or the set-up from the start. */
export type FaultOption =
  | { readonly at: SimulatedFault }
  | { readonly slowRamp: number }
  | { readonly voltageLimitV: number }
  | { readonly otherMode: true };

const FORMS =
  'contact@30min:40%, drift@30min:40%, loose@30min:40%, resistance@30min:50mohm, total@30min, short@30min, burning@30min, off@30min, restore@40min, slow-ramp:3, limit:14V, wrong-mode';

/** Reads `contact@30min:40%` and its like; an amount left out takes a usual one. */
export function parseFault(text: string): Result<FaultOption> {
  const match = /^([a-z-]+)(?:@([^:]+))?(?::(.+))?$/i.exec(text.trim());
  const wrong = (why: string): Result<never> =>
    optionFailure('fault', `“${text}” ${why}.`, `Forms: ${FORMS}.`);
  if (!match) return wrong('is not a fault');
  const [, rawKind, when, amount] = match;
  const kind = rawKind!.toLowerCase();
  if (kind === 'slow-ramp') {
    const factor = Number(amount ?? '3');
    return when === undefined && factor > 1 && factor <= 100
      ? success({ slowRamp: factor })
      : wrong('needs a factor from 1 to 100 and no time');
  }
  if (kind === 'limit') {
    const volts = amount === undefined ? undefined : parseQuantity('voltage', amount, 'V');
    return when === undefined && volts?.ok && volts.value > 0
      ? success({ voltageLimitV: volts.value })
      : wrong('needs a voltage and no time');
  }
  if (kind === 'wrong-mode') {
    return when === undefined && amount === undefined
      ? success({ otherMode: true })
      : wrong('takes nothing more');
  }
  const time = when === undefined ? undefined : parseQuantity('time', when);
  if (!time?.ok || time.value < 0) return wrong('needs a time with its unit, such as @30min');
  const atS = time.value;
  const share = (usual: number): number | undefined => {
    if (amount === undefined) return usual;
    const parsed = parseQuantity('fraction', amount);
    return parsed.ok && parsed.value > 0 && parsed.value < 1 ? parsed.value : undefined;
  };
  switch (kind) {
    case 'contact':
    case 'drift': {
      const lostShare = share(0.4);
      if (lostShare === undefined) return wrong('needs a share between 0 and 100 %');
      return success({ at: { kind: 'contact', atS, lostShare, overS: kind === 'drift' ? 600 : 2 } });
    }
    case 'loose': {
      const lostShare = share(0.4);
      if (lostShare === undefined) return wrong('needs a share between 0 and 100 %');
      return success({ at: { kind: 'loose', atS, lostShare, dwellS: 8 } });
    }
    case 'resistance': {
      const ohms = parseQuantity('resistance', (amount ?? '50 mΩ').replace(/ohm$/i, 'Ω'));
      return ohms.ok && ohms.value > 0
        ? success({ at: { kind: 'resistance', atS, addedOhm: ohms.value } })
        : wrong('needs a resistance such as 50mohm');
    }
    case 'total':
    case 'off':
    case 'restore':
      return amount === undefined ? success({ at: { kind, atS } }) : wrong('takes no amount');
    case 'short':
      return amount === undefined
        ? success({ at: { kind, atS, resistanceOhm: 0.05 } })
        : wrong('takes no amount');
    case 'burning':
      return amount === undefined ? success({ at: { kind, atS, doublingS: 40 } }) : wrong('takes no amount');
    default:
      return wrong('is not a fault');
  }
}
