import type { Derived } from './derived.ts';
import type { StageId } from './app-state.ts';

export type StageStanding = 'empty' | 'ready' | 'look' | 'stop';

/** How each stage stands: nothing yet, ready, look here, stop. */
export function stageStandings(derived: Derived, hasParts: boolean): Record<StageId, StageStanding> {
  const standing = (stage: StageId, filled: boolean): StageStanding => {
    const levels = derived.messages
      .filter((message) => message.stage === stage)
      .map((message) => message.level);
    if (levels.includes('stop')) return 'stop';
    if (!filled) return 'empty';
    return levels.includes('check') ? 'look' : 'ready';
  };
  const planned = derived.plan?.ok === true;
  const anyStop = derived.messages.some((message) => message.level === 'stop');
  return {
    part: standing('part', hasParts),
    faces: standing('faces', hasParts),
    hanging: standing('hanging', hasParts),
    tank: standing('tank', planned && derived.tank.plan !== null),
    current: standing('current', planned),
    thickness: standing(
      'thickness',
      Object.values(derived.field).some(({ reading }) => reading !== null),
    ),
    bath: standing('bath', planned),
    fits: standing('fits', hasParts),
    finish: standing('finish', hasParts),
    sheet: !planned ? 'empty' : anyStop ? 'stop' : 'ready',
    run: !planned ? 'empty' : anyStop ? 'stop' : 'ready',
    logbook: 'ready',
  };
}
