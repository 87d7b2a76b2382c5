import { useState } from 'react';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { partExtents } from '../../core/mesh/part-extents.ts';
import { sizeIsRight } from '../../core/job/edit-surface.ts';
import { MODEL_UNITS, type ModelUnit, type Part } from '../../core/job/job.ts';
import { confirmUnit, noteOnJob, removePart, renamePart, setQuantity } from '../../core/job/edit-job.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import { sourceName } from '../../core/job/part-source.ts';
import { FieldError, Input, Label, TextArea, TextField } from 'react-aria-components';
import { editJob, jobOf } from '../state/app-store.ts';
import { addDrawnPart } from '../state/new-part.ts';
import { chooseModels } from '../state/open-files.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { PartChooser } from './part-chooser.tsx';
import { PartBodies } from './part-bodies.tsx';
import { PartFindings } from './part-findings.tsx';
import { PartShape } from './part-shape.tsx';
import { NewTypedPart, PartTyped } from './part-typed.tsx';
import { MessageList } from './message-list.tsx';
import { StageHead } from './stage-head.tsx';
import './part-stage.css';
import { formatCount } from '../../core/units/format-count.ts';

const UNIT_NAMES: Readonly<Record<ModelUnit, string>> = {
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  in: 'inch',
  ft: 'foot',
};

/** Which parts are in the tank, how large they really are, and how many. */
export function PartStage() {
  const services = useServices();
  const [isTyping, setIsTyping] = useState(false);
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const active = job.parts.find((part) => part.id === activeId);
  const findings = useDerived((derived) => (activeId ? derived.measures[activeId]?.findings : undefined));
  const shownAbove = (message: JobMessage): boolean =>
    message.partId === activeId &&
    (message.code === 'suspect-unit' || (findings?.some(({ code }) => code === message.code) ?? false));
  return (
    <>
      <StageHead title="Part">
        The model gives the area, and the area gives the current. A wrong unit makes every figure wrong, so
        check the size.
      </StageHead>
      <PartChooser />
      {active ? <PartDetails key={active.id} part={active} /> : null}
      <section className="stack" aria-label="Add a part">
        <ActionButton look={active ? 'plain' : 'main'} onPress={() => void chooseModels(services)}>
          {active ? 'Add another part…' : 'Open a model…'}
        </ActionButton>
        <div className="choices">
          <ActionButton look="small" onPress={() => addDrawnPart(services)}>
            No model: draw a shape
          </ActionButton>
          <ActionButton look="small" onPress={() => setIsTyping(true)}>
            Type an area
          </ActionButton>
        </div>
        {isTyping ? <NewTypedPart onAdded={() => setIsTyping(false)} /> : null}
      </section>
      <MessageList stage="part" without={shownAbove} />
      <TextField
        className="field"
        value={job.note}
        onChange={(note) => editJob(services.store, 'Job note', (j) => noteOnJob(j, note), 'job-note')}
      >
        <Label>Note on this job (printed on the sheet)</Label>
        <TextArea rows={3} />
      </TextField>
    </>
  );
}

function PartDetails({ part }: { part: Part }) {
  const { store } = useServices();
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const change = (
    label: string,
    edit: (job: ReturnType<typeof jobOf>) => ReturnType<typeof jobOf>,
    key = '',
  ) => editJob(store, label, edit, key);
  return (
    <>
      <TextField
        className="field"
        value={part.name}
        isInvalid={part.name.trim() === ''}
        onChange={(name) =>
          name !== '' && change('Name', (job) => renamePart(job, part.id, name), `name-${part.id}`)
        }
      >
        <Label>Name</Label>
        <Input />
        <FieldError className="wrong">Type a name.</FieldError>
      </TextField>
      {part.source.kind === 'typed' ? (
        <PartTyped part={part} areaM2={part.source.areaM2} />
      ) : (
        <MeshLine part={part} />
      )}
      {part.source.kind === 'shape' ? <PartShape part={part} shape={part.source.shape} /> : null}
      {geometry?.cad && part.unitConfirmed && part.unit === 'mm' ? (
        <StatedSize part={part} geometry={geometry} />
      ) : geometry && part.source.kind === 'file' ? (
        <section className="stack" aria-label="Unit of the model">
          <h3>What is one unit in the file?</h3>
          {part.unitConfirmed ? null : (
            <MessageCard
              level="check"
              message={`The file does not say its unit; ${UNIT_NAMES[part.unit]} is a guess from the size.`}
              remedy="Measure the part or look at the drawing, then choose the line that is right."
            />
          )}
          <SizeDoubt part={part} />
          <UnitTable part={part} />
        </section>
      ) : null}
      <PartFindings part={part} />
      <PartBodies part={part} />
      <QuantityField
        label="How many of this part"
        kind="count"
        valueSi={part.quantity}
        units={['', '']}
        limits={{ low: 1, high: 10_000 }}
        wholeNumber
        onChange={(n) =>
          n !== null && change('Quantity', (job) => setQuantity(job, part.id, n), `quantity-${part.id}`)
        }
      />
      <ActionButton
        look="quiet"
        onPress={() => change(`Remove ${part.name}`, (job) => removePart(job, part.id))}
      >
        Remove this part from the job
      </ActionButton>
    </>
  );
}

