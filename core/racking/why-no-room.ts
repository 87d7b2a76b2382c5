import { failure } from '../result.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { EXACT, fitsBar } from './load-packer.ts';
import type { BarRoom, HangingItem, RoomLimit } from './pack-hanging-loads.ts';

/**
 * Why a piece fits under no bar, undefined where it does: which of its three sizes is too large for the bar that it
 * comes nearest to, and which clearances were kept there. Codes: `no-bar`, `no-room`.
 */
export function whyNoRoom(
  item: HangingItem,
  bars: readonly BarRoom[],
  system: UnitSystem,
): ReturnType<typeof failure> | undefined {
  if (bars.length === 0) {
    return failure('no-bar', 'The tank has no bar to hang from.', 'Add a bar to the tank.');
  }
  if (bars.some((bar) => fitsBar(item, bar))) return undefined;
  const { bar, short } = bars
    .map((room) => ({ bar: room, short: shortages(item, room) }))
    .reduce((best, now) => (total(now.short) < total(best.short) ? now : best));
  return failure(
    'no-room',
    `${item.name} does not fit under ${bar.name ?? 'any bar'}: ${short.map((one) => shortageText(one, system)).join('; ')}.`,
    'Turn the part, allow less under “Clearances you keep”, or use a larger tank. Hung by hand, the exact distances of its shape are measured.',
  );
}

interface Shortage {
  readonly way: 'along' | 'across' | 'height';
  readonly wantedM: number;
  readonly freeM: number;
  readonly limits: readonly RoomLimit[];
}

function shortages(item: HangingItem, bar: BarRoom): Shortage[] {
  const ways = [
    { way: 'along', wantedM: item.alongM, freeM: bar.lengthM },
    { way: 'across', wantedM: item.acrossM, freeM: bar.acrossM },
    { way: 'height', wantedM: item.heightM, freeM: Math.max(0, bar.heightM) },
  ] as const;
  return ways
    .filter(({ wantedM, freeM }) => wantedM > freeM * EXACT)
    .map((one) => ({ ...one, limits: bar.limits?.[one.way] ?? [] }));
}

const total = (short: readonly Shortage[]): number =>
  short.reduce((sum, { wantedM, freeM }) => sum + wantedM - freeM, 0);

function shortageText({ way, wantedM, freeM, limits }: Shortage, system: UnitSystem): string {
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
      ? `it is ${length(wantedM)} high`
      : `the box around it takes ${length(wantedM)} ${way} the bar`;
  return `${needs}, and ${length(freeM)} are free${reasons.length > 0 ? ` (${reasons.join(', ')})` : ''}`;
}
