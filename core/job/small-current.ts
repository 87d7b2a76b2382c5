import type { RunPlan } from '../electrical/plan-run.ts';
import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { JobMessage } from './job-messages.ts';

/** What a workshop's supply shows and sets its current in: two digits after the point (common practice). */
const STEP_A = 0.01;
/** One step of the current is as much of the film; the 720 rule itself holds to a tenth (charge-constant.ts). */
const MOST_SHARE = 0.1;

/** A load whose current no usual supply sets with any certainty: too much burns it, too little leaves it thin. */
export function smallCurrentMessages({ loads }: Pick<RunPlan, 'loads'>): JobMessage[] {
  const least = Math.min(...loads.map(({ currentA }) => currentA));
  if (!(least > 0 && least < STEP_A / MOST_SHARE)) return [];
  const current = formatIn('current', least, 'A').text;
  const share = STEP_A / least;
  const step = share >= 1 ? 'more than all of it' : `${formatNumber(100 * share, 2)} % of it`;
  return [
    {
      level: 'check',
      code: 'current-small',
      stage: 'current',
      message: `${current} is less than a supply can be trusted with: most show and set steps of 0.01 A, and one is ${step}. The film comes out as far off as the current.`,
      remedy:
        'Hang more pieces at once, or plan a scrap of the same alloy along as a part of this job: type its area. Or use a supply and a meter made for milliamps.',
    },
  ];
}
