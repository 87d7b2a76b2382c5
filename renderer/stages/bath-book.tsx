import { useState } from 'react';
import type { BathEntry } from '../../core/bath/bath-history.ts';
import { bathState } from '../../core/bath/bath-state.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import { jobBathLife } from '../../core/job/bath-plan.ts';
import { bathVessel } from '../../core/job/bath-vessel.ts';
import type { BathRecord } from '../../core/shop/bath-record.ts';
import { formatIn, sayQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { bathFromBook, keepBath, noteInBathBook } from '../state/bath-book.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices, useShelf } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';

const ADVICE = {
  young: 'A fresh bath: the first runs bring it to the 4 g/L of aluminium it works best with.',
  good: 'Aluminium stays in the range where a bath works best.',
  'refresh soon': 'After this work the bath is close to its limit; plan to replace a part of it.',
  'refresh now': 'Replace a part of the bath before this work.',
} as const;

/** What this job does to the bath, and the history of the shop's baths. */
export function BathBook() {
  const { wetShop } = useServices();
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.plan);
  const shelf = useShelf(wetShop.baths);
  const life = plan?.ok ? jobBathLife(job, plan.value) : null;
  const chosen = shelf.records.find(({ id }) => id === job.bath.shopBathId);
  return (
    <>
      {life === null ? (
        <p className="soft">
          {plan?.ok
            ? 'Type volume and dissolved aluminium (0 for a fresh bath) to see what this job does.'
            : 'What this job does to its bath follows from the current; plan that first.'}
        </p>
      ) : life.ok ? (
        <>
          <p>{ADVICE[life.value.advice]}</p>
          <div className="figure-pair">
            <FigureView figure={life.value.aluminiumAfter} size="small" />
            <FigureView figure={life.value.freeAcidAfter} size="small" />
            {life.value.chargeLeft ? <FigureView figure={life.value.chargeLeft} size="small" /> : null}
            <FigureView figure={life.value.replaceFraction} size="small" />
          </div>
        </>
      ) : (
        <MessageCard level="check" message={life.error.message} remedy={life.error.remedy} />
      )}
      {shelf.unreadable > 0 ? (
        <MessageCard
          level="check"
          message={`${shelf.unreadable} of the baths in the shop’s book can not be read.`}
          remedy="They were kept as they are; restore the book from a backup."
        />
      ) : null}
      <ChooseBath records={shelf.records} />
      {chosen ? <History record={chosen} /> : null}
      <NewBath />
    </>
  );
}

function ChooseBath({ records }: { records: readonly BathRecord[] }) {
  const { store } = useServices();
  const bath = useApp(jobOf).bath;
  if (records.length === 0) {
    return (
      <p className="soft">
        No bath in the shop’s book yet: enter the one above, and its history counts with you.
      </p>
    );
  }
  return (
    <ChooseFrom
      label="Bath of the shop’s book"
      options={[
        { id: '', label: 'none: as typed above' },
        ...records.map(({ id, name }) => ({ id, label: name })),
      ]}
      chosen={records.some(({ id }) => id === bath.shopBathId) ? bath.shopBathId! : ''}
      onChoose={(id) => {
        const record = records.find((candidate) => candidate.id === id);
        const state = record ? bathState(record.entries) : null;
        editJob(store, 'Bath', (job) =>
          record && state?.ok
            ? bathFromBook(job, record, state.value)
            : changeBath(job, { shopBathId: record ? record.id : null }),
        );
      }}
    />
  );
}

