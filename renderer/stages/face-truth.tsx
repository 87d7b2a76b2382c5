import { FACE_KINDS, faceId } from '../../core/faces/face-table.ts';
import type { Part } from '../../core/job/job.ts';
import { answerFacets, setFacets, setThread } from '../../core/job/edit-surface.ts';
import { sourceOf } from '../../core/mesh/mesh-triangles.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
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
          <Questions part={part} />
        </>
      )}
      <Selected part={part} />
      <Threads part={part} />
    </section>
  );
}

/** Asked one by one up to this many, then all at once or a few at a time. */
const MOST_QUESTIONS = 3;

/** Faces that could be round or have flats, both areas, and the answers given. */
function Questions({ part }: { part: Part }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const questions = useDerived((derived) => derived.measures[part.id]?.questions) ?? [];
  if (!geometry) return null;
  const { faces } = geometry;
  const text = (areaM2: number): string => formatQuantity('area', areaM2, system).text;
  const answer = (row: number, is: 'round' | 'flat'): void => {
    const source = sourceOf(geometry, faces.firstTriangle[row]!);
    editJob(store, `${faceId(row)} is ${is === 'round' ? 'round' : 'flats'}`, (job) =>
      answerFacets(job, part.id, source, is),
    );
  };
  const answerAll = (is: 'round' | 'flat'): void =>
    editJob(store, is === 'round' ? 'All are round' : 'All have flats', (job) =>
      questions.reduce((next, { row }) => {
        const source = sourceOf(geometry, faces.firstTriangle[row]!);
        return answerFacets(next, part.id, source, is);
      }, job),
    );
  return (
    <>
      {questions.length > 1 ? (
        <div className="row" role="group" aria-label="All questions at once">
          <ActionButton look="small" onPress={() => answerAll('round')}>
            All {questions.length} are round
          </ActionButton>
          <ActionButton look="small" onPress={() => answerAll('flat')}>
            All have flats
          </ActionButton>
        </div>
      ) : null}
      {questions.slice(0, MOST_QUESTIONS).map(({ row, facetCount, flatM2, roundM2, taken }) => (
        <div
          key={row}
          className="message check question-card"
          role="group"
          aria-label={`Is ${faceId(row)} round?`}
        >
          <span className="message-level">Your answer</span>
          <span>
            Is {faceId(row)} round, or does it have {facetCount} flats? The mesh looks the same. Taken as{' '}
            {taken} until you say.
          </span>
          <div className="row">
            <ActionButton look="small" onPress={() => answer(row, 'round')}>
              Round: {text(roundM2)}
            </ActionButton>
            <ActionButton look="small" onPress={() => answer(row, 'flat')}>
              Flats: {text(flatM2)}
            </ActionButton>
            <ActionButton look="small" onPress={() => store.setState({ selectedFaces: new Set([row]) })}>
              Show {faceId(row)}
            </ActionButton>
          </div>
        </div>
      ))}
      {questions.length > MOST_QUESTIONS ? (
        <p className="soft">
          and {questions.length - MOST_QUESTIONS} more faces; they follow when these are answered.
        </p>
      ) : null}
      {part.surface.facetAnswers.length > 0 ? (
        <p>
          {part.surface.facetAnswers.length === 1
            ? 'One face is as you said.'
            : `${part.surface.facetAnswers.length} faces are as you said.`}{' '}
          <ActionButton
            look="small"
            onPress={() =>
              editJob(store, 'Ask again', (job) =>
                part.surface.facetAnswers.reduce(
                  (next, { triangle }) => answerFacets(next, part.id, triangle, null),
                  job,
                ),
              )
            }
          >
            Ask again
          </ActionButton>
        </p>
      ) : null}
    </>
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
