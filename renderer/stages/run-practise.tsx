import { useState } from 'react';
import type { Practise, PractiseFault } from '../../core/shop/run-record.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { SPEEDS } from './practise-speeds.ts';

const FAULTS: readonly { readonly id: PractiseFault; readonly label: string }[] = [
  { id: 'surprise', label: 'Surprise me' },
  { id: 'none', label: 'Nothing goes wrong' },
  { id: 'contact', label: 'A contact lets go' },
  { id: 'drift', label: 'A contact lets go bit by bit' },
  { id: 'loose', label: 'A contact comes and goes' },
  { id: 'total', label: 'The whole load loses contact' },
  { id: 'resistance', label: 'A contact gets worse' },
  { id: 'short', label: 'The load touches the cathode' },
  { id: 'burning', label: 'The part burns' },
  { id: 'off', label: 'The supply goes off' },
  { id: 'wrong-mode', label: 'The supply holds the wrong thing' },
  { id: 'limit', label: 'The supply is at its limit' },
];
const AT_A_TIME: readonly PractiseFault[] = [
  'contact',
  'drift',
  'loose',
  'total',
  'resistance',
  'short',
  'burning',
  'off',
];
const WITH_SHARE: readonly PractiseFault[] = ['contact', 'drift', 'loose'];

interface RunPractiseProps {
  readonly rampS: number;
  readonly holdS: number;
  readonly onStart: (practise: Practise) => Promise<void>;
}

/** A run with the supply that isn't there: choose what goes wrong and how fast time goes. */
export function RunPractise({ rampS, holdS, onStart }: RunPractiseProps) {
  const [fault, setFault] = useState<PractiseFault>('surprise');
  const [atS, setAtS] = useState(Math.min(1800, rampS + holdS / 2));
  const [lostShare, setLostShare] = useState(0.4);
  const [speed, setSpeed] = useState<(typeof SPEEDS)[number]['id']>('60');
  return (
    <>
      <p className="soft">
        Film, voltage, temperature and noise follow the physics of a run; everything it leaves is marked as
        simulated and nothing is learnt from it.
      </p>
      <ChooseFrom label="What goes wrong" options={FAULTS} chosen={fault} onChoose={setFault} />
      {AT_A_TIME.includes(fault) ? (
        <QuantityField
          label="When, after power on"
          kind="time"
          valueSi={atS}
          units={['min', 'min']}
          limits={{ low: 0, high: 36_000 }}
          onChange={(value) => value !== null && setAtS(value)}
        />
      ) : null}
      {WITH_SHARE.includes(fault) ? (
        <QuantityField
          label="Share of the area"
          kind="fraction"
          valueSi={lostShare}
          units={['%', '%']}
          limits={{ low: 0.02, high: 0.98 }}
          onChange={(value) => value !== null && setLostShare(value)}
        />
      ) : null}
      <div className="field">
        <span className="field-label">Speed</span>
        <ChoiceRow label="Speed" choices={SPEEDS} chosen={speed} onChoose={setSpeed} />
      </div>
      <ActionButton
        onPress={() => {
          // A seed of its own for each practise run; it is kept with the run.
          const seed = crypto.getRandomValues(new Uint32Array(1))[0]!;
          void onStart({ seed, fault, faultAtS: atS, lostShare, speed: Number(speed), acts: [] });
        }}
      >
        Start practising
      </ActionButton>
    </>
  );
}
