import { useState } from 'react';
import type { Measured } from '../../core/finish/coated-window.ts';
import { completeFit } from '../../core/finish/complete-fit.ts';
import { parseFit } from '../../core/finish/parse-fit.ts';
import { putFit } from '../../core/job/edit-wet.ts';
import type { FitNeed } from '../../core/job/job-fits.ts';
import type { Part } from '../../core/job/job.ts';
import { editJob } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';

const KINDS: readonly { readonly id: Measured | 'code'; readonly label: string }[] = [
  { id: 'code', label: 'fit, limits or thread (10H7, M6x1-6H)' },
  { id: 'hole', label: 'hole, by its limits' },
  { id: 'shaft', label: 'shaft, by its limits' },
  { id: 'outside length', label: 'length over outside faces' },
  { id: 'inside length', label: 'length between inside faces' },
  { id: 'step', label: 'step between faces that look one way' },
];

/** A size typed by hand, for what the model does not show. */
export function TypedFit({ part }: { part: Part }) {
  const { store } = useServices();
  const [kind, setKind] = useState<Measured | 'code'>('code');
  const [text, setText] = useState('');
  const [label, setLabel] = useState('');
  const [lowM, setLowM] = useState<number | null>(null);
  const [highM, setHighM] = useState<number | null>(null);
  const [coatedFaces, setCoatedFaces] = useState<'0' | '1' | '2'>('2');
  const [coatedUpper, setCoatedUpper] = useState(true);
  const [count, setCount] = useState(1);
  const system = useApp((state) => state.unitSystem);
  const full = completeFit(text, null, system);
  const read = full === '' ? null : parseFit(full);
  const need: FitNeed | null =
    kind === 'code'
      ? read?.ok
        ? { as: 'code', text: full }
        : null
      : lowM !== null
        ? {
            as: 'size',
            measured: kind,
            lowM,
            highM: highM ?? lowM,
            coatedFaces: Number(coatedFaces) as 0 | 1 | 2,
            coatedUpper,
          }
        : null;
  const name =
    label.trim() === ''
      ? kind === 'code'
        ? full
        : KINDS.find(({ id }) => id === kind)!.label
      : label.trim();
  const add = (): void => {
    if (!need) return;
    const fit = { id: crypto.randomUUID(), label: name, need, faces: [], count, machinedTo: null };
    editJob(store, `Fit ${name}`, (job) => putFit(job, part.id, fit));
    setText('');
    setLabel('');
    setLowM(null);
    setHighM(null);
  };
  const length = { kind: 'length', units: ['mm', 'in'], limits: { low: 1e-5, high: 10 } } as const;
  const isLength = kind === 'outside length' || kind === 'inside length' || kind === 'step';
  return (
    <>
      <ChooseFrom label="What is it" options={KINDS} chosen={kind} onChoose={setKind} />
      <TextEntry label="Its name" value={label} placeholder="bearing seat" isDraft onChange={setLabel} />
      {kind === 'code' ? (
        <TextEntry
          label="Typed fit or thread"
          value={text}
          placeholder={system === 'us' ? 'shaft .8745/.8740' : '10H7, M6x1-6H'}
          complaint={read && !read.ok ? read.error : null}
          isDraft
          onChange={setText}
        />
      ) : (
        <div className="two">
          <QuantityField
            {...length}
            label="Smallest"
            valueSi={lowM}
            emptyMeans="nothing to add"
            isDraft
            onChange={setLowM}
          />
          <QuantityField
            {...length}
            label="Largest"
            valueSi={highM}
            emptyMeans="the same: no tolerance"
            isDraft
            onChange={setHighM}
          />
        </div>
      )}
      {isLength ? (
        <ChooseFrom
          label="How many of its two faces are coated"
          options={[
            { id: '2', label: 'both' },
            { id: '1', label: 'one' },
            { id: '0', label: 'none' },
          ]}
          chosen={coatedFaces}
          onChoose={setCoatedFaces}
        />
      ) : null}
      {kind === 'step' && coatedFaces === '1' ? (
        <CheckBox isOn={coatedUpper} onChange={setCoatedUpper}>
          The upper face is the coated one
        </CheckBox>
      ) : null}
      <QuantityField
        label="How many on one piece"
        kind="count"
        valueSi={count}
        units={['', '']}
        limits={{ low: 1, high: 1000 }}
        wholeNumber
        onChange={(value) => value !== null && setCount(value)}
      />
      <ActionButton isDisabled={need === null} onPress={add}>
        Add to the list
      </ActionButton>
    </>
  );
}
