import type { BathHeat } from '../bath/plan-bath-heat.ts';
import type { LoadCooling, LoadHeat } from '../bath/heat-over-loads.ts';
import { sayBoth } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { Job } from './job.ts';
import { loadsWords } from './load-currents.ts';

export type CooledLoad = LoadHeat & { readonly cooling: LoadCooling };

/** Loads before which the bath has to be cooled. */
export function cooledLoads({ loads }: Pick<BathHeat, 'loads'>): CooledLoad[] {
  return loads.flatMap(({ cooling, ...load }) => (cooling ? [{ ...load, cooling }] : []));
}

/** "25.1 °C (77.2 °F)", the reader's own first. */
export function degreesBoth(kelvin: number, system: UnitSystem): string {
  return sayBoth('temperature', kelvin, system, ['°C', '°F']);
}

/** "cool the bath to 20 °C before loads 2 and 3: with 0.9 kg of ice each time, or …"; empty where none needs it. */
export function coolingWords(heat: Pick<BathHeat, 'loads'>, system: UnitSystem): string {
  const cooled = cooledLoads(heat);
  const [first] = cooled;
  if (!first) return '';
  const { toK } = first.cooling;
  const iceKg = Math.max(...cooled.map(({ cooling }) => cooling.iceKg));
  const latestK = Math.min(...cooled.map(({ cooling }) => cooling.latestStartK));
  const waits = cooled.map(({ cooling }) => cooling.waitS);
  const waitS = waits.includes(null) ? null : Math.max(...waits.map((wait) => wait ?? 0));
  const wait =
    waitS === null
      ? 'Waiting alone does not cool it enough in this room'
      : `Or wait ${roundedUp(waitS)} more after the pause, until it is at ${degreesBoth(latestK, system)} or less`;
  return `cool the bath to ${degreesBoth(toK, system)} before ${loadsWords(cooled.map(({ load }) => load))}: about ${iceWords(iceKg, system)} of ice in closed bottles${cooled.length > 1 ? ' each time' : ''}. ${wait}; the thermometer decides.`;
}

const DAY_S = 86_400;

/** "about 2.3 kg (5 lb) of ice in closed bottles, or about 20 min by the chiller alone" */
export function coolDownWords(
  { bath }: Job,
  { heatJ, iceKg, toK }: NonNullable<BathHeat['coolDown']>,
  system: UnitSystem,
): string {
  const ice = `about ${iceWords(iceKg, system)} of ${bath.iceKg > 0 ? 'more ice' : 'ice'} in closed bottles`;
  if (bath.chillerW === 0) return ice;
  if (bath.chillerSetK >= toK) return `${ice}; the chiller is set too high for it`;
  const chillS = heatJ / bath.chillerW;
  return chillS > DAY_S
    ? `${ice}; the chiller alone would take more than a day`
    : `${ice}, or ${roundedUp(chillS)} by the chiller alone`;
}

/** "2.4 kg (5.3 lb)", the reader's own first. */
export function iceWords(massKg: number, system: UnitSystem): string {
  return sayBoth('mass', massKg, system, ['kg', 'lb'], 2);
}

/** Waiting is known to the losses' ±40 %: "40 min", "3 h", upwards. */
function roundedUp(seconds: number): string {
  return seconds < 5400
    ? `about ${Math.ceil(seconds / 600) * 10} min`
    : `about ${Math.ceil(seconds / 3600)} h`;
}
