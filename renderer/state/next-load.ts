import type { LoadPlan } from '../../core/shop/run-record.ts';
import type { AppStore } from './app-store.ts';

/** After a run of one of several loads the next one is offered; practise uses none up. */
export function takeNextLoad(
  store: AppStore,
  { load, loads }: Pick<LoadPlan, 'load' | 'loads'>,
  isPractise: boolean,
): void {
  const ran = load - 1;
  if (isPractise) {
    store.setState({ nextLoad: ran });
    return;
  }
  store.setState(({ loadsRun }) => {
    const done = [...new Set([...loadsRun, ran])];
    const open = Array.from({ length: loads }, (_, i) => i).filter((i) => !done.includes(i));
    return { loadsRun: done, nextLoad: open.find((i) => i > ran) ?? open[0] ?? 0 };
  });
}
