import { useState } from 'react';
import { Input, Label, TextField } from 'react-aria-components';
import { changeProcess } from '../../core/job/edit-job.ts';
import { useApp, useServices, useShelf } from '../app/services.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';

/** A supply of the shop's book fills both limits; limits typed here can be kept as one. */
export function SupplyChoice() {
  const { store, runs } = useServices();
  const { records } = useShelf(runs.supplies);
  const process = useApp((state) => jobOf(state).process);
  const { supplyCurrentLimitA, supplyVoltageLimitV } = process;
  const [name, setName] = useState('');
  const chosen = records.find(
    ({ currentLimitA, voltageLimitV }) =>
      currentLimitA === supplyCurrentLimitA && voltageLimitV === supplyVoltageLimitV,
  );
  const known = records.find((record) => record.name === name.trim());
  const keep = async (): Promise<void> => {
    if (supplyCurrentLimitA === null || supplyVoltageLimitV === null) return;
    try {
      await runs.supplies.put(
        {
          ...known,
          id: known?.id ?? crypto.randomUUID(),
          name: name.trim(),
          currentLimitA: supplyCurrentLimitA,
          voltageLimitV: supplyVoltageLimitV,
        },
        Date.now(),
      );
      setName('');
    } catch {
      notify(store, {
        code: 'shop-not-kept',
        message: 'The supply could not be written into the shop’s book.',
        remedy: 'Let this page keep data, and try again.',
      });
    }
  };
  return (
    <>
      {records.length > 0 ? (
        <ChooseFrom
          label="Supply from the shop’s book"
          options={[
            ...(chosen ? [] : [{ id: '', label: 'as typed below' }]),
            ...records.map(({ id, name: label }) => ({ id, label })),
          ]}
          chosen={chosen?.id ?? ''}
          onChoose={(id) => {
            const record = records.find((candidate) => candidate.id === id);
            if (!record) return;
            editJob(store, `Supply ${record.name}`, (job) =>
              changeProcess(job, {
                supplyCurrentLimitA: record.currentLimitA,
                supplyVoltageLimitV: record.voltageLimitV,
              }),
            );
          }}
        />
      ) : null}
      {!chosen && supplyCurrentLimitA !== null && supplyVoltageLimitV !== null ? (
        <DisclosureSection title="Keep this supply in the shop’s book">
          <TextField className="field" value={name} onChange={setName}>
            <Label>Name of the supply</Label>
            <Input />
          </TextField>
          <ActionButton isDisabled={name.trim() === ''} onPress={() => void keep()}>
            {known ? `Change “${known.name}” in the book` : 'Keep it'}
          </ActionButton>
        </DisclosureSection>
      ) : null}
    </>
  );
}
