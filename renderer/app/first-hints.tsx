import { ActionButton } from '../widgets/action-button.tsx';
import { isDemo, jobOf } from '../state/app-store.ts';
import { useApp, useRun, useServices } from './services.ts';

/** Three short hints at the first start, in the panel, never in the way. */
export function FirstHints() {
  const { store } = useServices();
  const seen = useApp((state) => state.hintsSeen);
  const demoOpen = useApp((state) => isDemo(jobOf(state)));
  const watchesRun = useRun(({ record }) => record !== null);
  const stage = useApp((state) => state.stage);
  if (seen || !demoOpen || (stage === 'run' && watchesRun)) return null;
  return (
    <section className="hints" aria-label="First steps">
      <strong>This is a demo part, already planned.</strong>
      <ol>
        <li>Drop your own model (STEP, STL, OBJ, PLY, 3MF) anywhere on the window.</li>
        <li>Go down the stages on the left, one decision each.</li>
        <li>Press “Working” beside a figure to see where it comes from.</li>
      </ol>
      <div>
        <ActionButton look="small" onPress={() => store.setState({ hintsSeen: true })}>
          Got it
        </ActionButton>
      </div>
    </section>
  );
}
