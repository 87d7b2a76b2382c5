import { supplyReach } from '../bath/supply-reach.ts';
import { checkProcess, type ProcessField } from '../electrical/check-process.ts';
import type { RunPlan } from '../electrical/plan-run.ts';
import type { Result } from '../result.ts';
import { formatIn } from '../units/format-quantity.ts';
import { mixedAlloyMessages } from './alloys-together.ts';
import { samePlace } from './same-place.ts';
import type { Job, Part } from './job.ts';
import { isColdBath } from './bath-start.ts';
import { jobVoltage } from './job-voltage.ts';
import type { PartMeasure } from './measure-part.ts';
import { smallCurrentMessages } from './small-current.ts';
import { surfaceMessages } from './surface-messages.ts';
import { wetMessages, type WetPlan } from './wet-messages.ts';

/** Something the user should see before the power goes on, and the stage where it is dealt with. */
export interface JobMessage {
  readonly level: 'note' | 'check' | 'stop';
  readonly code: string;
  readonly stage:
    'part' | 'faces' | 'hanging' | 'tank' | 'current' | 'thickness' | 'bath' | 'fits' | 'finish';
  readonly message: string;
  readonly remedy: string;
  /** One short sentence in its place where all of it stands beside, part and what to do left out. */
  readonly brief?: string;
  readonly partId?: string;
  readonly contactId?: string;
  readonly field?: ProcessField;
  /** Still being worked out: nothing to deal with, and nothing to rely on either. */
  readonly pending?: true;
}

/** Whether it belongs in the list of what is open before the power goes on, and at the head of the sheet. */
export function isOpen({ level, pending }: Pick<JobMessage, 'level' | 'pending'>): boolean {
  return level !== 'note' || pending === true;
}

/**
 * All messages of a job, most urgent first.
 * @param measures per part id; parts still being read are absent
 * @param wet what was worked out of bath and fits; without it they have nothing to say
 * @param more what hanging and tank have to say (hanging-messages.ts, tank-messages.ts)
 */
export function jobMessages(
  job: Job,
  measures: Readonly<Record<string, PartMeasure>>,
  plan: Result<RunPlan> | null,
  wet?: WetPlan,
  more: readonly JobMessage[] = [],
): JobMessage[] {
  const messages: JobMessage[] = [];
  for (const part of job.parts) {
    const measure = measures[part.id];
    if (measure) messages.push(...partMessages(part, measure), ...surfaceMessages(part, measure));
  }
  // After these: a guessed unit or a part that nothing clamps outweighs what is carried out or hangs crowded.
  messages.push(...more);
  const bath = { cold: isColdBath(job), stirred: job.bath.stirred };
  messages.push(
    ...checkProcess(job.process, bath).map((message) => ({ ...message, stage: 'current' as const })),
  );
  if (plan?.ok)
    messages.push(
      ...supplyMessages(job, plan.value),
      ...smallCurrentMessages(plan.value),
      ...voltageMessages(job),
      ...mixedAlloyMessages(job, plan.value),
    );
  if (plan && !plan.ok && plan.error.code === 'no-area') {
    messages.push({ level: 'stop', stage: 'faces', ...plan.error });
  }
  if (wet && job.parts.length > 0) messages.push(...wetMessages(job, wet));
  const rank = { stop: 0, check: 1, note: 2 };
  return messages.sort((a, b) => rank[a.level] - rank[b.level]);
}

