import { useState } from 'react';
import { chooseTank } from '../../core/job/edit-hanging.ts';
import { inTank } from '../../core/job/tank-plan.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { firstTank, type FirstTank } from '../../core/job/first-tank.ts';
import { tankRulesSchema, tankSchema, type JobTank } from '../../core/job/job-tank.ts';
import { notify } from '../state/notices.ts';
import { useApp, useHanging, useServices, useShelf } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { MessageList } from './message-list.tsx';
import { StageHead } from './stage-head.tsx';
import { CopySection } from './tank-copies.tsx';
import { LoadSection } from './tank-loads.tsx';
import { TankFields } from './tank-fields.tsx';
import { RulesSection } from './tank-rules.tsx';
import './tank.css';

/** The tank, what hangs in it with which clearances, and the loads that fit. */
export function TankStage() {
  const job = useApp(jobOf);
  const failure = useHanging((state) => state.tankFailure);
  const ratio = useHanging((state) => state.tankCheck?.cathodeRatio);
  return (
    <>
      <StageHead title="Tank and loads">
        What hangs too near the cathode burns or shorts the supply; what hangs crowded coats unevenly. The
        tank also decides how many pieces go in at once.
      </StageHead>
      <TankChoice />
      {inTank(job) ? (
        <>
          <TankFields tank={job.tank} />
          <RulesSection tank={job.tank} />
          <MessageList stage="tank" />
          {failure ? <MessageCard level="check" message={failure.message} remedy={failure.remedy} /> : null}
          <LoadSection />
          <CopySection />
          {ratio ? <FigureView figure={ratio} size="small" /> : null}
          <KeepTank />
        </>
      ) : null}
    </>
  );
}

function TankChoice() {
  const { store, rackShop } = useServices();
  const shelf = useShelf(rackShop.tanks);
  const chosen = useApp((state) => jobOf(state).tank);
  const take = (which: FirstTank): void => {
    const first = firstTank(which);
    editJob(store, `New ${first.tank.name.toLowerCase()}`, (job) => chooseTank(job, first));
  };
  const fromBook = (id: string): void => {
    const record = shelf.records.find((candidate) => candidate.id === id);
    if (!record) return editJob(store, 'No tank', (job) => chooseTank(job, null));
    editJob(store, `Tank ${record.name}`, (job) =>
      chooseTank(job, { shopTankId: record.id, tank: record.tank, rules: record.rules }),
    );
  };
  return (
    <section className="stack" aria-label="Which tank">
      {shelf.records.length > 0 || chosen ? (
        <ChooseFrom
          label="Tank from the shop’s book"
          options={[
            { id: 'none', label: chosen && chosen.shopTankId === null ? 'only in this job' : 'none' },
            ...shelf.records.map(({ id, name }) => ({ id, label: name })),
          ]}
          chosen={shelf.records.some(({ id }) => id === chosen?.shopTankId) ? chosen!.shopTankId! : 'none'}
          onChoose={fromBook}
        />
      ) : null}
      {shelf.unreadable > 0 ? (
        <p className="soft">
          {shelf.unreadable === 1 ? 'One tank' : `${shelf.unreadable} tanks`} of the book{' '}
          {shelf.unreadable === 1 ? 'is' : 'are'} damaged and left out.
        </p>
      ) : null}
      {chosen ? null : (
        <>
          <p className="soft">
            Without a tank the loads follow the supply alone, and nobody looks at clearances. Describe yours
            once; the shop’s book keeps it.
          </p>
          <div className="choices">
            <ActionButton look="main" onPress={() => take('box')}>
              Describe a box tank
            </ActionButton>
            <ActionButton onPress={() => take('round')}>Describe a round tub</ActionButton>
            <ActionButton onPress={() => take('bucket')}>Take a bucket of 20 L (5 US gal)</ActionButton>
          </div>
        </>
      )}
    </section>
  );
}

function KeepTank() {
  const { store, rackShop } = useServices();
  const shelf = useShelf(rackShop.tanks);
  const chosen = useApp((state) => jobOf(state).tank);
  const [asking, setAsking] = useState(false);
  if (!chosen) return null;
  const known = shelf.records.find(({ id }) => id === chosen.shopTankId);
  const same = known !== undefined && written(known) === written(chosen);
  const keep = async (): Promise<void> => {
    if (!tankSchema.safeParse(chosen.tank).success) return;
    const id = known?.id ?? crypto.randomUUID();
    try {
      await rackShop.tanks.put(
        { id, name: chosen.tank.name, tank: chosen.tank, rules: chosen.rules },
        Date.now(),
      );
      editJob(store, 'Keep the tank', (job) =>
        job.tank ? { ...job, tank: { ...job.tank, shopTankId: id } } : job,
      );
    } catch {
      notify(store, {
        code: 'shop-not-kept',
        message: 'The tank could not be written into the shop’s book.',
        remedy: 'Let this page keep data, and try again; the job itself holds the tank as well.',
      });
    }
  };
  return (
    <DisclosureSection
      title="In the shop’s book"
      state={same ? 'kept as it is' : known ? 'changed here' : 'not kept yet'}
    >
      <ActionButton isDisabled={same} onPress={() => void keep()}>
        {known ? 'Write these changes into the book' : 'Keep this tank in the shop’s book'}
      </ActionButton>
      {known && !asking ? (
        <ActionButton look="quiet" onPress={() => setAsking(true)}>
          Take “{known.name}” out of the book…
        </ActionButton>
      ) : null}
      {known && asking ? (
        <MessageCard
          level="check"
          message={`“${known.name}” will no longer be in the shop’s book.`}
          remedy="This job and all others keep their own copy of it."
        >
          <ActionButton
            look="small"
            onPress={() => {
              setAsking(false);
              void rackShop.tanks.remove(known.id);
            }}
          >
            Take it out
          </ActionButton>
          <ActionButton look="small" onPress={() => setAsking(false)}>
            Leave it
          </ActionButton>
        </MessageCard>
      ) : null}
    </DisclosureSection>
  );
}

/** As the schemas write it, so that the order in which fields were filled makes no difference. */
const written = ({ tank, rules }: Pick<JobTank, 'tank' | 'rules'>): string =>
  JSON.stringify([tankSchema.parse(tank), tankRulesSchema.parse(rules)]);
