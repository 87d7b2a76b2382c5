import { buildUpFigures } from '../../core/finish/build-up.ts';
import { changeFinish } from '../../core/job/edit-wet.ts';
import { filmShare } from '../../core/job/film-share.ts';
import { jobBudget } from '../../core/job/finish-plan.ts';
import type { Part } from '../../core/job/job.ts';
import { filmGrowth, jobEtch, stripCount } from '../../core/job/job-growth.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** Type of film, and how much of it stands out of the metal. */
export function CoatingGrowth({ part }: { part: Part }) {
  const { store } = useServices();
  const job = useApp(jobOf);
  const { thicknessM } = job.process;
  const share = filmShare(job, part);
  const { out, into } = buildUpFigures(thicknessM * (share?.usual ?? 1), filmGrowth(job, part));
  const strips = stripCount(part);
  const budget = strips > 0 ? jobBudget(job, part) : null;
  const etch = jobEtch(job);
  return (
    <>
      <ChoiceRow
        label="Type of film"
        choices={[
          { id: 'ordinary', label: 'Ordinary (type II)' },
          { id: 'hard', label: 'Hard (type III)' },
        ]}
        chosen={job.finish.coating}
        onChoose={(coating) => editJob(store, 'Type of film', (j) => changeFinish(j, { coating }))}
      />
      <QuantityField
        label="Your own build-up, share of the film"
        kind="fraction"
        valueSi={job.finish.growthRatio}
        units={['%', '%']}
        limits={{ low: 0, high: 1 }}
        emptyMeans="the published share"
        onChange={(growthRatio) =>
          editJob(store, 'Own build-up', (j) => changeFinish(j, { growthRatio }), 'growth-ratio')
        }
      />
      <div className="figure-pair">
        <FigureView figure={out} size="small" />
        {share ? null : <FigureView figure={into} size="small" />}
      </div>
      {share ? <p className="soft">{share.source.text}: counted in every fit of this part.</p> : null}
      {etch?.ok ? (
        <>
          <FigureView figure={etch.value.removed} size="small" />
          <p className="soft">The planned etch is counted in every fit above.</p>
        </>
      ) : null}
      {budget ? (
        <>
          <FigureView figure={budget.surface} size="small" />
          <p className="soft">
            {strips === 1
              ? 'One strip and the film it took off'
              : `${strips} strips and the films they took off`}{' '}
            are counted in every fit above (Dye and seal, Strip and redo).
          </p>
        </>
      ) : null}
    </>
  );
}
