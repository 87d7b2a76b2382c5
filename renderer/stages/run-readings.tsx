import { useEffect, useRef, useState } from 'react';
import type { PowerKnown } from '../../core/reference/step-cautions.ts';
import { parseTypedReading } from '../../core/run/parse-typed-reading.ts';
import { doubtBath, doubtReading, type Doubt } from '../../core/run/doubt-reading.ts';
import type { Reading } from '../../core/run/readings.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useRun, useServices, useSupplyDesk } from '../app/services.ts';
import { doubtContext } from '../state/doubt-context.ts';
import { powerKnown } from '../state/run-power.ts';
import { isZeroAtPowerOn } from '../state/typed-readings.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { EarlierReading } from './earlier-reading.tsx';
import { clockText } from './spoken-time.ts';

type Typed = Omit<Reading, 'tS'>;

function typedWords(
  { voltageV, currentA, bathTemperatureK }: Typed,
  temperatureOnly: boolean,
  system: UnitSystem,
): string {
  const bath =
    bathTemperatureK === undefined ? [] : [formatQuantity('temperature', bathTemperatureK, system, 3).text];
  return [...(temperatureOnly ? [] : [`${voltageV} V`, `${currentA} A`]), ...bath].join(', ');
}

/** Why nothing is typed past the hold. */
const AFTER_HOLD: Partial<Record<PowerKnown, string>> = {
  off: 'The power is off: the readings are done.',
  'still-on': 'The hold is over, and the supply is still on: switch it off first, then look.',
  'may-be-on': 'The hold is over: the readings are done. Switch the supply off first, then look.',
};