function History({ record }: { record: BathRecord }) {
  const services = useServices();
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.plan);
  const system = useApp((state) => state.unitSystem);
  const state = bathState(record.entries);
  const entries = [...record.entries].sort((a, b) => (a.at < b.at ? 1 : -1));
  const remove = (entry: BathEntry): void =>
    void keepBath(services, { ...record, entries: record.entries.filter((other) => other !== entry) });
  return (
    <section className="stack" aria-label={`History of ${record.name}`}>
      {state.ok ? (
        <p>
          By its history: {sayQuantity('volume', state.value.volumeM3, system, 'L')},{' '}
          {formatIn('massConcentration', state.value.freeAcidKgPerM3, 'g/L').text} free acid,{' '}
          {aluminiumWords(state.value.aluminiumKgPerM3)}; {state.value.runs} runs,{' '}
          {formatIn('charge', state.value.chargeC, 'A·h').text}
          {state.value.reckonedChargeC > 0
            ? `, the last ${formatIn('charge', state.value.reckonedChargeC, 'A·h').text} reckoned, not measured.`
            : '.'}
        </p>
      ) : (
        <MessageCard level="check" message={state.error.message} remedy={state.error.remedy} />
      )}
      <div className="choices">
        <ActionButton
          isDisabled={!plan?.ok}
          onPress={() =>
            plan?.ok &&
            void noteInBathBook(services, record.id, {
              kind: 'run',
              at: new Date().toISOString(),
              chargeC: plan.value.chargeC.valueSi,
              areaM2: plan.value.areaM2.valueSi,
              chargePerVolumeCPerM3: job.process.chargePerVolumeCPerM3,
            })
          }
        >
          Count this job as run
        </ActionButton>
        {state.ok ? (
          <ActionButton
            onPress={() =>
              editJob(services.store, `${record.name} by its history`, (j) =>
                bathFromBook(j, record, state.value),
              )
            }
          >
            Take into this job
          </ActionButton>
        ) : null}
      </div>
      <DisclosureSection title="Entries" state={`${entries.length} so far`}>
        <ul className="history-list">
          {entries.map((entry) => (
            <li key={`${entry.at}-${entry.kind}`}>
              <span className="grow">
                {entry.at.slice(0, 16).replace('T', ' ')}: {entryText(entry, system)}
              </span>
              <ActionButton
                look="quiet"
                aria-label={`Remove entry ${entryText(entry, system)}`}
                onPress={() => remove(entry)}
              >
                Remove
              </ActionButton>
            </li>
          ))}
        </ul>
      </DisclosureSection>
      <ActionButton look="quiet" onPress={() => void services.wetShop.baths.remove(record.id)}>
        Remove “{record.name}” from the book
      </ActionButton>
    </section>
  );
}

function aluminiumWords(kgPerM3: number | null): string {
  return kgPerM3 === null
    ? 'aluminium not known'
    : `${formatIn('massConcentration', kgPerM3, 'g/L').text} aluminium`;
}

function entryText(entry: BathEntry, system: UnitSystem): string {
  const litres = (m3: number): string => sayQuantity('volume', m3, system, 'L');
  const gPerL = (value: number): string => formatIn('massConcentration', value, 'g/L').text;
  switch (entry.kind) {
    case 'made':
      return `made up, ${litres(entry.volumeM3)} at ${gPerL(entry.freeAcidKgPerM3)}, ${aluminiumWords(entry.aluminiumKgPerM3)}`;
    case 'titrated':
      return `titrated, ${gPerL(entry.freeAcidKgPerM3)} free acid${entry.aluminiumKgPerM3 === null ? '' : `, ${gPerL(entry.aluminiumKgPerM3)} aluminium`}`;
    case 'run':
      return `run, ${formatIn('charge', entry.chargeC, 'A·h').text}`;
    case 'added':
      return `added ${sayQuantity('mass', entry.acidKg, system, 'kg')} of pure acid, to ${litres(entry.volumeAfterM3)}`;
    case 'drawn off':
      return `drew off ${litres(entry.volumeM3)}`;
  }
}

/** The bath at the head of the stage becomes one of the book. */
function NewBath() {
  const services = useServices();
  const job = useApp(jobOf);
  const { bath } = job;
  const vessel = bathVessel(job);
  const [name, setName] = useState('');
  const ready = vessel !== null && name.trim() !== '';
  const enter = async (): Promise<void> => {
    if (vessel === null) return;
    const record: BathRecord = {
      id: crypto.randomUUID(),
      name: name.trim(),
      note: '',
      entries: [
        {
          kind: 'made',
          at: new Date().toISOString(),
          volumeM3: vessel.volumeM3,
          freeAcidKgPerM3: bath.acidKgPerM3,
          aluminiumKgPerM3: bath.aluminiumKgPerM3,
        },
      ],
    };
    if (!(await keepBath(services, record))) return;
    setName('');
    editJob(services.store, 'Bath', (job) => changeBath(job, { shopBathId: record.id }));
  };
  return (
    <section className="stack" aria-label="New bath">
      <TextEntry
        label="Enter the bath above in the book as"
        value={name}
        placeholder="Blue tub"
        hint={vessel === null ? 'It needs a volume first.' : ''}
        isDraft
        onChange={setName}
      />
      <ActionButton isDisabled={!ready} onPress={() => void enter()}>
        Enter this bath
      </ActionButton>
    </section>
  );
}