function MeshLine({ part }: { part: Part }) {
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const measure = useDerived((derived) => derived.measures[part.id]);
  return (
    <div className="soft">
      {sourceName(part)}, {geometry ? `${formatCount(geometry.triangleCount)} triangles` : 'reading…'}
      {measure ? `, ${measure.faceCount} ${measure.faceCount === 1 ? 'face' : 'faces'}` : ''}
    </div>
  );
}

/** A size that is hardly the part's own, until the unit is another or the user says that it is right. */
function SizeDoubt({ part }: { part: Part }) {
  const { store } = useServices();
  const doubt = useDerived((derived) => derived.messages).find(
    ({ code, partId }) => code === 'suspect-unit' && partId === part.id,
  );
  if (!doubt) return null;
  return (
    <MessageCard level="check" message={doubt.message} remedy={doubt.remedy}>
      <ActionButton
        look="small"
        onPress={() => editJob(store, 'Size is right', (job) => sizeIsRight(job, part.id))}
      >
        The size is right
      </ActionButton>
    </MessageCard>
  );
}

/** A CAD file states its unit, and its lengths were converted by it: there is a size to compare, and no unit to choose. */
function StatedSize({ part, geometry }: { part: Part; geometry: PartGeometry }) {
  const [isWrong, setIsWrong] = useState(false);
  const extents = partExtents(geometry, part.unit);
  return (
    <section className="stack" aria-label="Unit of the model">
      <h3>Size of the part</h3>
      <p>
        {unbroken(extents.metric)}
        <br />
        <span className="soft">{unbroken(extents.us)}</span>
      </p>
      <p className="soft">
        <strong className="confirmed">✓ confirmed</strong>: the CAD file states its unit. Compare the size
        with the drawing all the same.
      </p>
      <SizeDoubt part={part} />
      {isWrong ? (
        <>
          <MessageCard
            level="check"
            message="The file’s lengths were converted to millimetres already. Another line makes every figure larger or smaller by the square of the step."
            remedy="Choose the line with the size on the drawing, or export the part again with its true unit."
          />
          <UnitTable part={part} />
        </>
      ) : (
        <ActionButton look="small" onPress={() => setIsWrong(true)}>
          The size is wrong…
        </ActionButton>
      )}
    </section>
  );
}

/** Breaks a size only after a ×, so that no number stands apart from its unit. */
const unbroken = (size: string): string => size.replaceAll(/ (?=×|[^ ×]+$)/g, '\u00a0');

function UnitTable({ part }: { part: Part }) {
  const { store } = useServices();
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const system = useApp((state) => state.unitSystem);
  if (!geometry) return null;
  // The proposed or chosen one on top: it must not have to be looked for below the fold.
  const units = [part.unit, ...MODEL_UNITS.filter((unit) => unit !== part.unit)];
  const rows = units.map((unit) => ({ unit, extents: partExtents(geometry, unit) }));
  const confirm = (unit: ModelUnit): void =>
    editJob(store, `Unit ${UNIT_NAMES[unit]}`, (job) => confirmUnit(job, part.id, unit));
  return (
    <table className="plain units">
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">The part would be</th>
          <th scope="col">
            <span className="visually-hidden">Choose</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ unit, extents }) => {
          const chosen = part.unit === unit;
          return (
            <tr key={unit} aria-current={chosen ? 'true' : undefined}>
              <th scope="row">{UNIT_NAMES[unit]}</th>
              <td>
                {unbroken(extents[system])}
                <br />
                <span className="soft">{unbroken(extents[system === 'us' ? 'metric' : 'us'])}</span>
              </td>
              <td>
                {chosen && part.unitConfirmed ? (
                  <strong className="confirmed">✓ confirmed</strong>
                ) : (
                  <ActionButton look={chosen ? 'main' : 'small'} onPress={() => confirm(unit)}>
                    {chosen ? 'Yes, this' : 'Choose'}
                    <span className="visually-hidden"> {UNIT_NAMES[unit]}</span>
                  </ActionButton>
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
