import type { Part } from '../../core/job/job.ts';
import { setAttitude } from '../../core/job/edit-hanging.ts';
import type { PartHangingPlan } from '../../core/job/hanging-plan.ts';
import { massText } from '../../core/job/hanging-sheet.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { Rest } from '../../core/racking/balance.ts';
import { formatQuantity, sayQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { pinsAsJudged } from '../state/hanging-store.ts';
import { maskClosedOff } from '../state/paint-faces.ts';
import { placePinOnFace } from '../state/place-pin.ts';
import { useApp, useDerived, useHanging, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { AttitudeSection } from './hanging-attitude.tsx';
import { PinCard } from './hanging-pin.tsx';
import { ProposalSection, Reasons } from './hanging-proposals.tsx';
import { BusEndsSection } from './hanging-bus-ends.tsx';
import { HangingRulesSection } from './hanging-rules.tsx';
import { MessageList } from './message-list.tsx';
import { PartChooser } from './part-chooser.tsx';
import { placeWords } from './place-words.ts';
import { StageHead } from './stage-head.tsx';
import './hanging.css';

/** Where hangers clamp the part, which way round it hangs, and whether its hangers can carry it and its current. */
export function HangingStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find((candidate) => candidate.id === activeId);
  const hasSurface = useApp((state) => part !== undefined && state.meshes[part.id] !== undefined);
  return (
    <>
      <StageHead title="Hanging">
        All current enters through the hangers. A loose or small contact ruins the run, trapped gas leaves
        bare metal, trapped acid spoils the dye.
      </StageHead>
      <PartChooser />
      {!part ? <p className="soft">Open a part first.</p> : null}
      {part && !hasSurface ? (
        <>
          <MessageList stage="hanging" without={({ partId }) => partId !== part.id} />
          <p className="soft">Open its model, or draw its shape, to see where it clamps and how it hangs.</p>
        </>
      ) : null}
      {part && hasSurface ? <Hanging key={part.id} part={part} /> : null}
    </>
  );
}

function Hanging({ part }: { part: Part }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const placing = useApp((state) => state.placingPin);
  const selectedFaces = useApp((state) => state.selectedFaces);
  const known = useHanging((state) => state.parts[part.id]);
  const plan = useDerived((derived) => derived.hanging[part.id]);
  const general = useDerived((derived) => derived.messages).filter(
    (message) =>
      message.stage === 'hanging' &&
      message.partId === part.id &&
      message.contactId === undefined &&
      !message.pending,
  );
  const places = known?.contacts?.advice.length ?? 0;
  const pins = known ? pinsAsJudged(known, part.contacts) : null;
  const trapped = plan?.traps
    ? plan.traps.gas.length + plan.traps.liquid.length === 0
      ? 'traps nothing'
      : `gas ${sayQuantity('volume', plan.traps.gasVolumeM3.valueSi, system, 'in³', 2)}, liquid ${sayQuantity('volume', plan.traps.liquidVolumeM3.valueSi, system, 'in³', 2)}`
    : '';
  return (
    <>
      <div className="choices">
        <ActionButton
          look={placing ? 'plain' : 'main'}
          onPress={() => store.setState({ placingPin: !placing })}
        >
          {placing ? 'Stop placing' : 'Place a pin…'}
        </ActionButton>
        <ActionButton isDisabled={selectedFaces.size !== 1} onPress={() => placePinOnFace(store)}>
          Pin in the middle of the selected face
        </ActionButton>
      </div>
      {placing ? (
        <MessageCard
          level="note"
          message="The next click on the part sets a pin."
          remedy="Click where the hanger will clamp; drag the pin later to move it."
        />
      ) : null}
      {known?.facts?.open ? (
        <MessageCard level="check" message={known.facts.open.message} remedy={known.facts.open.remedy} />
      ) : null}
      {general.map((message) => (
        <MessageCard key={message.code} {...message}>
          {message.code === 'tilts' ? <TakeRestButton part={part} plan={plan} /> : null}
          {message.code === 'behind-plugs' ? <MaskBehindButton part={part} plan={plan} /> : null}
        </MessageCard>
      ))}
      <DisclosureSection
        title="Where to clamp"
        state={known?.looking ? 'looking…' : `${places} ${places === 1 ? 'place' : 'places'}`}
        open={part.contacts.length === 0}
      >
        <ProposalSection part={part} />
      </DisclosureSection>
      {pins?.together && part.contacts.length === 2 ? (
        <DisclosureSection title="Both pins together" state={`${pins.together.score.toFixed(0)} of 100`} open>
          <Reasons reasons={pins.together.reasons} />
        </DisclosureSection>
      ) : null}
      {part.contacts.map((contact, index) => (
        <PinCard
          key={contact.id}
          part={part}
          contact={contact}
          number={index + 1}
          plan={plan?.contacts[index]}
          critique={pins?.critique[contact.id]}
        />
      ))}
      {plan && !known?.facts?.open ? (
        <>
          <DisclosureSection title="Which way round" state={trapped} open>
            <AttitudeSection part={part} plan={plan} />
          </DisclosureSection>
          <DisclosureSection title="Weight and balance" state={weightText(plan, system)}>
            <BalanceSection part={part} plan={plan} />
          </DisclosureSection>
        </>
      ) : null}
      {known && !known.facts && !known.failure ? (
        <p className="soft" role="status">
          The part is being made ready to hang…
        </p>
      ) : null}
      <BusEndsSection />
      <HangingRulesSection />
    </>
  );
}

const weightText = ({ massKg }: PartHangingPlan, system: UnitSystem): string =>
  massKg ? massText(massKg.valueSi, system) : '';

function sharesText({ shares, leastShares, mostShares }: Rest): string {
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  if (shares.length > 0) return `they carry ${shares.map(percent).join(', ')} of the weight`;
  const ranges = mostShares.map((most, pin) => `${percent(leastShares[pin]!)} to ${percent(most)}`);
  return `how they share the weight depends on tenths of a millimetre of wire (${ranges.join(', ')}), so each is judged by the most it may carry`;
}

function MaskBehindButton({ part, plan }: { part: Part; plan: PartHangingPlan | undefined }) {
  const { store } = useServices();
  const closedOff = plan?.closedOff;
  if (!closedOff) return null;
  return (
    <ActionButton look="small" onPress={() => maskClosedOff(store, part.id, closedOff)}>
      Mask {closedOff.faces}
    </ActionButton>
  );
}

function TakeRestButton({ part, plan }: { part: Part; plan: PartHangingPlan | undefined }) {
  const { store } = useServices();
  if (!plan?.rest?.ok) return null;
  const { up } = plan.rest.value;
  return (
    <ActionButton
      look="small"
      onPress={() =>
        editJob(store, 'Attitude as it rests', (job) =>
          setAttitude(job, part.id, { ...part.attitude, up: [up[0], up[1], up[2]] }),
        )
      }
    >
      Take the attitude it rests in
    </ActionButton>
  );
}

function BalanceSection({ part, plan }: { part: Part; plan: PartHangingPlan }) {
  const known = useHanging((state) => state.parts[part.id]);
  const system = useApp((state) => state.unitSystem);
  const { rest } = plan;
  const degrees = (rad: number): string => formatQuantity('angle', rad, system, 2).text;
  return (
    <>
      <div className="figure-pair">
        {plan.massKg ? <FigureView figure={plan.massKg} size="small" /> : null}
        {plan.volumeM3 ? <FigureView figure={plan.volumeM3} size="small" /> : null}
      </div>
      {known?.facts?.moments ? (
        <p>
          Centre of gravity at {placeWords(known.facts.centre, part.unit, system)} in the model, the quartered
          disc in the picture.
        </p>
      ) : null}
      {rest === null ? <p className="soft">Set a pin to see how it comes to rest.</p> : null}
      {rest?.ok ? (
        <p>
          {part.contacts.length > 2 ? (
            <>With its {part.contacts.length} wires cut to length it hangs as you turned it</>
          ) : (
            <>
              On {part.contacts.length === 1 ? 'its hanger' : 'both hangers'} it comes to rest{' '}
              <strong>{degrees(rest.value.tiltRad)}</strong> from the attitude you chose
            </>
          )}
          {part.contacts.length > 1 ? `; ${sharesText(rest.value)}` : ''}.
        </p>
      ) : null}
      {rest && !rest.ok ? (
        <p>
          {rest.error.message} {rest.error.remedy}
        </p>
      ) : null}
    </>
  );
}
