import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { useState } from 'react';
import { useRun, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { SPEEDS } from './practise-speeds.ts';

/** What the hands do in a practise run: the knobs of the supply that isn't there, its switch, the clamps. */
export function PractiseHands() {
  const { recorder } = useServices().runs;
  const record = useRun((view) => view.record);
  const hasBegun = useRun((view) => view.powerOnMs !== null);
  const [warned, setWarned] = useState(false);
  const [said, setSaid] = useState('');
  if (!record?.practise) return null;
  const { practise, plan } = record;
  const { acts } = practise;
  const isSwitchedOn = acts.findLast((act) => act.kind === 'power')?.on ?? true;
  const plannedA = plannedCurrentA(plan);
  const setCurrent = acts.findLast((act) => act.kind === 'set-current')?.currentA;
  const setVoltage = acts.findLast((act) => act.kind === 'set-voltage')?.voltageV;
  const clamp = (): void => {
    // What the real tank answers with an arc is said here instead.
    if (isSwitchedOn) return setWarned(true);
    recorder.act((atS) => ({ kind: 'clamp', atS }));
    setSaid('Clamped again. Switch on and see whether the volts come back.');
  };
  const toggle = (): void => {
    setWarned(false);
    setSaid('');
    recorder.act((atS) => ({ kind: 'power', atS, on: !isSwitchedOn }));
  };
  return (
    <section className="stack" aria-label="Your hands">
      <h3>Your hands at the simulated supply</h3>
      <div className="field">
        <span className="field-label">Practise at</span>
        <ChoiceRow
          label="Practise at"
          choices={SPEEDS}
          chosen={String(practise.speed) as (typeof SPEEDS)[number]['id']}
          onChoose={(id) => recorder.setSpeed(Number(id))}
        />
      </div>
      {hasBegun ? (
        <>
          <div className="two">
            <QuantityField
              label="Current knob"
              kind="current"
              valueSi={setCurrent ?? (plan.mode === 'current' ? plannedA : null)}
              units={['A', 'A']}
              limits={{ low: 0, high: plan.supplyCurrentLimitA ?? 10 * plannedA }}
              emptyMeans="wide open"
              onChange={(value) =>
                value !== null && recorder.act((atS) => ({ kind: 'set-current', atS, currentA: value }))
              }
            />
            <QuantityField
              label="Voltage knob"
              kind="voltage"
              valueSi={setVoltage ?? (plan.mode === 'voltage' ? plan.expectedVoltageV : null)}
              units={['V', 'V']}
              limits={{ low: 0, high: plan.supplyVoltageLimitV ?? 30 }}
              emptyMeans="wide open"
              onChange={(value) =>
                value !== null && recorder.act((atS) => ({ kind: 'set-voltage', atS, voltageV: value }))
              }
            />
          </div>
          <div className="row">
            <ActionButton onPress={toggle}>
              {isSwitchedOn ? 'Switch the supply off' : 'Switch the supply on'}
            </ActionButton>
            <ActionButton onPress={clamp}>Clamp the load again</ActionButton>
          </div>
          {warned && isSwitchedOn ? (
            <MessageCard
              level="stop"
              message="The power is on: an arc at the clamp lights the hydrogen, and the current goes through you."
              remedy="Switch the supply off first, then touch."
            />
          ) : null}
          {said ? (
            <p className="soft" role="status">
              {said}
            </p>
          ) : null}
        </>
      ) : (
        <p className="soft">Knobs, switch and clamps can be used from the ramp on, past the hold too.</p>
      )}
    </section>
  );
}
