import { questionText, rowsText, type FacetQuestion } from '../../core/job/facet-questions.ts';
import { answerFacets, askFacetsAgain } from '../../core/job/edit-surface.ts';
import type { Part } from '../../core/job/job.ts';
import { formatNumber, formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import './part-stage.css';

/** Asked one by one up to this many, then all at once or a few at a time. */
const MOST_QUESTIONS = 3;

/** Faces that could be round or have flats: both areas, what hangs on it, and the answers given. */
export function FaceQuestions({ part }: { part: Part }) {
  const { store } = useServices();
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const questions = useDerived((derived) => derived.measures[part.id]?.questions) ?? [];
  if (!geometry) return null;
  const answerAll = (is: 'round' | 'flat'): void =>
    editJob(store, is === 'round' ? 'All are round' : 'All have flats', (job) =>
      questions.reduce((next, { row }) => answerFacets(next, part.id, geometry, row, is), job),
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
      {questions.slice(0, MOST_QUESTIONS).map((question) => (
        <QuestionCard key={question.row} part={part} question={question} />
      ))}
      {questions.length > MOST_QUESTIONS ? (
        <p className="soft">
          and {questions.length - MOST_QUESTIONS} more places; they follow when these are answered.
        </p>
      ) : null}
      {part.surface.facetAnswers.length > 0 ? (
        <p>
          {part.surface.facetAnswers.length === 1
            ? 'One face is as you said.'
            : `${part.surface.facetAnswers.length} faces are as you said.`}{' '}
          <ActionButton
            look="small"
            onPress={() => editJob(store, 'Ask again', (job) => askFacetsAgain(job, part.id))}
          >
            Ask again
          </ActionButton>
        </p>
      ) : null}
    </>
  );
}

function QuestionCard({ part, question }: { part: Part; question: FacetQuestion }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const density = useApp((state) => jobOf(state).process.currentDensityAPerM2);
  const { row, rows, flatM2, roundM2, gainM2, taken } = question;
  const text = (areaM2: number): string => formatQuantity('area', areaM2, system).text;
  const answer = (is: 'round' | 'flat'): void => {
    if (!geometry) return;
    const words = rows.length === 1 ? `${rowsText(rows)} is` : `${rowsText(rows)} are`;
    editJob(store, `${words} ${is === 'round' ? 'round' : 'flats'}`, (job) =>
      answerFacets(job, part.id, geometry, row, is),
    );
  };
  const amps = formatQuantity('current', Math.abs(gainM2) * density * part.quantity, system).text;
  return (
    <div className="message check question-card" role="group" aria-label={questionText(question)}>
      <span className="message-level">Your answer</span>
      <span>
        {questionText(question)} The mesh is the same for both. Counted as{' '}
        {taken === 'round' ? 'round' : 'flat sides'} until you say.
      </span>
      <div className="row">
        <ActionButton look="small" onPress={() => answer('round')}>
          Round: {text(roundM2)}
        </ActionButton>
        <ActionButton look="small" onPress={() => answer('flat')}>
          Flat sides: {text(flatM2)}
        </ActionButton>
        <ActionButton look="small" onPress={() => store.setState({ selectedFaces: new Set(rows) })}>
          Show {rowsText(rows)}
        </ActionButton>
      </div>
      <span className="soft">
        Round is {formatNumber((100 * Math.abs(roundM2 - flatM2)) / flatM2, 2)} %{' '}
        {roundM2 >= flatM2 ? 'more' : 'less'}; with what it borders, {text(Math.abs(gainM2))}{' '}
        {gainM2 >= 0 ? 'more' : 'less'} a piece and {amps} {gainM2 >= 0 ? 'more' : 'less'}{' '}
        {part.quantity === 1 ? 'current' : `for the ${part.quantity} pieces`}.
      </span>
    </div>
  );
}
