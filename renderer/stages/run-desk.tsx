import { useState } from 'react';
import { useRun } from '../app/services.ts';
import { RunBoard } from './run-board.tsx';

/** The middle of the window at the run stage. */
export function RunDesk() {
  const hasRun = useRun((view) => view.record !== null);
  const [full, setFull] = useState(false);
  return (
    <div className="desk" role="region" aria-label="The run" tabIndex={0}>
      {hasRun ? (
        <RunBoard full={full} onFull={setFull} />
      ) : (
        <div className="desk-empty">
          <h2>No run yet</h2>
          <p className="lead">
            The board shows the step you are at and its time, large enough to be read from the tank, what the
            supply says, the film so far and when the power can go off. A lost contact is called within a
            minute while it can still be saved.
          </p>
          <p className="lead">
            Make the plan into a run on the right, or practise with a supply that isn’t there.
          </p>
        </div>
      )}
    </div>
  );
}
