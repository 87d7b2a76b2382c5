import { useApp, useLogbook } from '../app/services.ts';
import { LearnPage } from './learn-page.tsx';
import { RunPage } from './run-page.tsx';

/** The middle of the window at the logbook: a run, two runs side by side, or what the runs teach. */
export function LogbookDesk() {
  const openId = useApp((state) => state.openRunId);
  const { page, compareId } = useLogbook((state) => state);
  return (
    <div className="desk" role="region" aria-label="Logbook page" tabIndex={0}>
      {page === 'learning' ? (
        <LearnPage />
      ) : openId ? (
        <RunPage key={`${openId} ${compareId}`} runId={openId} compareId={compareId} />
      ) : (
        <div className="desk-empty">
          <h2>Choose a run on the right</h2>
          <p className="lead">
            Its trace, plan, notes and photos open here. Write down the measured film, the colour and how it
            came out: from three measured runs on, the book says what your own shop’s charge constant is.
          </p>
        </div>
      )}
    </div>
  );
}
