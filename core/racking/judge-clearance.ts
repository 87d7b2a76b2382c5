import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { Clearance, TankFinding } from './tank-clearance.ts';
import type { TankRules } from './tank.ts';

/** Surfaces nearer than this touch: a hanger bends more than this by itself. */
const TOUCH_M = 1e-4;
/** Sums of lengths: a copy hung at the very clearance keeps it. */
const SLACK_M = 1e-6;

/** What is wrong with one distance at rest; undefined where it is kept. */
export function judgeClearance(
  clearance: Clearance,
  rules: TankRules,
  name: string,
  system: UnitSystem,
): TankFinding | undefined {
  const distance = clearance.distanceM.valueSi;
  const say = (valueM: number): string => formatQuantity('length', valueM, system).text;
  const make = (
    code: TankFinding['code'],
    level: TankFinding['level'],
    message: string,
    remedy: string,
  ): TankFinding => ({
    code,
    level,
    message,
    remedy,
    placementIds: clearance.to === 'part' ? [clearance.placementId, clearance.toId] : [clearance.placementId],
  });
  switch (clearance.to) {
    case 'cathode':
      if (distance <= TOUCH_M) {
        return make(
          'short-circuit',
          'stop',
          `${name} touches the cathode: the supply would be shorted through it.`,
          'Move the part away from the sheet before the power goes on.',
        );
      }
      if (distance >= rules.partToCathodeM - SLACK_M) return undefined;
      return make(
        'near-cathode',
        'check',
        `${name} comes within ${say(distance)} of the cathode, nearer than ${say(rules.partToCathodeM)}; the near side coats thicker and may burn.`,
        'Move it towards the middle of the tank.',
      );
    case 'wall':
      if (distance < 0) {
        return make(
          'through-wall',
          'stop',
          `${name} reaches ${say(-distance)} into the wall.`,
          'Move or turn the part.',
        );
      }
      if (distance >= rules.partToWallM - SLACK_M) return undefined;
      return make(
        'near-wall',
        'check',
        `${name} comes within ${say(distance)} of the wall, nearer than ${say(rules.partToWallM)}; liquid hardly moves there.`,
        'Move it away from the wall.',
      );
    case 'floor':
      if (distance < 0) {
        return make(
          'through-floor',
          'stop',
          `${name} reaches ${say(-distance)} below the floor.`,
          'Hang it higher or turn it.',
        );
      }
      if (distance >= rules.partToFloorM - SLACK_M) return undefined;
      return make(
        'near-floor',
        'check',
        `${name} hangs ${say(distance)} above the floor, less than ${say(rules.partToFloorM)}; sludge and cold liquid lie there.`,
        'Hang it higher.',
      );
    case 'surface':
      if (distance < 0) {
        return make(
          'out-of-liquid',
          'stop',
          `${name} sticks ${say(-distance)} out of the liquid; that part is not coated.`,
          'Hang it lower or fill the tank higher.',
        );
      }
      if (distance >= rules.partToSurfaceM - SLACK_M) return undefined;
      return make(
        'near-surface',
        'check',
        `${name} is only ${say(distance)} under the surface, less than ${say(rules.partToSurfaceM)}.`,
        'Hang it lower or fill the tank higher.',
      );
    case 'part':
      if (distance <= TOUCH_M) {
        return make(
          'parts-touch',
          'stop',
          `${name} touches the next part: both stay uncoated where they meet.`,
          'Move them apart.',
        );
      }
      if (distance >= rules.partToPartM - SLACK_M) return undefined;
      return make(
        'near-part',
        'check',
        `${name} comes within ${say(distance)} of the next part, nearer than ${say(rules.partToPartM)}; they shade each other.`,
        'Move them apart or hang fewer in this load.',
      );
  }
}
