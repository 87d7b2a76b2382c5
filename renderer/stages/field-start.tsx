import { fieldBytes } from '../../core/field/field-grid.ts';
import { changeField } from '../../core/job/edit-field.ts';
import type { FieldSetting } from '../../core/job/field-setting.ts';
import { FIELD_GRIDS, type FieldGridName } from '../../core/job/job-field.ts';
import type { Part } from '../../core/job/job.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { startField } from '../state/run-field.ts';
import type { FieldRun } from '../state/field-store.ts';
import { useApp, useDerived, useField, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { formatCount } from '../../core/units/format-count.ts';

const GRID_LABELS: Readonly<Record<FieldGridName, string>> = {
  quick: 'Quick',
  usual: 'Usual',
  fine: 'Fine',
  finest: 'Finest',
};

export const megabytes = (bytes: number): string =>
  bytes < 1e6 ? 'under 1 MB' : `${formatNumber(bytes / 1e6, 2)} MB`;

export function spokenSeconds(seconds: number): string {
  if (seconds < 1.5) return 'about a second';
  return seconds < 90 ? `about ${Math.round(seconds)} s` : `about ${Math.round(seconds / 60)} min`;
}

/** How fine, what it takes, what is assumed; the button, and the progress once it runs. */
export function FieldStart({ part, setting }: { part: Part; setting: FieldSetting }) {
  const services = useServices();
  const { store } = services;
  const grid = useApp((state) => jobOf(state).field.grid);
  const run = useField((state) => state.run);
  const perCell = useField((state) => state.secondsPerCell);
  const known = useDerived((derived) => derived.field[part.id]);
  const cells = FIELD_GRIDS[grid];
  const hasMap = known?.reading !== undefined && known.reading !== null;
  return (
    <section className="stack" aria-label="Work out the map">
      <ChoiceRow
        label="How fine the grid is"
        choices={(Object.keys(FIELD_GRIDS) as FieldGridName[]).map((id) => ({ id, label: GRID_LABELS[id] }))}
        chosen={grid}
        onChoose={(id) =>
          editJob(store, 'Grid of the map', (job) => changeField(job, { grid: id }), 'field-grid')
        }
      />
      <p className="soft">
        {formatCount(1000 * Math.round(cells / 1000))} cells: {megabytes(fieldBytes(cells))} of memory,{' '}
        {spokenSeconds(1.125 * cells * perCell + 0.5)} here.
      </p>
      <CopyChoice part={part} setting={setting} />
      {run ? (
        <RunProgress run={run} />
      ) : (
        <ActionButton
          look={hasMap && !known!.stale ? 'plain' : 'main'}
          onPress={() => void startField(services, part.id)}
        >
          {hasMap ? 'Work out the map again' : 'Work out the map'}
        </ActionButton>
      )}
      {setting.assumed.length > 0 ? (
        <ul className="plain-list soft" aria-label="Assumed">
          {setting.assumed.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}

/** Which of the copies in the tank is looked at. */
function CopyChoice({ part, setting }: { part: Part; setting: FieldSetting }) {
  const { field } = useServices();
  const chosen = useField((state) => state.copies[part.id] ?? 0);
  const { copies, parts } = setting.scene;
  const mine = copies.filter(({ part: index }) => parts[index]!.name === part.name);
  if (mine.length < 2) return null;
  return (
    <ChooseFrom
      label="Which copy in the tank"
      options={mine.map((_, i) => ({ id: String(i), label: `${i + 1} of ${mine.length}` }))}
      chosen={String(Math.min(chosen, mine.length - 1))}
      onChoose={(id) =>
        field.store.setState(({ copies: before }) => ({ copies: { ...before, [part.id]: Number(id) } }))
      }
    />
  );
}

export function RunProgress({ run }: { run: FieldRun }) {
  const { step, place } = run;
  return (
    <div className="field-run" role="group" aria-label="Progress">
      <div className="row">
        <strong className="grow">
          Working out {run.what}
          {place ? `, ${place.number} of ${place.of}` : ''}
        </strong>
        <ActionButton look="small" onPress={run.stop}>
          Stop
        </ActionButton>
      </div>
      <progress max={1} value={run.fraction} aria-label={`Working out ${run.what}`} />
      <p className="soft">
        {run.phase}
        {step && step.stage === 'solving' && step.relativeResidual < 1
          ? ` · imbalance ${step.relativeResidual.toExponential(0)} of the current, ends at 1e-6`
          : ''}
        {step ? ` · ${megabytes(step.bytes)}` : ''}
      </p>
    </div>
  );
}
