import { setHanger } from '../../core/job/edit-hanging.ts';
import { putContact, removeContact } from '../../core/job/edit-job.ts';
import type { ContactPlan } from '../../core/job/hanging-plan.ts';
import { HANGER_MATERIALS, type ContactHanger, type HangerMaterial } from '../../core/job/job-hanging.ts';
import type { Contact, Part } from '../../core/job/job.ts';
import type { ContactAdvice } from '../../core/racking/judge-place.ts';
import type { HangerFix } from '../../core/racking/check-hanger.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useDerived, useServices, useShelf } from '../app/services.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { Reasons } from './hanging-proposals.tsx';
import { placeWords } from './place-words.ts';

/** Of 100: below this the reasons are shown without being asked for. */
const POOR = 45;

interface PinCardProps {
  readonly part: Part;
  readonly contact: Contact;
  readonly number: number;
  readonly plan: ContactPlan | undefined;
  /** The adviser's word on it. */
  readonly critique: ContactAdvice | undefined;
}

/** One pin: what is wrong with it, the hanger at it, and what that can carry. */
export function PinCard({ part, contact, number, plan, critique }: PinCardProps) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const isSelected = useApp((state) => state.selectedPinId === contact.id);
  const measure = useDerived((derived) =>
    derived.measures[part.id]?.contacts.find((c) => c.contactId === contact.id),
  );
  const messages = useDerived((derived) => derived.messages).filter(
    (message) => message.contactId === contact.id,
  );
  const fixes = plan?.check.fixes ?? [];
  const fixable = messages.findIndex(({ code }) => FIXED_BY_SIZE.has(code));
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
      {messages.map((message, index) => (
        <MessageCard key={`${message.code}-${index}`} {...message}>
          {index === fixable
            ? fixes.map((fix) => (
                <FixButton key={fix.text} part={part} contact={contact} number={number} fix={fix} />
              ))
            : null}
        </MessageCard>
      ))}
      {critique ? (
        <DisclosureSection
          title={`Place of pin ${number}: ${critique.kind}`}
          state={`${critique.score.toFixed(0)} of 100${part.contacts.length === 1 ? ', alone' : ''}`}
          open={critique.score < POOR}
        >
          <Reasons reasons={critique.reasons} />
        </DisclosureSection>
      ) : messages.some(({ code }) => code === 'pin-off-part') ? null : (
        <p className="soft" role="status">
          Grip and contact area at pin {number}: not looked at yet…
        </p>
      )}
      <HangerFields part={part} contact={contact} number={number} />
      {plan ? (
        <DisclosureSection
          title={`What the hanger at pin ${number} carries`}
          state={`carries ${formatIn('current', plan.inBath ? Math.min(plan.check.capacityDryA.valueSi, plan.check.capacityWetA.valueSi) : plan.check.capacityDryA.valueSi, 'A', 2).text}, needs ${formatIn('current', plan.currentA, 'A', 2).text}`}
        >
          <HangerFigures plan={plan} />
        </DisclosureSection>
      ) : null}
      <p className="soft">Clamps at {placeWords(contact.at, part.unit, system)} in the model</p>
    </section>
  );
}

const FIXED_BY_SIZE: ReadonlySet<string> = new Set([
  'too-hot',
  'warm-in-bath',
  'drop-large',
  'too-weak',
  'bends',
]);

function FixButton({
  part,
  contact,
  number,
  fix: { material, diameterM, count, text },
}: Pick<PinCardProps, 'part' | 'contact' | 'number'> & { fix: HangerFix }) {
  const { store } = useServices();
  return (
    <ActionButton
      look="small"
      onPress={() =>
        editJob(store, `Pin ${number}: ${text}`, (job) =>
          setHanger(job, part.id, contact.id, { ...contact.hanger, material, diameterM, count }),
        )
      }
    >
      Use {text}
    </ActionButton>
  );
}

function HangerFigures({ plan: { check, spot, inBath } }: { plan: ContactPlan }) {
  const system = useApp((state) => state.unitSystem);
  return (
    <>
      <p className="soft">
        The part’s current is shared out evenly over its pins.{' '}
        {check.reuse === 'once'
          ? 'Aluminium wire is coated with the part: new for each run.'
          : 'Titanium hangs many parts.'}
      </p>
      <FigureView figure={check.capacityDryA} size="small" />
      {inBath ? <FigureView figure={check.capacityWetA} size="small" /> : null}
      <FigureView figure={check.guideA} size="small" />
      <FigureView figure={check.dropV} size="small" />
      {check.bending === null ? (
        <p className="soft">
          Whether it bends is not known: the surface is open, so the part has no weight. Close it to see.
        </p>
      ) : (
        <FigureView figure={check.bending.sagM} size="small" />
      )}
      <FigureView figure={spot.dropV} size="small" />
      <p className="soft">
        For a lasting contact clamp with {formatQuantity('force', spot.wantedForceN.valueSi, system, 2).text}{' '}
        or more.
      </p>
      {check.findings
        .filter(({ level }) => level === 'note')
        .map(({ code, message, remedy }) => (
          <p key={code} className="soft">
            {message} {remedy}
          </p>
        ))}
    </>
  );
}

