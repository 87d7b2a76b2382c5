import { sealWay } from '../../core/reference/seal-ways.ts';
import { jobSeal } from '../../core/job/finish-plan.ts';
import { sealCautions } from '../../core/job/wet-steps.ts';
import { changeFinishSection } from '../../core/job/edit-wet.ts';
import { SEAL_CHOICES, type SealChoice } from '../../core/job/job-finish.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { FinishField } from './finish-field.tsx';

const title = (id: SealChoice): string => (id === 'none' ? 'Not sealed' : sealWay(id).title);

/** How the film is closed, and for how long. */
export function FinishSeal() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const { way } = job.finish.seal;
  const plan = jobSeal(job);
  const choose = (id: SealChoice): void => {
    const usual = id === 'none' ? null : sealWay(id).usualK;
    editJob(store, 'Seal', (j) =>
      changeFinishSection(j, 'seal', {
        way: id,
        ...(usual === null ? {} : { temperatureK: usual }),
      }),
    );
  };
  return (
    <>
      <ChooseFrom
        label="Way to seal"
        options={SEAL_CHOICES.map((id) => ({ id, label: title(id) }))}
        chosen={way}
        onChoose={choose}
      />
      {way === 'none' ? (
        <p className="soft">
          An open film takes up dirt and fingerprints and lets dye bleed out. Leave it open only for glue,
          paint or hard coat.
        </p>
      ) : (
        <>
          {sealCautions(job).map(({ id, text }) => (
            <p key={id} className="caution">
              {inReaderUnits(text, system)}
            </p>
          ))}
          <div className="two">
            <FinishField
              section="seal"
              field="temperatureK"
              label="Seal temperature"
              kind="temperature"
              units={['°C', '°F']}
              limits={{ low: 283.15, high: 393.15 }}
            />
            <FinishField
              section="seal"
              field="ph"
              label="pH of the seal"
              kind="count"
              units={['', '']}
              limits={{ low: 0, high: 14 }}
              emptyMeans="not measured"
            />
          </div>
        </>
      )}
      {plan && !plan.ok ? (
        <MessageCard level="check" message={plan.error.message} remedy={plan.error.remedy} />
      ) : null}
      {plan?.ok ? (
        <>
          <FigureView figure={plan.value.time} />
          <ul className="plain-list">
            {plan.value.notes.map((note) => (
              <li key={note}>{inReaderUnits(note, system)}</li>
            ))}
          </ul>
        </>
      ) : null}
    </>
  );
}
