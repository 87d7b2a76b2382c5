import { jobSeal, sealTimerS } from '../../core/job/finish-plan.ts';
import { jobEtch } from '../../core/job/job-growth.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { timerText, timerUnit } from '../../core/units/timer-text.ts';
import { alloysMayDiffer } from '../../core/job/alloys-together.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { ColourBook } from './colour-book.tsx';
import { FinishAlloy } from './finish-alloy.tsx';
import { FinishChecks } from './finish-checks.tsx';
import { FinishDye } from './finish-dye.tsx';
import { FinishPreparation } from './finish-preparation.tsx';
import { FinishSeal } from './finish-seal.tsx';
import { FinishStrip } from './finish-strip.tsx';
import { FinishTrouble } from './finish-trouble.tsx';
import { MessageList } from './message-list.tsx';
import { PartChooser } from './part-chooser.tsx';
import { StageHead } from './stage-head.tsx';
import './wet-stages.css';

/** Before the bath and after it: alloy, preparation, dye, seal, and what to do when it went wrong. */
export function FinishStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find(({ id }) => id === activeId);
  const { finish } = job;
  const etch = jobEtch(job);
  const seal = jobSeal(job);
  const timer = (seconds: number): string => `${timerText(seconds)} ${timerUnit(seconds)}`;
  return (
    <>
      <StageHead title="Dye and seal">
        Colour is settled by dye, film and minutes; the seal locks it in. What comes before the bath decides
        whether it looks even.
      </StageHead>
      <PartChooser />
      <MessageList stage="finish" without={({ code }) => code === 'alloys-differ'} />
      <AlloysDiffer />
      <DisclosureSection
        title="Dye"
        state={
          finish.dye.use
            ? `${finish.dye.name || 'dyed'}${finish.dye.timeS === null ? '' : `, ${timer(finish.dye.timeS)}`}`
            : 'not dyed'
        }
        open
      >
        <FinishDye />
      </DisclosureSection>
      <DisclosureSection title="Colour book" state="your own dips, and how long for a colour">
        <ColourBook />
      </DisclosureSection>
      <DisclosureSection
        title="Seal"
        state={
          seal === null ? 'not sealed' : seal.ok ? timer(sealTimerS(seal.value.time.valueSi)) : 'look here'
        }
      >
        <FinishSeal />
      </DisclosureSection>
      <DisclosureSection
        title="Preparation"
        state={
          etch?.ok ? `etched ${formatIn('length', etch.value.removed.valueSi, 'µm', 2).text}` : 'no etch'
        }
      >
        <FinishPreparation part={part} />
      </DisclosureSection>
      <DisclosureSection
        title="Alloy"
        state={`${job.parts.length > 1 && part ? `${part.name}: ` : ''}${part?.alloy ?? 'not said'}`}
      >
        {part ? <FinishAlloy part={part} /> : <p className="soft">Open a part first.</p>}
      </DisclosureSection>
      <DisclosureSection title="Acceptance" state={finish.specification ?? 'no specification'}>
        <FinishChecks />
      </DisclosureSection>
      <DisclosureSection title="Strip and redo" state="lye, metal it takes, whether it is worth it">
        <FinishStrip part={part} />
      </DisclosureSection>
      <DisclosureSection title="Trouble" state="symptom, likely causes, way back">
        <FinishTrouble part={part} />
      </DisclosureSection>
    </>
  );
}

/** Two alloys in one dyed load, until they are apart or the user says that it is meant so. */
function AlloysDiffer() {
  const { store } = useServices();
  const differ = useDerived((derived) => derived.messages).find(({ code }) => code === 'alloys-differ');
  if (!differ) return null;
  return (
    <MessageCard level={differ.level} message={differ.message} remedy={differ.remedy}>
      {differ.level === 'check' ? (
        <ActionButton look="small" onPress={() => editJob(store, 'Alloys may differ', alloysMayDiffer)}>
          I know, they may differ
        </ActionButton>
      ) : null}
    </MessageCard>
  );
}
