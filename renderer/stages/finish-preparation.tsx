import { PREPARATION } from '../../core/reference/preparation.ts';
import { jobBudget } from '../../core/job/finish-plan.ts';
import { changeFinish, changeFinishSection } from '../../core/job/edit-wet.ts';
import type { Part } from '../../core/job/job.ts';
import { jobEtch } from '../../core/job/job-growth.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { CheckBox } from '../widgets/check-box.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { FinishField } from './finish-field.tsx';

/** From the workshop to the tank: clean, etch, desmut, and what it takes off the metal. */
export function FinishPreparation({ part }: { part: Part | undefined }) {
  const { store } = useServices();
  const job = useApp(jobOf);
  const { finish } = job;
  const etch = jobEtch(job);
  const budget = jobBudget(job, part);
  return (
    <>
      <CheckBox
        isOn={finish.etch.use}
        onChange={(use) => editJob(store, 'Etch', (j) => changeFinishSection(j, 'etch', { use }))}
      >
        Etch in lye
      </CheckBox>
      {finish.etch.use ? (
        <>
          <p className="caution">
            <strong>Lye</strong> blinds and burns, heats up as it dissolves and makes hydrogen on aluminium:
            lye into cold water, eyes covered, ventilate.
          </p>
          <div className="two">
            <FinishField
              section="etch"
              field="lyeKgPerM3"
              label="Lye (caustic soda)"
              kind="massConcentration"
              units={['g/L', 'oz/US gal']}
              limits={{ low: 10, high: 150 }}
            />
            <FinishField
              section="etch"
              field="temperatureK"
              label="Etch temperature"
              kind="temperature"
              units={['°C', '°F']}
              limits={{ low: 283.15, high: 358.15 }}
            />
            <FinishField
              section="etch"
              field="timeS"
              label="Time in the etch"
              kind="time"
              units={['min', 'min']}
              limits={{ low: 0, high: 3600 }}
            />
          </div>
          {etch && !etch.ok ? (
            <MessageCard level="check" message={etch.error.message} remedy={etch.error.remedy} />
          ) : null}
          {etch?.ok ? (
            <div className="figure-pair">
              <FigureView figure={etch.value.removed} size="small" />
              <FigureView figure={etch.value.rate} size="small" />
            </div>
          ) : null}
          <CheckBox
            isOn={finish.desmut}
            onChange={(desmut) => editJob(store, 'Desmut', (j) => changeFinish(j, { desmut }))}
          >
            Desmut after the etch
          </CheckBox>
          {finish.desmut ? (
            <p className="caution">
              <strong>Desmutting acids</strong> give poisonous fumes: moving air, and never mixed with lye.
            </p>
          ) : null}
        </>
      ) : null}
      <h4>Water-break test</h4>
      <ChoiceRow
        label="Water-break test"
        choices={[
          { id: 'held', label: 'Held a minute' },
          { id: 'broke', label: 'Beaded' },
          { id: 'open', label: 'Not done yet' },
        ]}
        chosen={finish.waterBreakHeld === null ? 'open' : finish.waterBreakHeld ? 'held' : 'broke'}
        onChoose={(id) =>
          editJob(store, 'Water-break test', (j) =>
            changeFinish(j, { waterBreakHeld: id === 'open' ? null : id === 'held' }),
          )
        }
      />
      {finish.waterBreakHeld === false ? (
        <MessageCard
          level="check"
          message="Water that beads means grease, and the film comes out blotchy there."
          remedy="Degrease again until the water holds a minute."
        />
      ) : null}
      {budget ? (
        <>
          <h4>Metal over the part’s life</h4>
          <div className="figure-pair">
            <FigureView figure={budget.metal} size="small" />
            <FigureView figure={budget.surface} size="small" />
          </div>
        </>
      ) : null}
      <h4>How each step is known to have worked</h4>
      <ul className="plain-list">
        {PREPARATION.filter(
          ({ id }) =>
            (id !== 'etch' && id !== 'desmut') || (finish.etch.use && (id === 'etch' || finish.desmut)),
        ).map(({ id, title, check }) => (
          <li key={id}>
            <strong>{title}:</strong> {check}
          </li>
        ))}
      </ul>
    </>
  );
}
