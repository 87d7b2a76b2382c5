import { useId, useState } from 'react';
import { doubtPutRight } from '../../core/run/doubt-put-right.ts';
import type { Doubt } from '../../core/run/doubt-reading.ts';
import { parseTypedReading } from '../../core/run/parse-typed-reading.ts';
import type { Reading } from '../../core/run/readings.ts';
import { useApp, useRun, useServices } from '../app/services.ts';
import { doubtContext } from '../state/doubt-context.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { clockText } from './spoken-time.ts';

interface WrongReadingProps {
  readonly tS: number;
  readonly onDone?: () => void;
}

/**
 * An earlier typed reading that may have been wrong: put right, or taken out where nobody knows what it was. Numbers that can hardly be are asked
 * about, as those of a new reading are: a wrong one here hides what the check was about.
 */
export function WrongReading({ tS, onDone }: WrongReadingProps) {
  const { recorder } = useServices().runs;
  const readings = useRun((view) => view.readings);
  const plan = useRun((view) => view.record?.plan ?? null);
  const system = useApp((state) => state.unitSystem);
  const place = readings.tS.indexOf(tS);
  const [text, setText] = useState(() => `${readings.voltageV[place]} ${readings.currentA[place]}`);
  const [said, setSaid] = useState('');
  const [doubt, setDoubt] = useState<(Doubt & { readonly right: Omit<Reading, 'tS'> }) | null>(null);
  const id = useId();
  if (!plan || place < 0) return null;
  const keep = (right: Omit<Reading, 'tS'> | null): void => {
    setDoubt(null);
    recorder.putRight(tS, right);
    onDone?.();
  };
  const put = (): void => {
    const temperatureUnit = system === 'us' ? '°F' : '°C';
    const parsed = parseTypedReading(text, { mode: plan.mode, last: null, temperatureUnit });
    if (!parsed.ok) return setSaid(`${parsed.error.message} ${parsed.error.remedy}`);
    const { voltageV, currentA, bathTemperatureK } = parsed.value;
    const kelvin = bathTemperatureK ?? readings.bathTemperatureK?.[place] ?? NaN;
    const right = { voltageV, currentA, ...(Number.isNaN(kelvin) ? {} : { bathTemperatureK: kelvin }) };
    const hasNext = place + 1 < readings.tS.length && tS >= plan.rampS;
    const next = hasNext
      ? { voltageV: readings.voltageV[place + 1]!, currentA: readings.currentA[place + 1]! }
      : null;
    // The bath's temperature as it was kept has been answered for.
    const typed = bathTemperatureK === null ? { voltageV, currentA } : right;
    const found = doubtPutRight(typed, doubtContext(plan, readings, place, system), next);
    if (found) setDoubt({ ...found, right });
    else keep(right);
  };
  return (
    <form
      className="field"
      onSubmit={(event) => {
        event.preventDefault();
        put();
      }}
    >
      <label htmlFor={id}>The reading at {clockText(tS * 1000)}, V A</label>
      <input
        id={id}
        value={text}
        autoComplete="off"
        onChange={(event) => {
          setText(event.target.value);
          setSaid('');
          setDoubt(null);
        }}
      />
      {said ? (
        <span className="wrong" role="status">
          {said}
        </span>
      ) : null}
      {doubt ? (
        <MessageCard level="check" message={doubt.reason} remedy={doubt.remedy ?? 'Is this right?'}>
          <ActionButton onPress={() => keep(doubt.right)}>Yes, it stood there</ActionButton>
          <ActionButton onPress={() => setDoubt(null)}>Change it</ActionButton>
        </MessageCard>
      ) : null}
      <div className="row">
        <ActionButton type="submit" look="small">
          Put it right
        </ActionButton>
        <ActionButton look="small" onPress={() => keep(null)}>
          Take it out
        </ActionButton>
      </div>
    </form>
  );
}
