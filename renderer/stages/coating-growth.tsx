import { buildUpFigures } from '../../core/finish/build-up.ts';
import { changeFinish } from '../../core/job/edit-wet.ts';
import { filmGrowth, jobEtch } from '../../core/job/job-growth.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** Type of film, and how much of it stands out of the metal. */
export function CoatingGrowth() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const { out, into } = buildUpFigures(job.process.thicknessM, filmGrowth(job));
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
        <FigureView figure={into} size="small" />
      </div>
      {etch?.ok ? (
        <>
          <FigureView figure={etch.value.removed} size="small" />
          <p className="soft">The planned etch is counted in every fit above.</p>
        </>
      ) : null}
    </>
  );
}
