import { hasPowerNow } from '../../core/run/power-span.ts';
import { currentStep } from '../../core/run/step-clock.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import type { AppStore } from './app-store.ts';

type Ran = Pick<RunRecord, 'plan' | 'clock' | 'practise'>;

/** Whether a run was ended before its last step with power was over: its film is too thin. */
export function endedBeforeFilm({ clock }: Ran): boolean {
  return currentStep(clock) <= clock.steps.findLastIndex(hasPowerNow);
}

/** After a run of one of several loads the next one is offered; practise uses none up, and one whose film is not done comes again. */
export function takeNextLoad(store: AppStore, run: Ran): void {
  const { load, loads } = run.plan;
  const ran = load - 1;
  if (run.practise !== null || endedBeforeFilm(run)) {
    store.setState({ nextLoad: ran });
    return;
  }
  store.setState(({ loadsRun }) => {
    const done = [...new Set([...loadsRun, ran])];
    const open = Array.from({ length: loads }, (_, i) => i).filter((i) => !done.includes(i));
    return { loadsRun: done, nextLoad: open.find((i) => i > ran) ?? open[0] ?? 0 };
  });
}
