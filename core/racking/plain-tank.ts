import type { CathodeSheet, Tank } from './tank.ts';

/**
 * A vessel with two like aluminium sheets, one on either long side (front and back of a tub), and one work bar along the
 * middle, as long as the vessel. Metres; see tank.ts for the axes.
 */
export function plainTank(
  name: string,
  vessel: Tank['vessel'],
  fittings: {
    readonly levelM: number;
    /** Height of the bar over the floor. */
    readonly barM: number;
    readonly sheets: Pick<CathodeSheet, 'widthM' | 'bottomM' | 'heightM' | 'thicknessM' | 'standoffM'>;
  },
): Tank {
  const sheets: readonly Pick<CathodeSheet, 'id' | 'place'>[] =
    vessel.shape === 'box'
      ? [
          { id: 'sheet y-', place: { on: 'wall', wall: 'y-', alongM: 0 } },
          { id: 'sheet y+', place: { on: 'wall', wall: 'y+', alongM: 0 } },
        ]
      : [
          { id: 'sheet-1', place: { on: 'round', angleRad: -Math.PI / 2 } },
          { id: 'sheet-2', place: { on: 'round', angleRad: Math.PI / 2 } },
        ];
  const reachM = (vessel.shape === 'box' ? vessel.lengthM : vessel.diameterM) / 2;
  return {
    name,
    vessel,
    levelM: fittings.levelM,
    cathodes: sheets.map((sheet) => ({
      ...sheet,
      material: 'aluminium',
      ...fittings.sheets,
      backWorks: false,
    })),
    bars: [
      {
        id: 'bar-1',
        along: 'x',
        acrossM: 0,
        fromM: -reachM,
        toM: reachM,
        heightM: fittings.barM,
        role: 'work',
      },
    ],
  };
}
