import type { BusBar, CathodeSheet, Tank } from '../racking/tank.ts';
import { fittedTank } from './first-tank.ts';

/**
 * A tank with another vessel of the same shape. One that is still fitted as plain ones are is fitted anew. Of one whose
 * sheets and bars the user has placed only that is changed which cannot stay: bars that ended at a wall or stood on the
 * rim go with it, sheets and level are cut to what there is.
 * @throws RangeError for another shape
 */
export function resizeTank(tank: Tank, vessel: Tank['vessel']): Tank {
  const before = tank.vessel;
  if (before.shape !== vessel.shape) throw new RangeError(`resizeTank: ${before.shape} to ${vessel.shape}`);
  const plain = fittedTank(tank.name, before);
  const fitted = fittedTank(tank.name, vessel);
  const isPlain = fittings(tank) === fittings(plain);
  const levelM =
    Math.abs(tank.levelM - plain.levelM) < 1e-9 ? fitted.levelM : Math.min(tank.levelM, vessel.heightM);
  if (isPlain) {
    const cathodes = fitted.cathodes.map((sheet, i) => ({ ...sheet, material: tank.cathodes[i]!.material }));
    return { ...fitted, cathodes, levelM };
  }
  const raisedM = vessel.heightM - before.heightM;
  return {
    ...tank,
    vessel,
    levelM,
    cathodes: tank.cathodes.map((sheet) => cutSheet(sheet, vessel)),
    bars: tank.bars.map((bar) => {
      const [was, is] = [halfAlong(before, bar), halfAlong(vessel, bar)];
      const across = halfAlong(vessel, { along: bar.along === 'x' ? 'y' : 'x' });
      const end = (at: number): number =>
        Math.abs(Math.abs(at) - was) < 1e-6 ? Math.sign(at) * is : Math.max(-is, Math.min(is, at));
      return {
        ...bar,
        acrossM: Math.max(-across, Math.min(across, bar.acrossM)),
        fromM: end(bar.fromM),
        toM: end(bar.toM),
        heightM: bar.heightM >= before.heightM - 1e-6 ? bar.heightM + raisedM : bar.heightM,
      };
    }),
  };
}

/** Sheets and bars as text, whatever the metal. */
const fittings = ({ cathodes, bars }: Tank): string =>
  JSON.stringify([
    cathodes.map((sheet) => [
      sheet.place,
      sheet.widthM,
      sheet.bottomM,
      sheet.heightM,
      sheet.thicknessM,
      sheet.standoffM,
      sheet.backWorks,
    ]),
    bars.map(({ along, acrossM, fromM, toM, heightM, role }) => [along, acrossM, fromM, toM, heightM, role]),
  ]);

function halfAlong(vessel: Tank['vessel'], { along }: Pick<BusBar, 'along'>): number {
  if (vessel.shape === 'round') return vessel.diameterM / 2;
  return (along === 'x' ? vessel.lengthM : vessel.widthM) / 2;
}

function cutSheet(sheet: CathodeSheet, vessel: Tank['vessel']): CathodeSheet {
  const bottomM = Math.min(sheet.bottomM, vessel.heightM / 2);
  const heightM = Math.min(sheet.heightM, vessel.heightM - bottomM);
  const wallM =
    vessel.shape === 'round'
      ? Math.PI * vessel.diameterM
      : sheet.place.on === 'wall' && sheet.place.wall.startsWith('y')
        ? vessel.lengthM
        : vessel.widthM;
  const widthM = Math.min(sheet.widthM, wallM);
  const spareM = (wallM - widthM) / 2;
  const place =
    sheet.place.on === 'wall'
      ? { ...sheet.place, alongM: Math.max(-spareM, Math.min(spareM, sheet.place.alongM)) }
      : sheet.place;
  return { ...sheet, bottomM, heightM, widthM, place };
}
