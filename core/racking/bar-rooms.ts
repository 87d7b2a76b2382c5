import type { BarRoom } from './pack-hanging-loads.ts';
import type { CathodeSheet, Tank, TankRules } from './tank.ts';

/** Where the room is: along which axis, from which coordinate, and the bar's own coordinate across. */
export interface PlacedBarRoom extends BarRoom {
  readonly along: 'x' | 'y';
  readonly startM: number;
  readonly atM: number;
}

/**
 * What hangs under each work bar with all clearances kept: length between the walls or the sheets at its ends, width
 * to the walls, sheets and bars beside it (the same to both sides, so a part may turn), and the depth of liquid.
 * In a round tub the length is that of the chord at the edge of the room across, half the room to each side.
 */
export function barRooms(tank: Tank, rules: TankRules): PlacedBarRoom[] {
  const heightM = tank.levelM - rules.partToSurfaceM - rules.partToFloorM;
  const bars = tank.bars.filter((bar) => bar.role === 'work');
  return bars.map((bar): PlacedBarRoom => {
    const place = { id: bar.id, along: bar.along, atM: bar.acrossM, heightM };
    let side = Infinity;
    for (const other of bars) {
      if (other === bar || other.along !== bar.along) continue;
      side = Math.min(side, (Math.abs(other.acrossM - bar.acrossM) - rules.partToPartM) / 2);
    }
    if (tank.vessel.shape === 'round') {
      const clear = Math.min(
        tank.vessel.diameterM / 2 - rules.partToWallM,
        ...tank.cathodes.map((sheet) =>
          tank.vessel.shape === 'round'
            ? tank.vessel.diameterM / 2 - reachOf(sheet) - rules.partToCathodeM
            : Infinity,
        ),
      );
      // The largest level rectangle about the bar has its half-width at clear/√2 when the bar is in the middle.
      const half = Math.max(0, Math.min(side, clear / Math.SQRT2 - Math.abs(bar.acrossM)));
      const chord = Math.sqrt(Math.max(0, clear ** 2 - (Math.abs(bar.acrossM) + half) ** 2));
      const from = Math.max(bar.fromM, -chord);
      const to = Math.min(bar.toM, chord);
      return { ...place, startM: from, lengthM: Math.max(0, to - from), acrossM: 2 * half };
    }
    const { lengthM, widthM } = tank.vessel;
    const [ends, beside] = bar.along === 'x' ? [lengthM / 2, widthM / 2] : [widthM / 2, lengthM / 2];
    const taken = (wall: string): number =>
      tank.cathodes.reduce(
        (most, sheet) =>
          sheet.place.on === 'wall' && sheet.place.wall === wall
            ? Math.max(most, reachOf(sheet) + rules.partToCathodeM)
            : most,
        rules.partToWallM,
      );
    const cross = bar.along === 'x' ? 'y' : 'x';
    const from = Math.max(bar.fromM, -ends + taken(`${bar.along}-`));
    const to = Math.min(bar.toM, ends - taken(`${bar.along}+`));
    side = Math.min(
      side,
      bar.acrossM + beside - taken(`${cross}-`),
      beside - taken(`${cross}+`) - bar.acrossM,
    );
    return { ...place, startM: from, lengthM: Math.max(0, to - from), acrossM: Math.max(0, 2 * side) };
  });
}

const reachOf = (sheet: CathodeSheet): number => sheet.standoffM + sheet.thicknessM;
