import { formatIn, formatQuantity, sayQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { PocketFigures } from '../racking/hanging-figures.ts';
import { closedOffMessages } from './closed-off.ts';
import type { PartHangingPlan } from './hanging-plan.ts';
import type { JobMessage } from './job-messages.ts';
import type { Part } from './job.ts';
import { liftMessage } from './part-lift.ts';

/** Gas over less than this share of the coated surface is dimples between facets. */
const GAS_SHARE = 1e-3;
const LIQUID_SHARE = 5e-3;
/** Beyond this the part does not hang as its traps were judged. */
const TILT_RAD = (10 * Math.PI) / 180;

/** What the hanging of one part has to say before the power goes on. */
export function hangingMessages(part: Part, plan: PartHangingPlan, system: UnitSystem): JobMessage[] {
  const base = { stage: 'hanging', partId: part.id } as const;
  const messages: JobMessage[] = [];
  const name = `“${part.name}”`;
  if (plan.traps && plan.gasShare > GAS_SHARE) {
    const volume = sayQuantity('volume', plan.traps.gasVolumeM3.valueSi, system, 'in³', 2);
    const share = (100 * plan.gasShare).toPrecision(2);
    messages.push({
      ...base,
      level: 'check',
      code: 'gas-stays',
      message: `${name} keeps ${volume} of gas as it hangs, ${pocketsText(plan.traps.gas, system)}; ${share} % of its coated surface stays bare.`,
      remedy: 'Choose an attitude that lets the gas out, or fill the pocket with liquid before it goes in.',
    });
  }
  if (plan.traps && plan.liquidShare > LIQUID_SHARE) {
    const volume = sayQuantity('volume', plan.traps.liquidVolumeM3.valueSi, system, 'in³', 2);
    messages.push({
      ...base,
      level: 'check',
      code: 'liquid-carried',
      message: `${name} carries out ${volume} of liquid as it hangs, ${pocketsText(plan.traps.liquid, system)}: acid for the rinse and the dye.`,
      remedy: 'Choose an attitude that drains, or tip it out over the tank and rinse the hollow on its own.',
    });
  }
  messages.push(...closedOffMessages(part, plan.closedOff, plan.closedOffShare, system));
  if (plan.shutCount > 0) {
    messages.push({
      ...base,
      level: 'check',
      code: 'hollow-shut',
      message: `${name} has ${plan.shutCount === 1 ? 'a hollow' : `${plan.shutCount} hollows`} below the level with the rim above it: no acid runs in, yet the walls below the level count as coated.`,
      remedy: 'Hang it deeper, turn it, mask those faces, or fill the hollow with acid as it goes in.',
    });
  }
  const lift = liftMessage(name, plan.lift);
  if (lift) messages.push({ ...base, ...lift });
  if (plan.rest?.ok && plan.rest.value.tiltRad > TILT_RAD) {
    const degrees = Math.round((plan.rest.value.tiltRad * 180) / Math.PI);
    messages.push({
      ...base,
      level: 'check',
      code: 'tilts',
      message: `On its hangers ${name} comes to rest ${degrees}° from the attitude you chose.`,
      remedy: 'Move the pins above the centre of gravity, or take the attitude it comes to rest in.',
    });
  } else if (plan.rest && !plan.rest.ok) {
    messages.push({ ...base, level: 'check', ...plan.rest.error });
  }
  plan.contacts.forEach(({ contactId, check, spot }, index) => {
    const pin = `Pin ${index + 1}`;
    for (const finding of check.findings) {
      if (finding.level === 'note') continue;
      const { level, code, message, remedy } = finding;
      messages.push({ ...base, contactId, level, code, message: `${pin}: ${message}`, remedy });
    }
    const { hanger } = part.contacts[index]!;
    if (hanger.usedBefore && check.reuse === 'once') {
      messages.push({
        ...base,
        contactId,
        level: 'check',
        code: 'old-contact',
        message: `${pin}: this aluminium wire was coated in an earlier run, and the oxide on it insulates.`,
        remedy: 'Cut or file its end to bright metal, or take new wire or titanium.',
      });
    }
    if (spot.verdict === 'softens' || spot.verdict === 'melts') {
      messages.push({
        ...base,
        contactId,
        level: 'stop',
        code: 'contact-hot',
        message: `${pin}: at ${formatIn('current', check.dropV.inputs[0]!.valueSi, 'A', 2).text} the spot under the clamp ${spot.verdict === 'melts' ? 'melts' : 'softens'} and lets go.`,
        remedy: `Clamp with ${formatQuantity('force', spot.wantedForceN.valueSi, system, 2).text} or more, or use more contacts.`,
      });
    }
  });
  return messages;
}

/** "in one pocket 30 mm deep", "in 3 pockets, the largest of 5.2 mL and 30 mm deep": to be found in the picture. */
function pocketsText(pockets: readonly PocketFigures[], system: UnitSystem): string {
  const depth = (pocket: PocketFigures): string =>
    `${formatQuantity('length', pocket.depthM.valueSi, system, 2).text} deep`;
  const [first, second] = [...pockets].sort((a, b) => b.volumeM3.valueSi - a.volumeM3.valueSi);
  if (!first) return '';
  if (!second) return `in one pocket ${depth(first)}`;
  const volume = sayQuantity('volume', first.volumeM3.valueSi, system, 'in³', 2);
  return `in ${pockets.length} pockets, the largest of ${volume} and ${depth(first)}`;
}
