import { HANGER_MATERIALS, type HangerMaterial } from '../../core/job/job-hanging.ts';
import type { Contact, Part } from '../../core/job/job.ts';
import { putContact, removeContact } from '../../core/job/edit-job.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { placePinOnFace } from '../state/place-pin.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { StageHead } from './stage-head.tsx';

/** Where hangers clamp the part: numbered pins, the bare patch under each, and what it hangs from. */
export function HangingStage() {
  const job = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  const part = job.parts.find((candidate) => candidate.id === activeId);
  return (
    <>
      <StageHead title="Hanging">
        All current enters through the hangers. A loose or small contact ruins the run, and leaves a bare spot
        where it sits.
      </StageHead>
      {part ? <Pins part={part} /> : <p className="soft">Open a part first.</p>}
    </>
  );
}

function Pins({ part }: { part: Part }) {
  const { store } = useServices();
  const placing = useApp((state) => state.placingPin);
  const selectedFaces = useApp((state) => state.selectedFaces);
  const general = useDerived((derived) => derived.messages).filter(
    (message) => message.stage === 'hanging' && message.partId === part.id && message.contactId === undefined,
  );
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
      {general.map((message) => (
        <MessageCard key={message.code} {...message} />
      ))}
      {part.contacts.map((contact, index) => (
        <PinCard key={contact.id} part={part} contact={contact} number={index + 1} />
      ))}
    </>
  );
}

function PinCard({ part, contact, number }: { part: Part; contact: Contact; number: number }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const isSelected = useApp((state) => state.selectedPinId === contact.id);
  const measure = useDerived((derived) =>
    derived.measures[part.id]?.contacts.find((c) => c.contactId === contact.id),
  );
  const messages = useDerived((derived) => derived.messages).filter(
    (message) => message.contactId === contact.id,
  );
  const put = (next: Contact, what: string): void =>
    editJob(
      store,
      `Pin ${number}: ${what}`,
      (job) => putContact(job, part.id, next),
      `pin-${contact.id}-${what}`,
    );
  const hanger = (change: Partial<Contact['hanger']>, what: string): void =>
    put({ ...contact, hanger: { ...contact.hanger, ...change } }, what);
  return (
    <section className={`pin-card ${isSelected ? 'selected' : ''}`} aria-label={`Pin ${number}`}>
      <div className="row">
        <span className="pin-number" aria-hidden="true">
          {number}
        </span>
        <h3 className="grow">
          Pin {number}
          {measure ? (
            <span className="soft"> · bare patch {formatQuantity('area', measure.patchM2, system).text}</span>
          ) : null}
        </h3>
        <ActionButton
          look="small"
          aria-pressed={isSelected}
          onPress={() => store.setState({ selectedPinId: isSelected ? null : contact.id })}
        >
          {isSelected ? 'Shown' : 'Show'}
        </ActionButton>
        <ActionButton
          look="small"
          aria-label={`Remove pin ${number}`}
          onPress={() =>
            editJob(store, `Remove pin ${number}`, (job) => removeContact(job, part.id, contact.id))
          }
        >
          Remove
        </ActionButton>
      </div>
      {messages.map((message) => (
        <MessageCard key={message.code} {...message} />
      ))}
      <QuantityField
        label={`Bare patch under pin ${number}, across`}
        kind="length"
        valueSi={contact.patchDiameterM}
        units={['mm', 'in']}
        limits={{ low: 0.1e-3, high: 0.1 }}
        onChange={(value) => value !== null && put({ ...contact, patchDiameterM: value }, 'patch')}
      />
      <ChooseFrom
        label={`Hanger at pin ${number}`}
        options={HANGER_MATERIALS.map((material) => ({ id: material, label: material }))}
        chosen={contact.hanger.material}
        onChoose={(material: HangerMaterial) => hanger({ material }, 'hanger')}
      />
      <div className="two">
        <QuantityField
          label="Wire or rod, across"
          kind="length"
          valueSi={contact.hanger.diameterM}
          units={['mm', 'in']}
          limits={{ low: 0.3e-3, high: 25e-3 }}
          onChange={(value) => value !== null && hanger({ diameterM: value }, 'wire')}
        />
        <QuantityField
          label="How many"
          kind="count"
          valueSi={contact.hanger.count}
          units={['', '']}
          limits={{ low: 1, high: 100 }}
          wholeNumber
          onChange={(value) => value !== null && hanger({ count: value }, 'count')}
        />
      </div>
      <p className="soft">
        Clamps at {contact.at.map((value) => formatIn('count', value, '', 4).number).join(', ')} ({part.unit}{' '}
        in the model)
      </p>
    </section>
  );
}
