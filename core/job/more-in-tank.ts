import type { CathodePlace, Tank } from '../racking/tank.ts';
import { firstTank } from './first-tank.ts';

const freeId = (word: string, taken: readonly { readonly id: string }[]): string => {
  let number = taken.length + 1;
  while (taken.some(({ id }) => id === `${word}-${number}`)) number++;
  return `${word}-${number}`;
};

/** Like the last one, on the wall that has none yet. */
export function addSheet(tank: Tank): Tank {
  const id = freeId('sheet', tank.cathodes);
  const like = tank.cathodes.at(-1) ?? firstTank(tank.vessel.shape).tank.cathodes[0]!;
  const walls = ['y-', 'y+', 'x-', 'x+'] as const;
  const free = walls.find(
    (wall) => !tank.cathodes.some(({ place }) => place.on === 'wall' && place.wall === wall),
  );
  const place: CathodePlace =
    like.place.on === 'round'
      ? { on: 'round', angleRad: like.place.angleRad + Math.PI / 2 }
      : { on: 'wall', wall: free ?? 'y-', alongM: 0 };
  return { ...tank, cathodes: [...tank.cathodes, { ...like, id, place }] };
}

/** Like the last one, beside it. */
export function addBar(tank: Tank): Tank {
  const id = freeId('bar', tank.bars);
  const like = tank.bars.at(-1) ?? firstTank(tank.vessel.shape).tank.bars[0]!;
  return { ...tank, bars: [...tank.bars, { ...like, id, acrossM: like.acrossM + 0.15 }] };
}
