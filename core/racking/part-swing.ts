import type { BusBar, Tank } from './tank.ts';

/** How far a hung part swings to each side, m: along its bar and across it. */
export interface PartSwing {
  readonly alongM: number;
  readonly acrossM: number;
}

export const STILL_PART: PartSwing = { alongM: 0, acrossM: 0 };

/** Two wires at least this far apart along the bar keep the part from swinging along it; common practice. */
const LEAST_SPREAD_M = 0.02;

/**
 * How far a part swings to either side: as a pendulum from the bar, its lowest point the furthest. Bending of the wire
 * is left out.
 */
export function swingReachM(tank: Pick<Tank, 'bars' | 'levelM'>, lowestM: number, swingRad: number): number {
  const bars = workBars(tank).map(({ heightM }) => heightM);
  const from = bars.length > 0 ? Math.max(...bars) : tank.levelM;
  return Math.max(0, from - lowestM) * Math.sin(swingRad);
}

/**
 * One wire lets the part swing every way. Two that are apart along the bar hold it in their plane: about the bar it
 * swings all the same.
 * @param wiresAlongM where its wires hold it, along the bar
 */
export function swingUnderBar(reachM: number, wiresAlongM: readonly number[]): PartSwing {
  return { alongM: isHeld(wiresAlongM) ? 0 : reachM, acrossM: reachM };
}

export function isHeld(wiresAlongM: readonly number[]): boolean {
  return wiresAlongM.length > 1 && Math.max(...wiresAlongM) - Math.min(...wiresAlongM) >= LEAST_SPREAD_M;
}

export const workBars = ({ bars }: Pick<Tank, 'bars'>): BusBar[] =>
  bars.filter(({ role }) => role === 'work');
