import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { HangerDuty, HangerFix, HangerMeasures, HangerSet } from './check-hanger.ts';
import type { HangerMetal } from './hanger-materials.ts';

/** Against knocks, drag and stirring; common practice for light rigging. */
export const STRENGTH_MARGIN = 2;
/** An arm that droops by more than this share of its length lets the part slide off. */
export const SAG_SHARE = 0.1;

export interface HangerFinding {
  readonly code:
    | 'too-hot'
    | 'warm-in-bath'
    | 'drop-large'
    | 'too-weak'
    | 'bends'
    | 'single-use'
    | 'oxide'
    | 'titanium-spot';
  readonly level: 'note' | 'check' | 'stop';
  readonly message: string;
  readonly remedy: string;
}

/** What is wrong with a set, each with what would do, and what its metal asks for. */
export function hangerFindings(
  set: HangerSet,
  duty: HangerDuty,
  metal: HangerMetal,
  check: HangerMeasures,
  fixes: readonly HangerFix[],
  system: UnitSystem,
): HangerFinding[] {
  const findings: HangerFinding[] = [];
  const would =
    fixes.length > 0
      ? `Use ${fixes.map((fix) => fix.text).join(', or ')}.`
      : 'Spread the part over more contacts.';
  const amps = formatQuantity('current', duty.currentA, system).text;
  if (check.capacityDryA.valueSi < duty.currentA) {
    const rise =
      check.riseDryK && formatQuantity('temperatureDifference', check.riseDryK.valueSi, system).text;
    findings.push({
      code: 'too-hot',
      level: 'stop',
      message: rise
        ? `At ${amps} the dry part of the hanger runs ${rise} above the room, more than you allow.`
        : `At ${amps} the dry part of the hanger goes beyond 300 °C and lets go.`,
      remedy: would,
    });
  }
  if (set.wetLengthM + set.hookLengthM > 0 && check.capacityWetA.valueSi < duty.currentA) {
    findings.push({
      code: 'warm-in-bath',
      level: 'check',
      message: `At ${amps} the hanger warms the bath around the contact, where the coating grows soft.`,
      remedy: would,
    });
  }
  if (check.dropV.valueSi > duty.allowedDropV) {
    findings.push({
      code: 'drop-large',
      level: 'check',
      message: `The hangers lose ${formatQuantity('voltage', check.dropV.valueSi, system).text} of the supply’s voltage.`,
      remedy: would,
    });
  }
  const { bending } = check;
  if (bending && bending.stressPa > metal.yieldPa) {
    findings.push({
      code: 'too-weak',
      level: 'stop',
      message: `The part’s weight bends the hook open: ${(bending.stressPa / 1e6).toFixed(0)} MPa in a metal that yields at ${(metal.yieldPa / 1e6).toFixed(0)} MPa.`,
      remedy: would,
    });
  } else if (
    bending &&
    (bending.stressPa * STRENGTH_MARGIN > metal.yieldPa ||
      bending.sagM.valueSi > SAG_SHARE * Math.max(set.armM, 1e-9))
  ) {
    findings.push({
      code: 'bends',
      level: 'check',
      message: 'The hook holds the weight with little to spare and gives way when the part is knocked.',
      remedy: would,
    });
  }
  if (metal.reuse === 'once') {
    findings.push(
      {
        code: 'single-use',
        level: 'note',
        message: 'An aluminium hanger is coated along with the part, so it hangs one part once.',
        remedy: 'Take new wire, or strip the old one bare before it hangs another part.',
      },
      {
        code: 'oxide',
        level: 'note',
        message:
          'An old aluminium contact carries oxide, which insulates: the part loses contact or burns there.',
        remedy: 'Cut, file or strip the end to bright metal right before hanging, and clamp it tight.',
      },
    );
  } else {
    findings.push({
      code: 'titanium-spot',
      level: 'note',
      message:
        'Titanium takes no coating and hangs many parts, but carries about a nineteenth of what pure aluminium of the same size does.',
      remedy: 'Brush its tips bright now and then, and size it by the current it has to carry.',
    });
  }
  return findings;
}