function partMessages(part: Part, measure: PartMeasure): JobMessage[] {
  const messages: JobMessage[] = [];
  const partId = part.id;
  if (!part.unitConfirmed) {
    messages.push({
      level: 'check',
      code: 'unit-unconfirmed',
      stage: 'part',
      partId,
      message: `The unit of “${part.name}” is a guess (${part.unit}).`,
      remedy: 'Confirm the unit by the part’s size; until then every figure that rests on it is marked.',
    });
  }
  for (const finding of measure.findings) {
    const { level, code, message, remedy } = finding;
    messages.push({ level, code, message, remedy, stage: 'part', partId });
  }
  if (part.source.kind === 'typed') {
    // There is no surface to set a pin on.
    messages.push({
      level: 'note',
      code: 'contact-not-judged',
      stage: 'hanging',
      partId,
      message: `Of “${part.name}” only the area is known, so its clamping points are not judged.`,
      remedy: 'Clamp it at two points of bright metal, tight, and pull at it before the power goes on.',
    });
  } else if (part.contacts.length === 0 && measure.coatedM2 > 0) {
    messages.push({
      level: 'check',
      code: 'no-contact',
      stage: 'hanging',
      partId,
      message: `“${part.name}” has no clamping point, so no current would reach it.`,
      remedy: 'Set a pin where the hanger clamps; its patch is taken off the coated area.',
    });
  }
  messages.push(...twiceMessages(part));
  part.contacts.forEach(({ id: contactId }, index) => {
    const pin = `Pin ${index + 1}`;
    const base = { stage: 'hanging', partId, contactId } as const;
    const contact = measure.contacts.find((candidate) => candidate.contactId === contactId);
    if (!contact) {
      messages.push({
        ...base,
        level: 'stop',
        code: 'pin-off-part',
        message: `${pin} of “${part.name}” does not lie on the part.`,
        remedy: 'Remove it and set it again.',
      });
      return;
    }
    if (contact.showM2 > 0) {
      messages.push({
        ...base,
        level: 'check',
        code: 'pin-on-show-face',
        message: `${pin} of “${part.name}” clamps a show face and leaves a bare mark there.`,
        remedy: 'Move the pin out of sight, or take the show mark off that face.',
      });
    }
    if (contact.maskedM2 > 0.5 * contact.patchM2) {
      messages.push({
        ...base,
        level: 'check',
        code: 'pin-on-masked-face',
        message: `${pin} of “${part.name}” clamps a masked face: tape or lacquer under the clamp passes no current.`,
        remedy: 'Move the pin to bare metal, or set that face to bare contact.',
      });
    }
  });
  return messages;
}

/** Pins that sit on the spot of an earlier one: they carry no more current than one does, and hold no better. */
function twiceMessages(part: Part): JobMessage[] {
  return part.contacts.flatMap((contact, index): JobMessage[] => {
    const earlier = part.contacts.findIndex((other) => samePlace(part, other, contact));
    if (earlier === index) return [];
    return [
      {
        level: 'check',
        code: 'pin-twice',
        stage: 'hanging',
        partId: part.id,
        contactId: contact.id,
        message: `Pins ${earlier + 1} and ${index + 1} of “${part.name}” sit on the same spot: that is one contact, not two.`,
        remedy: 'Remove one of them, or move it to where it helps.',
      },
    ];
  });
}

function voltageMessages(job: Job): JobMessage[] {
  const limitV = job.process.supplyVoltageLimitV;
  const voltage = jobVoltage(job);
  if (limitV === null || !voltage.ok) return [];
  const { verdict, message, remedy } = supplyReach(voltage.value.end, limitV);
  if (verdict === 'reaches') return [];
  const level = verdict === 'does not reach' ? 'stop' : 'check';
  return [{ level, code: 'supply-voltage', stage: 'current', field: 'supplyVoltageLimitV', message, remedy }];
}

function supplyMessages(job: Job, plan: RunPlan): JobMessage[] {
  const limitA = job.process.supplyCurrentLimitA;
  const need = formatIn('current', plan.currentA.valueSi, 'A').text;
  if (limitA === null) {
    return [
      {
        level: 'check',
        code: 'supply-unknown',
        stage: 'current',
        message: `No supply is given, so nothing says that one can hold ${formatIn('current', plan.loadCurrentA.valueSi, 'A').text}${plan.loads.length > 1 ? ' for the largest load' : ''}.`,
        remedy: 'Type the most current your supply gives, or choose it from the shop’s book.',
      },
    ];
  }
  if (plan.options.length === 0) return [];
  const limit = formatIn('current', limitA, 'A').text;
  if (plan.supplyHolds) {
    const count = plan.loads.length;
    const byTank = plan.loadsBySupply !== null && count > plan.loadsBySupply;
    const fewer = plan.options.some(({ loads }) => loads < count);
    return [
      {
        level: 'note',
        code: 'several-loads',
        stage: 'current',
        message: byTank
          ? `All pieces at once take ${need}; the supply gives ${limit} and could do with ${plan.loadsBySupply} loads, but the tank has room for so many only in ${count}.`
          : `All pieces at once take ${need}; the supply gives ${limit}, so they go in ${count} loads.`,
        remedy: `Take the loads as planned${fewer ? ', or a lower density from the table for fewer of them' : ''}${byTank ? '; the stage Tank says what limits each' : ''}.`,
      },
    ];
  }
  return [
    {
      level: 'stop',
      code: 'supply-too-small',
      stage: 'current',
      message: `One piece alone takes more than the supply’s ${limit} at this density.`,
      remedy: 'Take a lower density from the table, or a larger supply.',
    },
  ];
}
