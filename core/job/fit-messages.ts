import { faceId } from '../faces/face-table.ts';
import { formatIn, sayQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { coatingDoubt } from './coating-doubt.ts';
import type { FitVerdict } from './fit-verdict.ts';
import type { PartFitPlan } from './fit-plan.ts';
import type { JobMessage } from './job-messages.ts';
import type { Job } from './job.ts';

/** A type of film that the bath does not make: growth and fits would rest on the wrong share. */
export function coatingMessages(job: Job, startK: number, system: UnitSystem): JobMessage[] {
  const doubt = coatingDoubt(job, startK);
  if (!doubt) return [];
  const um = (metres: number): string => sayQuantity('length', metres, system, 'µm', 3);
  const at = formatIn('temperature', startK, system === 'us' ? '°F' : '°C').text;
  const [counted, made] =
    doubt.coating === 'hard' ? ['an ordinary film', 'a hard coat'] : ['a hard coat', 'an ordinary film'];
  return [
    {
      level: 'check',
      code: 'coating-type',
      stage: 'fits',
      message: `Fits count ${counted}, of which ${um(doubt.nowM)} stand out of each surface; at ${at} the bath makes ${made}, and ${um(doubt.thenM)} stand out.`,
      remedy: `Set the type of film to ${doubt.coating === 'hard' ? 'hard (type III)' : 'ordinary (type II)'} in Fits and masks, type the share of your own measurements, or check the bath’s temperature.`,
    },
  ];
}

/** Verdicts that say themselves what is wrong and what to do. */
const FIT_CODES = {
  'machined off': 'machined-size-off',
  'tick again': 'machined-size-unknown',
  'bare in lye': 'bare-in-strip',
} as const;

/** What stands above a card that says the rest. */
const BRIEF: Readonly<Partial<Record<FitVerdict, string>>> = {
  'machine first': 'machine it first, or mask it',
  mask: 'mask it',
  'machined off': 'machined to another size than this plan needs',
  'tick again': 'say again to which size it is machined',
  'bare in lye': 'bare in the lye of a strip',
  bare: 'to be masked',
  unread: 'its fit is not read',
};

/** Fits that the coating loses, and threads of which nobody has said what has to fit. */
export function fitMessages(job: Job, fits: Readonly<Record<string, PartFitPlan>>): JobMessage[] {
  const messages: JobMessage[] = [];
  for (const part of job.parts) {
    for (const { row, designation } of fits[part.id]?.openThreads ?? []) {
      messages.push({
        level: 'check',
        code: 'thread-without-fit',
        stage: 'fits',
        partId: part.id,
        message: `${faceId(row)} of “${part.name}” carries the thread ${designation} and is coated: the film makes it tighter, and nobody has said what has to go on it.`,
        remedy:
          'Give it its class in Fits and masks, and see whether it still goes together, or mask it there.',
      });
    }
    for (const { fit, verdict, text, rows, stripped } of fits[part.id]?.items ?? []) {
      const name = rows.length > 0 ? `${fit.label} (${rows.map(faceId).join(', ')})` : fit.label;
      const toDo =
        stripped && (verdict === 'machine first' || verdict === 'mask')
          ? 'measure it stripped'
          : BRIEF[verdict];
      const brief = `${name}: ${toDo}. Its card below says the rest.`;
      const shared = { stage: 'fits' as const, partId: part.id, brief };
      const [said, ...then] = text.split(/(?<=\.)\s/);
      if (verdict === 'machine first' || verdict === 'mask') {
        messages.push({
          ...shared,
          level: 'check',
          code: 'fit-lost',
          message: `${name}: ${said}`,
          remedy: stripped
            ? then.join(' ')
            : rows.length > 0
              ? 'Mask it, or machine it to the size the fits stage gives and say so there.'
              : 'Plug or cap it, or machine it to the size the fits stage gives and say so there.',
        });
      } else if (verdict in FIT_CODES) {
        messages.push({
          ...shared,
          level: 'check',
          code: FIT_CODES[verdict as keyof typeof FIT_CODES],
          message: `${name}: ${said}`,
          remedy: then.join(' '),
        });
      } else if (verdict === 'bare' && rows.length > 0) {
        messages.push({
          ...shared,
          level: 'check',
          code: 'bare-not-masked',
          message: `${name} is to stay bare but is not masked.`,
          remedy: 'Mask its faces in the fits stage.',
        });
      } else if (verdict === 'unread') {
        messages.push({
          ...shared,
          level: 'check',
          code: 'fit-unread',
          message: `${name}: its fit can not be checked.`,
          remedy: text,
        });
      }
    }
  }
  return messages;
}
