import { USUAL_TANK_RULES, type CathodeSheet, type Tank, type TankRules } from '../../core/racking/tank.ts';

/** First tanks to change to one's own: usual sizes of a small shop, sheets on both long sides, one work bar. */
export function newTank(shape: 'box' | 'round'): { readonly tank: Tank; readonly rules: TankRules } {
  const sheet = (id: string, place: CathodeSheet['place'], widthM: number): CathodeSheet => ({
    id,
    material: 'aluminium',
    place,
    widthM,
    bottomM: 0.05,
    heightM: 0.3,
    thicknessM: 0.003,
    standoffM: 0.005,
    backWorks: false,
  });
  const bar = (reachM: number): Tank['bars'][number] => ({
    id: 'bar-1',
    along: 'x',
    acrossM: 0,
    fromM: -reachM,
    toM: reachM,
    heightM: 0.45,
    role: 'work',
  });
  return shape === 'box'
    ? {
        rules: USUAL_TANK_RULES,
        tank: {
          name: 'Box tank',
          vessel: { shape: 'box', lengthM: 0.8, widthM: 0.5, heightM: 0.42 },
          levelM: 0.37,
          cathodes: [
            sheet('sheet-1', { on: 'wall', wall: 'y-', alongM: 0 }, 0.6),
            sheet('sheet-2', { on: 'wall', wall: 'y+', alongM: 0 }, 0.6),
          ],
          bars: [bar(0.4)],
        },
      }
    : {
        rules: USUAL_TANK_RULES,
        tank: {
          name: 'Round tub',
          vessel: { shape: 'round', diameterM: 0.55, heightM: 0.42 },
          levelM: 0.37,
          cathodes: [
            sheet('sheet-1', { on: 'round', angleRad: Math.PI / 2 }, 0.4),
            sheet('sheet-2', { on: 'round', angleRad: -Math.PI / 2 }, 0.4),
          ],
          bars: [bar(0.27)],
        },
      };
}
