import { Button } from 'react-aria-components';
import { STAGES } from '../state/app-state.ts';
import { runInRail } from '../state/run-in-rail.ts';
import type { StageStanding } from '../state/stage-standing.ts';
import { stageStandings } from '../state/stage-standing.ts';
import { runStanding } from '../state/run-standing.ts';
import { useApp, useDerived, useRun, useServices, useSupplyDesk } from './services.ts';
import { STAGE_TITLES } from './stage-titles.ts';

const STANDING_WORDS: Readonly<Record<StageStanding, string>> = {
  plain: '',
  empty: 'nothing yet',
  ready: 'ready',
  look: 'look here',
  stop: 'stop',
};

/** The stages in the order of the job, each with how it stands. */
export function StageRail() {
  const { store } = useServices();
  const stage = useApp((state) => state.stage);
  const derived = useDerived((value) => value);
  const hasParts = useApp((state) => state.history.present.document.parts.length > 0);
  const hasHung = useApp((state) => state.history.present.document.placements.length > 0);
  const hasTank = useApp((state) => state.history.present.document.tank !== null);
  const running = useRun(runInRail);
  const system = useApp((state) => state.unitSystem);
  const desk = useSupplyDesk((state) => state);
  const ofRun = useRun((view) => runStanding(view, desk, system));
  const ofJob = stageStandings(derived, hasParts, hasHung);
  // The run may be of another job than the open one.
  const standings = ofRun === null ? ofJob : { ...ofJob, run: ofRun };
  return (
    <nav className="stage-rail" aria-label="Stages of the job">
      <ol>
        {STAGES.map((id, index) => (
          <li key={id}>
            <Button
              className="stage-link"
              aria-current={stage === id ? 'step' : undefined}
              onPress={() => store.setState({ stage: id, placingPin: false })}
            >
              <StageMark standing={standings[id]} number={index + 1} />
              <span className="stage-title">
                {STAGE_TITLES[id][0]}
                <span className="visually-hidden">{STAGE_TITLES[id][1]}</span>
              </span>
              <span className={`stage-state ${id === 'run' && running ? 'running' : ''}`}>
                {(id === 'run' && running) ||
                  (id === 'tank' && hasTank && standings.tank === 'empty' && hasParts
                    ? 'none hung yet'
                    : STANDING_WORDS[standings[id]])}
                {id === 'run' && running && standings.run === 'stop' ? (
                  <span className="visually-hidden">, alarm</span>
                ) : null}
              </span>
            </Button>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** Shape and colour both tell: dashed ring, full disc with tick, triangle, octagon. */
function StageMark({ standing, number }: { standing: StageStanding; number: number }) {
  const text = standing === 'ready' ? '✓' : standing === 'look' || standing === 'stop' ? '!' : String(number);
  return (
    <svg className={`stage-mark ${standing}`} viewBox="0 0 30 30" aria-hidden="true">
      {standing === 'look' ? (
        <path d="M15 3 L28 26 L2 26 Z" />
      ) : standing === 'stop' ? (
        <path d="M10 2 H20 L28 10 V20 L20 28 H10 L2 20 V10 Z" />
      ) : (
        <circle cx="15" cy="15" r="12" />
      )}
      <text x="15" y={standing === 'look' ? 23 : 20} textAnchor="middle">
        {text}
      </text>
    </svg>
  );
}