/** A reading is a number and Enter; what is not typed is as the display showed it before. */
export function RunReadings() {
  const { runs } = useServices();
  const view = useRun((state) => state);
  const system = useApp((state) => state.unitSystem);
  const live = useSupplyDesk((state) => state.status === 'live' || state.status === 'gap');
  const [text, setText] = useState('');
  const [said, setSaid] = useState('');
  /** What was typed and is asked about; it is neither taken nor lost. */
  const [doubt, setDoubt] = useState<(Doubt & { readonly typed: Typed }) | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const { record, readings, powerIsOn } = view;
  useEffect(() => {
    if (powerIsOn) input.current?.focus();
  }, [powerIsOn]);
  if (!record || view.role !== 'owner') return null;
  const last = readings.tS.length - 1;
  const count = readings.tS.length - (isZeroAtPowerOn(readings, 0) ? 1 : 0);
  const temperatureUnit = system === 'us' ? '°F' : '°C';
  const context = doubtContext(record.plan, readings, readings.tS.length, system);
  const before = context.last;
  const simulated = record.practise !== null;
  const temperatureOnly = simulated || live;
  const parsed = parseTypedReading(text, { mode: record.plan.mode, last: before, temperatureUnit });
  const warm = temperatureOnly
    ? parseTypedReading(`0V 0A ${text}`, { mode: 'current', last: null, temperatureUnit })
    : null;

  const keep = (typed: Typed): void => {
    setDoubt(null);
    if (temperatureOnly) {
      runs.recorder.typeTemperature(typed.bathTemperatureK!);
      const bath = formatQuantity('temperature', typed.bathTemperatureK!, system, 3).text;
      setSaid(`Bath ${bath}: kept with the next reading.`);
      return setText('');
    }
    const added = runs.recorder.addTyped(typed);
    if (!added.ok) return setSaid(`${added.error.message} ${added.error.remedy}`);
    setSaid('');
    setText('');
  };
  const take = (): void => {
    if (temperatureOnly) {
      if (!warm?.ok || warm.value.bathTemperatureK === null)
        return setSaid('Type the bath’s temperature alone.');
      const typed = { voltageV: 0, currentA: 0, bathTemperatureK: warm.value.bathTemperatureK };
      const found = doubtBath(typed, typed.bathTemperatureK, context);
      return found ? setDoubt({ ...found, typed }) : keep(typed);
    }
    if (!parsed.ok) return setSaid(`${parsed.error.message} ${parsed.error.remedy}`);
    const { voltageV, currentA, bathTemperatureK } = parsed.value;
    const typed = { voltageV, currentA, ...(bathTemperatureK === null ? {} : { bathTemperatureK }) };
    const found = doubtReading(typed, context);
    if (found?.isDanger) runs.sounds.knock();
    if (found) setDoubt({ ...found, typed });
    else keep(typed);
  };
  const hint = ((): string => {
    if (text.trim() === '') {
      return temperatureOnly
        ? `The bath’s temperature, then Enter.`
        : `Volts, amps, ${temperatureUnit}, then Enter; one number alone is ${record.plan.mode === 'current' ? 'volts at the same amps' : 'amps at the same volts'}.`;
    }
    if (temperatureOnly) return warm?.ok ? 'Enter keeps it.' : '';
    if (!parsed.ok) return parsed.error.remedy;
    const { voltageV, currentA, bathTemperatureK, asBefore } = parsed.value;
    const mark = (kind: 'voltage' | 'current'): string => (asBefore.includes(kind) ? ' as before' : '');
    const bath =
      bathTemperatureK === null
        ? ''
        : `, bath ${formatQuantity('temperature', bathTemperatureK, system, 3).text}`;
    return `${voltageV} V${mark('voltage')}, ${currentA} A${mark('current')}${bath}`;
  })();

  return (
    <section className="stack" aria-label="Readings">
      <h3>{temperatureOnly ? 'Bath temperature' : 'Type a reading'}</h3>
      <form
        className="field"
        onSubmit={(event) => {
          event.preventDefault();
          take();
        }}
      >
        <label htmlFor="typed-reading">
          {temperatureOnly ? `Bath, ${temperatureUnit}` : `V  A  ${temperatureUnit}`}
        </label>
        <input
          id="typed-reading"
          ref={input}
          value={text}
          autoComplete="off"
          inputMode="text"
          disabled={!powerIsOn}
          aria-describedby="typed-reading-hint"
          onChange={(event) => {
            setText(event.target.value);
            setSaid('');
            setDoubt(null);
          }}
        />
        <span id="typed-reading-hint" className="hint">
          {powerIsOn
            ? hint
            : view.powerOnMs === null
              ? 'Readings count from the ramp on; go there first.'
              : AFTER_HOLD[powerKnown(view)]}
        </span>
        {said ? (
          <span className="wrong" role="status">
            {said}
          </span>
        ) : null}
      </form>
      {doubt ? (
        <MessageCard
          level={doubt.isDanger ? 'stop' : 'check'}
          message={doubt.reason}
          remedy={doubt.remedy ?? 'Is this right?'}
        >
          {doubt.meant ? (
            <ActionButton look="main" onPress={() => keep(doubt.meant!)}>
              No, take {typedWords(doubt.meant, temperatureOnly, system)}
            </ActionButton>
          ) : null}
          <ActionButton onPress={() => keep(doubt.typed)}>Yes, take it as it is</ActionButton>
          <ActionButton
            onPress={() => {
              setDoubt(null);
              input.current?.focus();
            }}
          >
            Change it
          </ActionButton>
        </MessageCard>
      ) : null}
      {last >= 0 ? (
        <div className="stack">
          <span className="soft">
            {count === 1 ? '1 reading' : `${count} readings`}; last {clockText(readings.tS[last]! * 1000)}{' '}
            after power on: {readings.voltageV[last]!.toFixed(2)} V, {readings.currentA[last]!.toFixed(2)} A
          </span>
          {record.origin === 'typed' ? (
            <>
              <ActionButton look="small" onPress={() => runs.recorder.removeLast()}>
                Take the last one back
              </ActionButton>
              <EarlierReading />
            </>
          ) : null}
        </div>
      ) : null}
    </section>
  );
}
