import { useId, useState } from 'react';
import { parseTypedReading } from '../../core/run/parse-typed-reading.ts';
import { useApp, useRun, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { clockText } from './spoken-time.ts';

/** An earlier typed reading that may have been wrong: put right, or taken out where nobody knows what it was. */
export function WrongReading({ tS }: { readonly tS: number }) {
  const { recorder } = useServices().runs;
  const readings = useRun((view) => view.readings);
  const mode = useRun((view) => view.record?.plan.mode ?? 'current');
  const temperatureUnit = useApp((state) => (state.unitSystem === 'us' ? '°F' : '°C'));
  const place = readings.tS.indexOf(tS);
  const [text, setText] = useState(() => `${readings.voltageV[place]} ${readings.currentA[place]}`);
  const [said, setSaid] = useState('');
  const id = useId();
  const put = (): void => {
    const parsed = parseTypedReading(text, { mode, last: null, temperatureUnit });
    if (!parsed.ok) return setSaid(`${parsed.error.message} ${parsed.error.remedy}`);
    const { voltageV, currentA, bathTemperatureK } = parsed.value;
    const kelvin = bathTemperatureK ?? readings.bathTemperatureK?.[place] ?? NaN;
    recorder.putRight(tS, {
      voltageV,
      currentA,
      ...(Number.isNaN(kelvin) ? {} : { bathTemperatureK: kelvin }),
    });
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
        }}
      />
      {said ? (
        <span className="wrong" role="status">
          {said}
        </span>
      ) : null}
      <div className="row">
        <ActionButton type="submit" look="small">
          Put it right
        </ActionButton>
        <ActionButton look="small" onPress={() => recorder.putRight(tS, null)}>
          Take it out
        </ActionButton>
      </div>
    </form>
  );
}
