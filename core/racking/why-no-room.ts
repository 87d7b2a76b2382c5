import { failure } from '../result.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { EXACT, fitsBar, takenM } from './load-packer.ts';
import type { BarRoom, HangingItem, RoomLimit } from './pack-hanging-loads.ts';

/**
 * Why a piece fits under no bar, undefined where it does: which of its three sizes is too large for the bar that it
 * comes nearest to, and which clearances were kept there. Codes: `no-bar`, `no-room`.
 * @param index of the item
 */
export function whyNoRoom(
  item: HangingItem,
  index: number,
  bars: readonly BarRoom[],
  gapM: number,
  system: UnitSystem,
): ReturnType<typeof failure> | undefined {
  if (bars.length === 0) {
    return failure('no-bar', 'The tank has no bar to hang from.', 'Add a bar to the tank.');
  }
  if (bars.some((bar) => fitsBar(item, index, bar, gapM))) return undefined;
  const { bar, short } = bars
    .map((room) => ({ bar: room, short: shortages(item, index, room, gapM) }))
    .reduce((best, now) => (total(now.short) < total(best.short) ? now : best));
  return failure(
    'no-room',
    `${item.name} does not fit under ${bar.name ?? 'any bar'}: ${short.map((one) => shortageText(one, item, system)).join('; ')}.`,
    `${remedyOf(item, index, bars, gapM, short, system)}, allow less under “Clearances you keep”, or use a larger tank. Hung by hand, the exact distances of its shape are measured.`,
  );
}

function remedyOf(
  item: HangingItem,
  index: number,
  bars: readonly BarRoom[],
  gapM: number,
  short: readonly Shortage[],
  system: UnitSystem,
): string {
  // How deep a part hangs that stands out of the liquid is the user's to say, whichever way up.
  if (item.standsOut && short.some(({ way }) => way === 'height')) return 'Hang it less deep';
  return (item.standsOut ? undefined : turnedUp(item, index, bars, gapM, system)) ?? 'Turn the part';
}

/** What to do where the box around it fits another way up; swings may then differ, so the new attitude is packed anew. */
function turnedUp(
  item: HangingItem,
  index: number,
  bars: readonly BarRoom[],
  gapM: number,
  system: UnitSystem,
): string | undefined {
  const { alongM: a, acrossM: b, heightM: c } = item;
  const ways = [
    { heightM: a, alongM: b, acrossM: c },
    { heightM: a, alongM: c, acrossM: b },
    { heightM: b, alongM: a, acrossM: c },
    { heightM: b, alongM: c, acrossM: a },
  ].map((sizes) => ({ ...item, ...sizes }));
  const fitting = ways.find((way) => bars.some((bar) => fitsBar(way, index, bar, gapM)));
  if (!fitting) return undefined;
  const upright = formatQuantity('length', fitting.heightM, system, 3).text;
  return `Turn the part at Hanging so that its ${upright} stand upright, where it has room`;
}

interface Shortage {
  readonly way: 'along' | 'across' | 'height';
  readonly wantedM: number;
  readonly freeM: number;
  readonly limits: readonly RoomLimit[];
}

function shortages(item: HangingItem, index: number, bar: BarRoom, gapM: number): Shortage[] {
  const own = bar.own?.[index];
  // As the packer counts it: what the gaps take at both ends is not free.
  const alongM = bar.lengthM + gapM - (takenM(item, gapM) - item.alongM);
  const ways = [
    { way: 'along', wantedM: item.alongM, freeM: Math.max(0, alongM) },
    { way: 'across', wantedM: item.acrossM, freeM: own?.acrossM ?? bar.acrossM },
    { way: 'height', wantedM: item.heightM, freeM: Math.max(0, own?.heightM ?? bar.heightM) },
  ] as const;
  return ways
    .filter(({ wantedM, freeM }) => wantedM > freeM * EXACT)
    .map((one) => ({ ...one, limits: own?.limits[one.way] ?? [] }));
}

const total = (short: readonly Shortage[]): number =>
  short.reduce((sum, { wantedM, freeM }) => sum + wantedM - freeM, 0);

function shortageText(
  { way, wantedM, freeM, limits }: Shortage,
  { standsOut }: HangingItem,
  system: UnitSystem,
): string {
  const length = (metres: number): string => formatQuantity('length', metres, system, 3).text;
  const reasons = limits.flatMap(({ to, keptM, bySwing }) => {
    if (to === 'end of the bar') return ['the bar ends there'];
    if (to === 'next bar')
      return [`${length(keptM)} kept to parts on the next bar${bySwing ? ', as both swing' : ''}`];
    return [
      `${length(keptM)} kept ${to === 'surface' ? 'under' : to === 'floor' ? 'over' : 'to'} the ${to}${bySwing ? ', as far as it swings' : ''}`,
    ];
  });
  const needs =
    way === 'height'
      ? `it ${standsOut ? `hangs ${length(wantedM)} deep` : `is ${length(wantedM)} high`}`
      : `the box around it takes ${length(wantedM)} ${way} the bar`;
  return `${needs}, and ${length(freeM)} are free${reasons.length > 0 ? ` (${reasons.join(', ')})` : ''}`;
}
