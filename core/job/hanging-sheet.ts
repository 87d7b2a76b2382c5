import type { Load } from '../electrical/pack-loads.ts';
import type { Clearance, TankCheck } from '../racking/tank-clearance.ts';
import { unit, type Vec3 } from '../racking/vec3.ts';
import { formatQuantity, sayQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { PartHangingPlan } from './hanging-plan.ts';
import type { ContactHanger } from './job-hanging.ts';
import { markLevelWords, saidDepthM } from './hung-depth.ts';
import { hungLoad } from './hung-load.ts';
import type { Job, Part } from './job.ts';

/** "2 × Ti grade 2, 2 mm; 150 mm dry, 150 mm wet". */
export function hangerText(hanger: ContactHanger, system: UnitSystem): string {
  const length = (metres: number): string => formatQuantity('length', metres, system, 3).text;
  return `${hanger.count} × ${hanger.material}, ${formatQuantity('length', hanger.diameterM, system).text}; ${length(hanger.dryLengthM)} dry, ${hanger.wetLengthM > 0 ? length(hanger.wetLengthM) : 'none'} in the bath${hanger.hookLengthM > 0 ? `, ${length(hanger.hookLengthM)} of hook` : ''}${hanger.usedBefore ? '; used before' : ''}`;
}

/** In grams below a kilogram; ounces and pounds where the shop weighs in them. */
export const massText = (massKg: number, system: UnitSystem): string =>
  sayQuantity('mass', massKg, system, massKg < 1 ? 'g' : 'kg');

/** "Z up", "X down", or the direction itself: which way of the model points up. */
export function upWords(up: Vec3): string {
  const way = unit(up);
  const axis = way.findIndex((value) => Math.abs(value) > 1 - 1e-6);
  return axis >= 0
    ? `${'XYZ'[axis]!} ${way[axis]! > 0 ? 'up' : 'down'}`
    : `${way.map((value) => (Math.abs(value) < 5e-3 ? 0 : value).toFixed(2)).join(', ')} of the model up`;
}

/**
 * How one part hangs, for the paper: how deep, which way up, how heavy, what it traps, how it rests.
 * @param plan undefined where it is not worked out
 */
export function hangingLines(part: Part, plan: PartHangingPlan | undefined, system: UnitSystem): string[] {
  const depthM = saidDepthM(part);
  const lines = [
    ...(depthM === null ? [] : [markLevelWords(depthM, system)]),
    ...(depthM === null && !plan ? [] : [`as in the picture, ${upWords(part.attitude.up)}`]),
  ];
  if (!plan) return lines;
  const { massKg, traps, rest } = plan;
  if (massKg) lines.push(massText(massKg.valueSi, system));
  if (rest?.ok) {
    const degrees = Math.round((rest.value.tiltRad * 180) / Math.PI);
    const cut = part.contacts.length > 2;
    if (cut) lines.push(`wires cut so that all ${part.contacts.length} are taut`);
    else lines.push(degrees === 0 ? 'rests so by itself' : `comes to rest ${degrees}° from that`);
  }
  if (traps) {
    const gas = traps.gasVolumeM3.valueSi;
    const liquid = traps.liquidVolumeM3.valueSi;
    lines.push(
      gas > 0
        ? `holds ${sayQuantity('volume', gas, system, 'in³', 2)} of gas: fill or tip it`
        : 'holds no gas',
    );
    if (liquid > 0)
      lines.push(`tip out ${sayQuantity('volume', liquid, system, 'in³', 2)} of liquid at each rinse`);
  }
  return lines;
}

const WORDS: Readonly<Record<Clearance['to'], string>> = {
  cathode: 'cathode',
  wall: 'wall',
  floor: 'floor',
  surface: 'surface',
  part: 'next part',
};

/**
 * The tank, the smallest distances of what hangs in it, and which load that is; null without a tank.
 * @param loads as planned
 */
export function tankLine(
  job: Job,
  check: TankCheck | null,
  loads: readonly Pick<Load, 'pieces'>[],
  system: UnitSystem,
): string | null {
  if (!job.tank) return null;
  const length = (metres: number): string => formatQuantity('length', metres, system, 3).text;
  const { tank, rules } = job.tank;
  const smallest = (Object.keys(WORDS) as Clearance['to'][]).flatMap((to) => {
    const all = (check?.clearances ?? []).filter((clearance) => clearance.to === to);
    return all.length > 0
      ? [`${WORDS[to]} ${length(Math.min(...all.map(({ distanceM }) => distanceM.valueSi)))}`]
      : [];
  });
  const { of, notHung } = hungLoad(job, loads);
  const kept =
    smallest.length > 0
      ? `as placed${of === '' ? '' : ` (${of})`}, at least: ${smallest.join(', ')}${notHung === '' ? '' : `${loads.length > 1 ? '. Not in the tank now, so not measured' : '. Not hung yet, so not measured'}: ${notHung}`}`
      : `keep ${length(rules.partToCathodeM)} to the cathode, ${length(rules.partToPartM)} between parts`;
  const named = /\b(tank|tub|bucket)\b/i.test(tank.name) ? tank.name : `Tank ${tank.name}`;
  return `${named}, liquid ${length(tank.levelM)} deep; ${kept}.`;
}
