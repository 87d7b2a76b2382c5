import { useMemo } from 'react';
import { measurePart } from '../../core/job/measure-part.ts';
import type { Part } from '../../core/job/job.ts';
import type { Finding, PartGeometry } from '../../core/mesh/part-geometry.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { acceptTrial, leaveTrial, showTrialSide, type RepairTrial } from '../state/repair-trial.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { formatCount } from '../../core/units/format-count.ts';

/** What a repair would change, in figures and in the view, before it is done. */
export function RepairTrialCard({ part, trial }: { part: Part; trial: RepairTrial }) {
  const services = useServices();
  const { store } = services;
  const { outcome, offer, side } = trial;
  return (
    <div className="trial-card" role="group" aria-label={`${offer.label}: what it would change`}>
      {outcome ? <Changes part={part} trial={trial} /> : <p className="soft">Working out what it changes…</p>}
      {outcome ? (
        <div className="trial-side">
          <span className="soft">In the view</span>
          <ChoiceRow
            label="Shown in the view"
            choices={[
              { id: 'before', label: 'As it is' },
              { id: 'after', label: 'As it would be' },
            ]}
            chosen={side}
            onChoose={(chosen) => showTrialSide(store, chosen)}
          />
        </div>
      ) : null}
      <div className="choices">
        <ActionButton look="main" isDisabled={!outcome} onPress={() => acceptTrial(services, trial)}>
          Do it
        </ActionButton>
        <ActionButton onPress={() => leaveTrial(store)}>Leave it as it is</ActionButton>
      </div>
    </div>
  );
}

/** What there would be to say that is not said now. */
function newFindings(before: PartGeometry, after: PartGeometry): readonly Finding[] {
  const told = new Set(before.findings.map(({ code }) => code));
  return after.findings.filter(({ code }) => !told.has(code));
}

function Changes({ part, trial }: { part: Part; trial: RepairTrial }) {
  const unit = useApp((state) => (state.unitSystem === 'metric' ? 'cm²' : 'in²'));
  const before = useDerived((derived) => derived.measures[part.id]?.totalM2);
  const { outcome, from } = trial;
  const after = useMemo(
    () =>
      outcome
        ? measurePart({ ...part, surface: outcome.tried.surface }, outcome.mesh.geometry).totalM2
        : undefined,
    [part, outcome],
  );
  if (!outcome || before === undefined || after === undefined) return null;
  const { geometry, fuseFailure } = outcome.mesh;
  const { gone, come } = outcome.changed;
  if (fuseFailure) {
    return (
      <p>
        It would change nothing: {fuseFailure.message} {fuseFailure.remedy}
      </p>
    );
  }
  const area = (m2: number): string => formatIn('area', m2, unit, 6).number;
  const less = after < before;
  const by = Math.abs(after - before);
  const same = by < 1e-9 * before;
  return (
    <>
      <dl className="trial-figures">
        <dt>Area of the part</dt>
        <dd>
          {area(before)} → {area(after)} {unit}
          <br />
          <span className="soft">
            {same
              ? 'it stays'
              : `${less ? '−' : '+'}${formatIn('area', by, unit, 3).text}, ${less ? '−' : '+'}${formatIn('fraction', by / before, '%', 2).text}`}
          </span>
        </dd>
        <dt>Triangles</dt>
        <dd>
          {gone.length === 0 && come.length === 0
            ? 'none changes'
            : `${formatCount(gone.length)} changed or left out, ${formatCount(come.length)} changed or new; marked in the view, turn it to see them`}
        </dd>
        <dt>Open edges</dt>
        <dd>
          {formatCount(from.topology.openEdges)} → {formatCount(geometry.topology.openEdges)}
        </dd>
      </dl>
      {newFindings(from, geometry).map(({ code, level, message, remedy }) => (
        <MessageCard key={code} level={level} message={message} remedy={remedy} />
      ))}
    </>
  );
}
