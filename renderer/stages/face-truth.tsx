import { FACE_KINDS, faceId } from '../../core/faces/face-table.ts';
import type { Part } from '../../core/job/job.ts';
import { setFacets, setThread } from '../../core/job/edit-surface.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { FaceQuestions } from './face-questions.tsx';
import { FaceThread } from './face-thread.tsx';
import './part-stage.css';

/** Round faces as they are meant: what the facets cut short, questions the mesh leaves open, threads. */
export function FaceTruth({ part }: { part: Part }) {
  const { store } = useServices();
  const isCad = useApp((state) => state.meshes[part.id]?.geometry.cad !== undefined);
  return (
    <section className="stack" aria-label="Round faces and threads">
      <h3>Round faces and threads</h3>
      {isCad ? null : (
        <>
          <ChoiceRow
            label="Area of round faces"
            choices={[
              { id: 'true', label: 'True surface' },
              { id: 'as meshed', label: 'As meshed' },
            ]}
            chosen={part.surface.facets}
            onChoose={(facets) =>
              editJob(store, facets === 'true' ? 'True surface' : 'As meshed', (job) =>
                setFacets(job, part.id, facets),
              )
            }
          />
          <p className="soft">
            The facets of a round face lie inside it; from their turns the true area is worked out, with the
            range it lies in.
          </p>
          <FaceQuestions part={part} />
        </>
      )}
      <Selected part={part} />
      <Threads part={part} />
    </section>
  );
}

const SIZE_WORDS = { cylinder: 'diameter', sphere: 'diameter', torus: 'pipe’s diameter' } as const;

/** The one selected face: kind and size, both areas, the range, and its thread. */
function Selected({ part }: { part: Part }) {
  const system = useApp((state) => state.unitSystem);
  const selected = useApp((state) => state.selectedFaces);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const measure = useDerived((derived) => derived.measures[part.id]);
  const [row] = selected;
  if (!geometry || !measure || row === undefined || selected.size !== 1 || row >= measure.faceCount) {
    return <p className="soft">Select one face to see its areas, and to mark a cylinder as threaded.</p>;
  }
  const { faces } = geometry;
  const kind = FACE_KINDS[faces.kind[row]!]!;
  const size = faces.size[row]! * metresPerUnit(part.unit);
  const text = (areaM2: number): string => formatQuantity('area', areaM2, system).text;
  const [low, high] = [measure.lowOfFaceM2[row]!, measure.highOfFaceM2[row]!];
  const sizeText =
    kind === 'cylinder' || kind === 'sphere' || kind === 'torus'
      ? `${SIZE_WORDS[kind]} ${formatQuantity('length', 2 * size, system).text}`
      : kind === 'cone'
        ? `half angle ${formatQuantity('angle', faces.size[row]!, system).text}`
        : '';
  return (
    <>
      <table className="plain tight">
        <caption className="visually-hidden">Areas of face {faceId(row)}</caption>
        <tbody>
          <tr>
            <th scope="row">{faceId(row)}</th>
            <td>
              {kind}
              {sizeText ? `, ${sizeText}` : ''}
            </td>
          </tr>
          <tr>
            <th scope="row">{geometry.cad ? 'Exact' : 'As meshed'}</th>
            <td>{text(measure.meshOfFaceM2[row]!)}</td>
          </tr>
          <tr>
            <th scope="row">Counted</th>
            <td className="strong">{text(measure.areaOfFaceM2[row]!)}</td>
          </tr>
          {high - low > 1e-9 * high ? (
            <tr>
              <th scope="row">Range</th>
              <td>
                {text(low)} to {text(high)}
              </td>
            </tr>
          ) : null}
        </tbody>
      </table>
      {kind === 'cylinder' ? (
        <FaceThread key={`${row}-${faces.firstTriangle[row]}`} part={part} geometry={geometry} row={row} />
      ) : null}
    </>
  );
}

function Threads({ part }: { part: Part }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const threads = useDerived((derived) => derived.measures[part.id]?.threads) ?? [];
  if (threads.length === 0) return null;
  return (
    <ul className="repair-list" aria-label="Threads">
      {threads.map(({ row, triangle, designation, area }) => (
        <li key={triangle} className="row">
          <span className="grow">
            <strong>{row === undefined ? 'face gone' : faceId(row)}</strong> {designation}
            <br />
            <span className="soft">
              {area?.ok
                ? `${formatQuantity('area', area.value.area.valueSi, system).text}, ${area.value.factor.toFixed(2)} times the plain cylinder`
                : (area?.error.message ?? 'Its face is not there any more.')}
            </span>
          </span>
          <ActionButton
            look="small"
            aria-label={`Take the thread ${designation} off`}
            onPress={() =>
              editJob(store, `No thread ${designation}`, (job) => setThread(job, part.id, triangle, null))
            }
          >
            Take off
          </ActionButton>
        </li>
      ))}
    </ul>
  );
}
