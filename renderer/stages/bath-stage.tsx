import type { FilmLimit } from '../../core/bath/film-limit.ts';
import { PROCESS_LIMITS } from '../../core/electrical/check-process.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import { hasLead, heatMissing, jobFilmLimit } from '../../core/job/bath-plan.ts';
import { bathVessel } from '../../core/job/bath-vessel.ts';
import { jobVoltage } from '../../core/job/job-voltage.ts';
import { sayQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { CheckBox } from '../widgets/check-box.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { BathAir } from './bath-air.tsx';
import { BathBook } from './bath-book.tsx';
import { BathField } from './bath-field.tsx';
import { BathHeatSection } from './bath-heat.tsx';
import { BathMixing } from './bath-mixing.tsx';
import { BathNeutralising } from './bath-neutralising.tsx';
import { BathTests } from './bath-tests.tsx';
import { BathTopUp } from './bath-top-up.tsx';
import { MessageList } from './message-list.tsx';
import { StageHead } from './stage-head.tsx';
import './wet-stages.css';

/** The anodizing bath: what is in it, how warm it gets, how long it lasts. */
export function BathStage() {
  const job = useApp(jobOf);
  const heat = useDerived((derived) => derived.wet.heat);
  const plan = useDerived((derived) => derived.plan);
  const system = useApp((state) => state.unitSystem);
  const { bath } = job;
  const vessel = bathVessel(job);
  const mixes = bath.mix.onSheet ? 'printed on the sheet' : 'acid and water for a new bath';
  const ends = heat?.ok
    ? `ends at ${sayQuantity('temperature', heat.value.endTemperature.valueSi, system)}`
    : heat
      ? 'stop: look inside'
      : (heatMissing(job, plan)?.short ?? '');
  return (
    <>
      <StageHead title="Bath">
        Strength, temperature and volume decide the voltage, how warm the run gets and whether the film stays
        hard.
      </StageHead>
      <MessageList stage="bath" />
      <YourBath />
      <DisclosureSection title="Heat through the run" state={ends} open={vessel !== null}>
        <BathHeatSection />
      </DisclosureSection>
      <DisclosureSection title="Mix a bath" state={mixes}>
        <BathMixing />
      </DisclosureSection>
      <DisclosureSection title="Test the bath" state="hydrometer, titration">
        <BathTests />
      </DisclosureSection>
      <DisclosureSection title="Top up or thin" state="what to add, what to draw off">
        <BathTopUp />
      </DisclosureSection>
      <DisclosureSection title="Bath life and history" state="how long this bath still serves">
        <BathBook />
      </DisclosureSection>
      <DisclosureSection title="Hydrogen, mist and air" state="what the tank gives off">
        <BathAir />
      </DisclosureSection>
      <DisclosureSection title="Spills and spent bath" state="what neutralises it, and how much">
        <BathNeutralising />
      </DisclosureSection>
    </>
  );
}

const PLANNED_AT_MOST_M = PROCESS_LIMITS.thicknessM.high;

/** A film that even the least of the range would let grow thicker than any that can be planned. */
const isBeyondUse = ({ thickness }: FilmLimit): boolean =>
  (thickness.lowSi ?? thickness.valueSi) > PLANNED_AT_MOST_M;

function YourBath() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const voltage = jobVoltage(job);
  const vessel = bathVessel(job);
  const system = useApp((state) => state.unitSystem);
  const limit = jobFilmLimit(job);
  return (
    <section className="stack" aria-label="Your bath">
      <h3>Your bath</h3>
      <div className="two">
        <BathField field="temperatureK" />
        <BathField field="acidKgPerM3" />
        <BathField field="volumeM3" />
        <BathField field="aluminiumKgPerM3" />
      </div>
      <CheckBox
        isOn={job.bath.stirred}
        onChange={(stirred) => editJob(store, 'Stirring', (j) => changeBath(j, { stirred }))}
      >
        Stirred through the whole run
      </CheckBox>
      <CheckBox
        isOn={job.bath.leadCathodes}
        onChange={(leadCathodes) => editJob(store, 'Cathodes', (j) => changeBath(j, { leadCathodes }))}
      >
        Lead cathodes
      </CheckBox>
      {vessel?.volumeFrom === 'tank' ? (
        <p className="soft">
          Volume by the tank as filled: {sayQuantity('volume', vessel.volumeM3, system, 'L')}. Type another if
          it holds less.
        </p>
      ) : null}
      {hasLead(job) ? (
        <p className="caution">
          <strong>Lead:</strong> it goes into bath and sludge. Gloves, wash before eating, collect as
          hazardous waste.
        </p>
      ) : null}
      {voltage.ok ? (
        <div className="figure-pair">
          <FigureView figure={voltage.value.start} size="small" />
          <FigureView figure={voltage.value.end} size="small" />
        </div>
      ) : (
        <MessageCard level="note" message={voltage.error.message} remedy={voltage.error.remedy} />
      )}
      {limit?.ok && isBeyondUse(limit.value) ? (
        <p className="soft">
          Thickest film the acid leaves: more than {sayQuantity('length', PLANNED_AT_MOST_M, system, 'µm', 3)}
          , the most that can be planned, so in this bath it sets no limit.
        </p>
      ) : limit?.ok ? (
        <FigureView figure={limit.value.thickness} size="small" />
      ) : null}
      {limit?.ok && limit.value.practice ? <FigureView figure={limit.value.practice} size="small" /> : null}
    </section>
  );
}
