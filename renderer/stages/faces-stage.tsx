import { useState } from 'react';
import { GridList, GridListItem, ListLayout, Virtualizer, type Selection } from 'react-aria-components';
import { FACE_KINDS, faceId } from '../../core/faces/face-table.ts';
import type { Part } from '../../core/job/job.ts';
import { setSplitAngle } from '../../core/job/edit-job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { paintFaces, selectAlike, selectGrown, selectNone, type Paint } from '../state/paint-faces.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { TreatmentSwatch } from '../viewport/treatment-swatch.tsx';
import { FaceTruth } from './face-truth.tsx';
import { MessageList } from './message-list.tsx';
import { PartChooser } from './part-chooser.tsx';
import { StageHead } from './stage-head.tsx';
import { formatCount } from '../../core/units/format-count.ts';

const KIND_WORDS = {
  plane: 'flat',
  cylinder: 'round',
  cone: 'cone',
  sphere: 'ball',
  torus: 'ring',
  free: 'free form',
};

const PAINTS: readonly { paint: Paint; label: string; key: string }[] = [
  { paint: 'coat', label: 'Coat', key: 'C' },
  { paint: 'mask', label: 'Mask', key: 'M' },
  { paint: 'contact', label: 'Bare contact', key: 'B' },
];

/** What happens to each face: coated, masked, or bare for a contact; and which ones will be seen. */
export function FacesStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find((candidate) => candidate.id === activeId);
  return (
    <>
      <StageHead title="Faces">
        Only coated area takes current. Click a face on the part, then say whether it is coated, masked or
        bare.
      </StageHead>
      <PartChooser />
      {part?.source.kind === 'typed' ? (
        <p className="soft">The area of this part was typed in: it has no faces to choose.</p>
      ) : part ? (
        <FaceTools part={part} />
      ) : (
        <p className="soft">Open a part first.</p>
      )}
      <MessageList stage="faces" />
    </>
  );
}

function FaceTools({ part }: { part: Part }) {
  const { store } = useServices();
  const mesh = useApp((state) => state.meshes[part.id]);
  const selected = useApp((state) => state.selectedFaces);
  const measure = useDerived((derived) => derived.measures[part.id]);
  const system = useApp((state) => state.unitSystem);
  if (!mesh || !measure) return <p className="soft">The part is still being read.</p>;
  const standsOut = measure.aboveM2 > 0;
  const areas = standsOut ? measure.wettedOfFaceM2 : measure.areaOfFaceM2;
  const selectedM2 = [...selected].reduce((sum, row) => sum + (areas[row] ?? 0), 0);
  const none = selected.size === 0;
  return (
    <>
      <section className="stack" aria-label="Selection">
        <h3>
          {none
            ? 'No face selected'
            : `${selected.size === 1 ? `Face ${faceId([...selected][0]!)}` : `${selected.size} faces`}: ${formatQuantity('area', selectedM2, system).text}${standsOut ? ' in the bath' : ''}`}
        </h3>
        <div className="choices">
          {PAINTS.map(({ paint, label, key }) => (
            <ActionButton
              key={paint}
              isDisabled={none}
              aria-keyshortcuts={key}
              onPress={() => paintFaces(store, paint)}
            >
              <TreatmentSwatch treatment={paint} /> {label}
            </ActionButton>
          ))}
          <ActionButton isDisabled={none} aria-keyshortcuts="S" onPress={() => paintFaces(store, 'show')}>
            <TreatmentSwatch treatment="show" /> Show face
          </ActionButton>
        </div>
        <div className="choices">
          <ActionButton look="small" isDisabled={none} onPress={() => selectGrown(store)}>
            Grow over smooth edges
          </ActionButton>
          <ActionButton look="small" isDisabled={none} onPress={() => selectAlike(store)}>
            Add all of the same shape
          </ActionButton>
          <ActionButton look="small" isDisabled={none} onPress={() => selectNone(store)}>
            Select none
          </ActionButton>
        </div>
        <p className="soft">
          On the part: click selects, Shift + click adds, Alt + click takes away. Keys: C coat, M mask, B
          bare, S show.
        </p>
      </section>
      <AreaTable part={part} />
      <FaceTruth part={part} />
      <FaceList part={part} />
      <SplitAngle part={part} />
    </>
  );
}

function SplitAngle({ part }: { part: Part }) {
  const { store } = useServices();
  const isCad = useApp((state) => state.meshes[part.id]?.geometry.cad !== undefined);
  if (isCad) {
    return (
      <p className="soft">
        The faces and their areas are the CAD program’s own; the triangles only draw them.
      </p>
    );
  }
  return (
    <QuantityField
      label="A new face begins where the surface turns by more than"
      kind="angle"
      valueSi={part.splitAngleRad}
      units={['°', '°']}
      limits={{ low: Math.PI / 180, high: (120 * Math.PI) / 180 }}
      onChange={(angle) =>
        angle !== null &&
        editJob(store, 'Face angle', (job) => setSplitAngle(job, part.id, angle), `angle-${part.id}`)
      }
    />
  );
}