function HangerFields({ part, contact, number }: Pick<PinCardProps, 'part' | 'contact' | 'number'>) {
  const { store, rackShop } = useServices();
  const system = useApp((state) => state.unitSystem);
  const tank = useApp((state) => jobOf(state).tank);
  const hung = useDerived((derived) => derived.hung.find(({ id }) => id === part.id));
  /** As long as they are taken: by the tank, or as typed. */
  const { dryLengthM, wetLengthM } =
    hung?.contacts.find(({ id }) => id === contact.id)?.hanger ?? contact.hanger;
  const byTank = tank !== null && contact.hanger.lengthsFrom === 'tank';
  const say = (metres: number): string => formatQuantity('length', metres, system).text;
  const stock = useShelf(rackShop.hangers);
  const { hanger } = contact;
  const put = (next: Contact, what: string): void =>
    editJob(
      store,
      `Pin ${number}: ${what}`,
      (job) => putContact(job, part.id, next),
      `pin-${contact.id}-${what}`,
    );
  const change = (next: Partial<ContactHanger>, what: string): void =>
    put({ ...contact, hanger: { ...hanger, ...next } }, what);
  const length = (
    field: 'dryLengthM' | 'wetLengthM' | 'hookLengthM' | 'armM',
    label: string,
    high: number,
  ) => (
    <QuantityField
      label={label}
      kind="length"
      valueSi={hanger[field]}
      units={['mm', 'in']}
      limits={{ low: 0, high }}
      onChange={(value) => value !== null && change({ [field]: value }, field)}
    />
  );
  const keep = (): void => {
    const name = `${hanger.material}, ${formatIn('length', hanger.diameterM, 'mm', 3).text}`;
    const known = stock.records.find((record) => record.name === name);
    rackShop.hangers.put({ id: known?.id ?? crypto.randomUUID(), name, hanger }, Date.now()).catch(() =>
      notify(store, {
        code: 'shop-not-kept',
        message: 'The hanger could not be written into the shop’s book.',
        remedy: 'Let this page keep data, and try again.',
      }),
    );
  };
  return (
    <>
      {stock.records.length > 0 ? (
        <ChooseFrom
          label={`From the shop’s stock, for pin ${number}`}
          options={[
            { id: '', label: 'choose…' },
            ...stock.records.map(({ id, name }) => ({ id, label: name })),
          ]}
          chosen={stock.records.find(({ hanger: kept }) => sameWire(kept, hanger))?.id ?? ''}
          onChoose={(id) => {
            const record = stock.records.find((candidate) => candidate.id === id);
            if (record) change(record.hanger, 'from stock');
          }}
        />
      ) : null}
      <ChooseFrom
        label={`Hanger at pin ${number}`}
        options={HANGER_MATERIALS.map((material) => ({ id: material, label: material }))}
        chosen={hanger.material}
        onChoose={(material: HangerMaterial) => change({ material }, 'hanger')}
      />
      <div className="two">
        <QuantityField
          label="Wire or rod, across"
          kind="length"
          valueSi={hanger.diameterM}
          units={['mm', 'in']}
          limits={{ low: 0.3e-3, high: 25e-3 }}
          onChange={(value) => value !== null && change({ diameterM: value }, 'wire')}
        />
        <QuantityField
          label="How many"
          kind="count"
          valueSi={hanger.count}
          units={['', '']}
          limits={{ low: 1, high: 100 }}
          wholeNumber
          onChange={(value) => value !== null && change({ count: value }, 'count')}
        />
      </div>
      <DisclosureSection
        title={`Lengths, hook and patch at pin ${number}`}
        state={`${say(dryLengthM)} dry, ${say(wetLengthM)} in the liquid`}
      >
        {tank ? (
          <CheckBox
            isOn={byTank}
            onChange={(isOn) =>
              change(
                isOn ? { lengthsFrom: 'tank' } : { lengthsFrom: 'typed', dryLengthM, wetLengthM },
                'lengths',
              )
            }
          >
            As long as it hangs in the tank: straight up to the bar
          </CheckBox>
        ) : (
          <p className="soft">
            Once a tank is chosen, these follow from its bar, its level and the part’s depth.
          </p>
        )}
        <div className="two">
          {byTank ? null : length('dryLengthM', 'Above the liquid', 3)}
          {byTank ? null : length('wetLengthM', 'In the liquid', 3)}
          {length('hookLengthM', 'Bent end, in the liquid', 0.5)}
          {length('armM', 'Reach of the hook', 0.5)}
          <QuantityField
            label={`Bare patch under pin ${number}, across`}
            kind="length"
            valueSi={contact.patchDiameterM}
            units={['mm', 'in']}
            limits={{ low: 0.1e-3, high: 0.1 }}
            onChange={(value) => value !== null && put({ ...contact, patchDiameterM: value }, 'patch')}
          />
        </div>
        <CheckBox isOn={hanger.usedBefore} onChange={(usedBefore) => change({ usedBefore }, 'used before')}>
          Used in an earlier run
        </CheckBox>
        <ActionButton look="small" onPress={keep}>
          Keep this hanger in the shop’s book
        </ActionButton>
      </DisclosureSection>
    </>
  );
}

const sameWire = (a: ContactHanger, b: ContactHanger): boolean =>
  a.material === b.material && a.diameterM === b.diameterM && a.count === b.count;
