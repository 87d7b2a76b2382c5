import { gasLift, type GasLift } from '../racking/balance.ts';
import { strengthFromConcentration } from '../reference/sulfuric-density.ts';
import type { Failure } from '../result.ts';
import type { Job } from './job.ts';

/**
 * What gas under a part and hollows that no liquid fills lift of its weight, in this bath.
 * @returns null where there is nothing of the kind, or the bath has no known density
 */
export function partLift(
  { acidKgPerM3, temperatureK }: Pick<Job['bath'], 'acidKgPerM3' | 'temperatureK'>,
  metalKgPerM3: number,
  volumesM3: { readonly metal: number; readonly gas: number; readonly sealed: number },
): GasLift | null {
  const { metal, gas, sealed } = volumesM3;
  const strength = strengthFromConcentration(acidKgPerM3, temperatureK);
  if (!(gas + sealed > 0 && metal > 0 && strength.ok && strength.value > 0)) return null;
  return gasLift({
    gasVolumeM3: gas,
    sealedVolumeM3: sealed,
    metalVolumeM3: metal,
    metalKgPerM3,
    bathKgPerM3: acidKgPerM3 / strength.value,
  });
}

const REMEDIES: Readonly<Record<GasLift['by'], string>> = {
  gas: 'Turn it so that the gas gets out, or bolt the hangers on.',
  hollows:
    'Bolt stiff hangers on that hold it down, or weigh it down; or vent and drain the hollows, so that the bath fills them.',
  both: 'Turn it so that the gas gets out. For the hollows bolt stiff hangers on that hold it down, or vent and drain them.',
};

/** @returns null where it is too little to matter */
export function liftMessage(
  name: string,
  lift: GasLift | null,
): (Failure & { readonly level: 'check' | 'stop' }) | null {
  if (!lift?.matters) return null;
  const { by, floats, shareOfWeight } = lift;
  const what = {
    gas: `The gas under ${name}`,
    hollows: `What is shut in the hollows of ${name}`,
    both: `The gas under ${name} and in its hollows`,
  }[by];
  return {
    level: floats ? 'stop' : 'check',
    code: 'gas-lift',
    message: floats
      ? `${what} lifts more than it weighs in the bath: it floats off its hangers.`
      : `${what} takes ${(100 * shareOfWeight.valueSi).toFixed(0)} % of its weight off the hangers.`,
    remedy: REMEDIES[by],
  };
}