function AreaTable({ part }: { part: Part }) {
  const measure = useDerived((derived) => derived.measures[part.id]);
  if (!measure) return null;
  const columns = [
    { label: 'Coated', m2: measure.coatedM2 },
    { label: 'Masked', m2: measure.maskedM2 },
    { label: 'Bare', m2: measure.contactM2 },
    { label: 'Whole', m2: measure.totalM2 },
  ];
  const units = ['cm²', 'dm²', 'in²', 'ft²'];
  return (
    <section className="stack" aria-label="Areas">
      <h3>
        Area of one piece{' '}
        {measure.unconfirmed ? <span className="unconfirmed">{measure.unconfirmed}</span> : null}
      </h3>
      <table className="plain tight">
        <thead>
          <tr>
            <th scope="col">Unit</th>
            {columns.map(({ label }) => (
              <th key={label} scope="col">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {units.map((unit) => (
            <tr key={unit}>
              <th scope="row">{unit}</th>
              {columns.map(({ label, m2 }) => (
                <td key={label} className={label === 'Coated' ? 'strong' : undefined}>
                  {formatIn('area', m2, unit, 4).number}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <AreaNote measure={measure} />
    </section>
  );
}

/** How the whole comes about, in words and with its range. */
function AreaNote({ measure }: { measure: PartMeasure }) {
  const system = useApp((state) => state.unitSystem);
  const text = (areaM2: number): string => formatQuantity('area', areaM2, system).text;
  const { totalM2, totalLowM2, totalHighM2, meshM2, sealedM2, aboveM2 } = measure;
  const isRanged = totalHighM2 - totalLowM2 > 1e-9 * totalM2;
  return (
    <p className="soft">
      {isRanged && text(totalLowM2) !== text(totalHighM2)
        ? `Whole between ${text(totalLowM2)} and ${text(totalHighM2)}. `
        : ''}
      {Math.abs(meshM2 - totalM2) > 1e-6 * meshM2 ? `All triangles as meshed: ${text(meshM2)}. ` : ''}
      {sealedM2 > 0 ? `${text(sealedM2)} of sealed voids left out. ` : ''}
      {aboveM2 > 0 ? `${text(aboveM2)} above the level left out. ` : ''}
      Patches under the pins count as bare contact.
    </p>
  );
}

/** What counts, and under it the whole of a face that stands out of the bath, or what the triangles alone would give. */
function FaceArea({ measure, row, system }: { measure: PartMeasure; row: number; system: UnitSystem }) {
  const [best, mesh] = [measure.areaOfFaceM2[row]!, measure.meshOfFaceM2[row]!];
  const wetted = measure.wettedOfFaceM2[row]!;
  if (measure.aboveM2 > 0 && wetted < best * (1 - 1e-9)) {
    return (
      <span className="face-area">
        {wetted > 0 ? formatQuantity('area', wetted, system).text : 'above the level'}
        <span className="soft">of {formatQuantity('area', best, system).number}</span>
      </span>
    );
  }
  const [counted, meshed] = [formatQuantity('area', best, system), formatQuantity('area', mesh, system)];
  return (
    <span className="face-area">
      {counted.text}
      {meshed.number === counted.number ? null : <span className="soft">mesh {meshed.number}</span>}
    </span>
  );
}

const ORDERS = [
  { id: 'number', label: 'By number' },
  { id: 'area', label: 'Largest first' },
] as const;

/** Room for two lines, see .face-list in part-stage.css. */
const FACE_ROW_PX = 56;

function FaceList({ part }: { part: Part }) {
  const { store } = useServices();
  const mesh = useApp((state) => state.meshes[part.id]);
  const measure = useDerived((derived) => derived.measures[part.id]);
  const selected = useApp((state) => state.selectedFaces);
  const system = useApp((state) => state.unitSystem);
  const [order, setOrder] = useState<'number' | 'area'>('number');
  if (!mesh || !measure) return null;
  const { faces } = mesh.geometry;
  const rows = Array.from({ length: faces.count }, (_, row) => row);
  if (order === 'area') rows.sort((a, b) => measure.areaOfFaceM2[b]! - measure.areaOfFaceM2[a]!);
  const items = rows.map((row) => ({ id: faceId(row), row }));
  const choose = (keys: Selection): void => {
    const next = keys === 'all' ? rows : [...keys].map((key) => Number(String(key).slice(1)) - 1);
    store.setState({ selectedFaces: new Set(next) });
  };
  return (
    <section className="stack" aria-label="List of faces">
      <h3>All {formatCount(faces.count)} faces</h3>
      <ChoiceRow label="Order of the faces" choices={ORDERS} chosen={order} onChoose={setOrder} />
      <Virtualizer layout={ListLayout} layoutOptions={{ rowHeight: FACE_ROW_PX }}>
        <GridList
          aria-label="Faces"
          className="list face-list"
          items={items}
          selectionMode="multiple"
          selectedKeys={[...selected].map(faceId)}
          onSelectionChange={choose}
          dependencies={[measure, selected, system]}
        >
          {({ id, row }) => {
            const treatment = measure.treatmentOfFace[row]!;
            const kind = FACE_KINDS[faces.kind[row]!]!;
            return (
              <GridListItem id={id} textValue={`${id} ${KIND_WORDS[kind]} ${treatment}`} className="item">
                <TreatmentSwatch treatment={treatment} />
                <strong>{id}</strong>
                <span className="grow soft">
                  {KIND_WORDS[kind]}
                  {treatment === 'coat' ? '' : `, ${treatment === 'contact' ? 'bare' : treatment}`}
                  {measure.showOfFace[row] ? ', show' : ''}
                </span>
                <FaceArea measure={measure} row={row} system={system} />
              </GridListItem>
            );
          }}
        </GridList>
      </Virtualizer>
    </section>
  );
}
