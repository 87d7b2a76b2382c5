import { STARTS_TOO_WARM } from '../../core/job/wet-messages.ts';
import type { Derived } from './derived.ts';
import type { StageId } from './app-state.ts';

export type StageStanding = 'plain' | 'empty' | 'ready' | 'look' | 'stop';

/** How each stage stands: nothing to say, nothing yet, ready, look here, stop. */
export function stageStandings(
  derived: Derived,
  hasParts: boolean,
  hasHung: boolean,
): Record<StageId, StageStanding> {
  const standing = (stage: StageId, filled: boolean): StageStanding => {
    const levels = derived.messages
      .filter((message) => message.stage === stage)
      .map((message) => message.level);
    if (levels.includes('stop')) return 'stop';
    if (!filled) return 'empty';
    return levels.includes('check') ? 'look' : 'ready';
  };
  const planned = derived.plan?.ok === true;
  const worst = derived.messages.find(({ level }) => level !== 'note')?.level;
  const whole = !planned ? 'empty' : worst === 'stop' ? 'stop' : worst === 'check' ? 'look' : 'ready';
  const tank = standing('tank', planned && derived.tank.plan !== null);
  const current = standing('current', planned);
  const tooWarm = derived.messages.some(({ code }) => code === STARTS_TOO_WARM);
  return {
    part: standing('part', hasParts),
    faces: standing('faces', hasParts),
    hanging: standing('hanging', hasParts),
    // Nobody has looked at clearances of what does not hang yet.
    tank: tank === 'ready' && !hasHung ? 'empty' : tank,
    current: current === 'ready' && tooWarm ? 'look' : current,
    thickness: standing(
      'thickness',
      Object.values(derived.field).some(({ reading }) => reading !== null) ||
        derived.messages.some(({ stage }) => stage === 'thickness'),
    ),
    bath: standing('bath', planned),
    fits: standing('fits', hasParts),
    finish: standing('finish', hasParts),
    sheet: whole,
    run: whole,
    logbook: 'plain',
  };
}
