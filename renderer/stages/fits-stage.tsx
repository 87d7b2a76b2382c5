import { faceId, FACE_KINDS } from '../../core/faces/face-table.ts';
import type { RoundFeature } from '../../core/finish/round-features.ts';
import { changeFinish, putFit } from '../../core/job/edit-wet.ts';
import { coatingDoubt } from '../../core/job/coating-doubt.ts';
import { bathStartK } from '../../core/job/bath-start.ts';
import { sayQuantity } from '../../core/units/format-quantity.ts';
import type { FitItem, PartFitPlan } from '../../core/job/fit-plan.ts';
import type { Part } from '../../core/job/job.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { paintRows, runsOfRows } from '../state/mark-fit.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { CoatingGrowth } from './coating-growth.tsx';
import { MessageList } from './message-list.tsx';
import { PartChooser } from './part-chooser.tsx';
import { StageHead } from './stage-head.tsx';
import { TypedFit } from './typed-fit.tsx';
import { alikeRounds } from '../../core/finish/alike-rounds.ts';
import { FitCard } from './fit-card.tsx';
import { RoundRow } from './fit-round-row.tsx';
import { MaskTable } from './mask-table.tsx';

/** Which sizes must survive the coating: what to mask, what to machine first, what to plug it with. */
export function FitsStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find(({ id }) => id === activeId);
  const plan = useDerived((derived) => (part ? derived.wet.fits[part.id] : undefined));
  return (
    <>
      <StageHead title="Fits and masks">
        The film stands out of the metal, so bores get smaller and threads tighter. Say what has to fit;
        Tankside says what to mask or machine.
      </StageHead>
      <PartChooser />
      <MessageList stage="fits" briefly={({ partId }) => partId === activeId} />
      <OtherCoating />
      {part && plan ? (
        <PartFits key={part.id} part={part} plan={plan} />
      ) : (
        <p className="soft">Open a part first.</p>
      )}
    </>
  );
}

/** Counts with the type of film that the bath makes, at a press. */
function OtherCoating() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const doubt = coatingDoubt(job, bathStartK(job));
  if (!doubt) return null;
  const { coating, thenM } = doubt;
  return (
    <div className="choices">
      <ActionButton
        look="main"
        onPress={() => editJob(store, 'Type of film', (j) => changeFinish(j, { coating }))}
      >
        Count {coating === 'hard' ? 'a hard coat' : 'an ordinary film'}:{' '}
        {sayQuantity('length', thenM, system, 'µm', 3)} a surface
      </ActionButton>
    </div>
  );
}

const US_EXAMPLES = 'H7, .2575/.2565, 0.2570 +0.0005 -0.0000, 1/4-20-2B, M6x1-6H';
const METRIC_EXAMPLES = 'H7, 6.50/6.52, 6.5 +0.02 0, M6x1-6H, 1/4-20-2B';

function PartFits({ part, plan }: { part: Part; plan: PartFitPlan }) {
  const system = useApp((state) => state.unitSystem);
  const free = plan.rounds.filter((round) => !itemOf(plan, round));
  const alike = alikeRounds(free);
  return (
    <>
      {plan.items.length > 0 ? (
        <section className="stack" aria-label="Fits of this part">
          <h3>Fits of this part</h3>
          {plan.items.map((item) => (
            <FitCard key={item.fit.id} part={part} item={item} />
          ))}
        </section>
      ) : (
        <p className="soft">
          No fit given yet. Choose a bore below, or select faces on the part, and type its fit as on the
          drawing: {system === 'us' ? US_EXAMPLES : METRIC_EXAMPLES}.
        </p>
      )}
      <SelectedFaces part={part} plan={plan} />
      <DisclosureSection
        title="Bores and bosses found"
        state={free.length === 0 ? 'none left without a fit' : `${free.length} without a fit`}
        open={plan.items.length === 0}
      >
        {free.length === 0 ? (
          <p className="soft">The part has no whole round bore or boss without a fit.</p>
        ) : (
          alike.map((rounds) => <RoundRow key={rounds[0]!.faceIds.join()} part={part} rounds={rounds} />)
        )}
      </DisclosureSection>
      <DisclosureSection title="Type a size" state="one that is no face of the model">
        <TypedFit part={part} />
      </DisclosureSection>
      <DisclosureSection
        title="Plugs, caps and tape"
        state={
          plan.masks.length === 0
            ? 'nothing masked'
            : `${plan.masks.length} ${plan.masks.length === 1 ? 'size' : 'sizes'} to lay out`
        }
        open={plan.masks.length > 0}
      >
        <MaskTable plan={plan} />
      </DisclosureSection>
      <DisclosureSection title="Film and build-up" state="how far a surface moves out">
        <CoatingGrowth part={part} />
      </DisclosureSection>
    </>
  );
}

function itemOf(plan: PartFitPlan, round: RoundFeature): FitItem | undefined {
  return plan.items.find(({ rows }) => rows.some((row) => round.faceIds.includes(faceId(row))));
}

function SelectedFaces({ part, plan }: { part: Part; plan: PartFitPlan }) {
  const { store } = useServices();
  const selected = useApp((state) => state.selectedFaces);
  const faces = useApp((state) => state.meshes[part.id]?.geometry.faces);
  if (selected.size === 0 || !faces) return null;
  const rows = [...selected].sort((a, b) => a - b);
  if (plan.items.some((item) => item.rows.join() === rows.join())) return null;
  const names = rows.map(faceId);
  const flat = rows.every((row) => FACE_KINDS[faces.kind[row]!] === 'plane');
  const keep = (): void => {
    const fit = {
      id: crypto.randomUUID(),
      label: flat ? 'Bare flat' : 'Bare faces',
      need: { as: 'bare' as const },
      faces: runsOfRows(store, selected),
      count: 1,
      machinedTo: null,
    };
    editJob(store, `Keep bare ${names.join(' ')}`, (job) => putFit(job, part.id, fit));
    paintRows(store, rows, 'mask');
  };
  return (
    <section className="stack" aria-label="Selected faces">
      <h3>Selected: {names.length > 6 ? `${names.length} faces` : names.join(', ')}</h3>
      <div className="choices">
        <ActionButton onPress={keep}>Keep bare and mask</ActionButton>
      </div>
    </section>
  );
}
