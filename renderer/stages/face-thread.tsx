import { useState } from 'react';
import { FieldError, Input, Label, TextField } from 'react-aria-components';
import { parseThread } from '../../core/finish/parse-thread.ts';
import { threadsForCylinder } from '../../core/finish/threads-for-cylinder.ts';
import type { Part } from '../../core/job/job.ts';
import { setThread } from '../../core/job/edit-surface.ts';
import { sourceOf } from '../../core/mesh/mesh-triangles.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { faceId } from '../../core/faces/face-table.ts';
import { editJob } from '../state/app-store.ts';
import { fitFaces, markedThread, rowsOfRound } from '../state/mark-fit.ts';
import { useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { VERDICTS } from './fit-verdicts.ts';

/** Offers of threads shown as buttons; more are typed. */
const MOST_OFFERS = 4;

interface FaceThreadProps {
  readonly part: Part;
  readonly geometry: PartGeometry;
  readonly row: number;
}

/** Marks a cylinder as threaded: a thread that its diameter fits, or one typed in. */
export function FaceThread({ part, geometry, row }: FaceThreadProps) {
  const { store } = useServices();
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);
  const fits = useDerived((derived) => derived.wet.fits[part.id]);
  const fit = fits?.items.find(({ rows }) => rows.includes(row));
  const asFit = markedThread(part, geometry, [row]);
  const { faces } = geometry;
  const isInternal = faces.inward[row] === 1;
  const diameterM = 2 * faces.size[row]! * metresPerUnit(part.unit);
  const triangle = sourceOf(geometry, faces.firstTriangle[row]!);
  if (!(diameterM > 0)) return null;
  const own = part.surface.threads.find((thread) => thread.triangle === triangle);
  const mark = (designation: string): void => {
    setTyped('');
    setWrong(null);
    editJob(store, `Thread ${designation}`, (job) => setThread(job, part.id, triangle, designation));
  };
  const checkFit = (code: string): void => {
    const round = fits?.rounds.find(({ faceIds }) => faceIds.includes(faceId(row)));
    const rows = round ? rowsOfRound(round) : new Set([row]);
    fitFaces(store, part.id, rows, code, { as: 'code', text: code });
    store.setState({ stage: 'fits' });
  };
  const take = (): void => {
    const read = parseThread(typed, isInternal ? 'internal' : 'external');
    if (read.ok) mark(typed.trim());
    else setWrong(`${read.error.message} ${read.error.remedy}`);
  };
  const offers = threadsForCylinder(diameterM).slice(0, MOST_OFFERS);
  return (
    <div className="stack">
      <p>
        {own
          ? `Threaded ${own.designation}.`
          : `A thread has more surface than the plain ${isInternal ? 'hole' : 'shaft'} in the model: mark it if the real part has one.`}
      </p>
      {asFit && fit ? (
        <p className="soft">
          Its fit, {fit.fit.label}, stands in Fits and masks: {VERDICTS[fit.verdict].word}.
        </p>
      ) : null}
      {asFit && fits && !fit ? (
        <ActionButton look="small" onPress={() => checkFit(asFit)}>
          Check its fit after coating
        </ActionButton>
      ) : null}
      <div className="choices" role="group" aria-label="Threads that fit">
        {offers.map(({ designation, drawnAt }) => (
          <ActionButton
            key={designation}
            look="small"
            aria-pressed={own?.designation === designation}
            onPress={() => mark(designation)}
          >
            {designation}
            <span className="visually-hidden">, drawn at its {drawnAt} diameter</span>
          </ActionButton>
        ))}
      </div>
      <div className="row">
        <TextField
          className="field grow"
          value={typed}
          onChange={setTyped}
          isInvalid={wrong !== null}
          onKeyDown={(event) => event.key === 'Enter' && take()}
        >
          <Label>Another thread</Label>
          <Input placeholder="M6x1, 1/4-20" autoComplete="off" spellCheck="false" />
          <FieldError className="wrong">{wrong}</FieldError>
        </TextField>
        <ActionButton look="small" isDisabled={typed.trim() === ''} onPress={take}>
          Mark
        </ActionButton>
      </div>
    </div>
  );
}
