import { useEffect } from 'react';
import { chooseTank } from '../../core/job/edit-hanging.ts';
import { sizeAsHung } from '../../core/job/hung-wires.ts';
import { usualTank } from '../../core/job/usual-tank.ts';
import type { Part } from '../../core/job/job.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { openPart } from '../state/field-store.ts';
import { useApp, useDerived, useField, useServices, useShelf } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { MessageList } from './message-list.tsx';
import { PartChooser } from './part-chooser.tsx';
import { StageHead } from './stage-head.tsx';
import { FieldStart } from './field-start.tsx';
import { FieldGroundwork } from './field-groundwork.tsx';
import { LeastThickness } from './least-thickness.tsx';
import { BoreList } from './thickness-bores.tsx';
import { ThicknessFigures } from './thickness-figures.tsx';
import { SectionView } from './thickness-section.tsx';
import { WhatIf } from './what-if.tsx';
import './thickness.css';

/** Where the coating will be thick and where thin, before the run. */
export function ThicknessStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find((candidate) => candidate.id === activeId);
  return (
    <>
      <StageHead title="Thickness map">
        Edges that face a cathode get more than deep holes do. The map shows it before the run, while it can
        still be changed.
      </StageHead>
      <PartChooser />
      {part ? <PartThickness part={part} /> : <p className="soft">Open a part first.</p>}
    </>
  );
}

function PartThickness({ part }: { part: Part }) {
  const known = useDerived((derived) => derived.field[part.id]);
  const { field } = useServices();
  const failure = useField((state) => state.failure);
  useEffect(() => openPart(field.store, part.id), [field, part.id]);
  if (part.source.kind === 'typed') {
    return (
      <MessageCard
        level="note"
        message={`“${part.name}” is only an area, so there is no shape to show the current on.`}
        remedy="Open its model, or draw its shape."
      />
    );
  }
  if (!known) return <p className="soft">The part is still being read.</p>;
  const { setting, reading, stale } = known;
  return (
    <>
      {setting.ok ? (
        <FieldStart part={part} setting={setting.value} />
      ) : setting.error.code === 'no-tank' ? (
        <NoTank part={part} />
      ) : (
        <MessageCard level="check" message={setting.error.message} remedy={setting.error.remedy} />
      )}
      {failure?.partId === part.id ? (
        <MessageCard level="check" message={failure.failure.message} remedy={failure.failure.remedy} />
      ) : null}
      {stale ? (
        <MessageCard
          level="check"
          message="The job has changed since this map was worked out."
          remedy="Work it out again before you trust it."
        />
      ) : null}
      <MessageList stage="thickness" />
      {reading ? (
        <>
          <ThicknessFigures part={part} reading={reading} />
          <LeastThickness part={part} reading={reading} />
          <SectionView />
        </>
      ) : null}
      <BoreList known={known} />
      {setting.ok ? <WhatIf part={part} known={known} /> : null}
      <FieldGroundwork setting={setting.ok ? setting.value : null} />
    </>
  );
}

/** Never a silent tank: the user takes one of the shop's, or the usual one with what it assumes. */
function NoTank({ part }: { part: Part }) {
  const { store, rackShop } = useServices();
  const shelf = useShelf(rackShop.tanks);
  const system = useApp((state) => state.unitSystem);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  if (!geometry) return null;
  const usual = usualTank(sizeAsHung(part, geometry));
  const { vessel, levelM } = usual.tank;
  if (vessel.shape !== 'box') return null;
  const size = [vessel.lengthM, vessel.widthM, levelM].map((m) => formatQuantity('length', m, system).text);
  return (
    <section className="stack" aria-label="No tank yet">
      <MessageCard
        level="check"
        message="The job has no tank yet, and where the current goes depends on its walls and cathodes."
        remedy="Set up your own tank; or take a usual one to begin with, as an assumption."
      >
        <ActionButton look="main" onPress={() => store.setState({ stage: 'tank' })}>
          Set up the tank
        </ActionButton>
      </MessageCard>
      {shelf.records.map((record) => (
        <ActionButton
          key={record.id}
          onPress={() =>
            editJob(store, `Tank ${record.name}`, (job) =>
              chooseTank(job, { shopTankId: record.id, tank: record.tank, rules: record.rules }),
            )
          }
        >
          Take “{record.name}” from the shop’s book
        </ActionButton>
      ))}
      <ActionButton onPress={() => editJob(store, 'Usual tank, assumed', (job) => chooseTank(job, usual))}>
        Take a usual tank around the part
      </ActionButton>
      <p className="soft">
        The usual one is a plain box of {size.join(' × ')} of liquid, an aluminium sheet on each long wall,{' '}
        {formatIn('length', 0.175, system === 'metric' ? 'mm' : 'in').text} from the part (150-200 mm is
        common practice). Your own tank will give another map.
      </p>
    </section>
  );
}
