import { useState } from 'react';
import { useRun } from '../app/services.ts';
import { isZeroAtPowerOn } from '../state/typed-readings.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { clockText } from './spoken-time.ts';
import { WrongReading } from './wrong-reading.tsx';

/** Any typed reading of the run, to be put right: a wrong one that nothing asked about, or one that was put right to something wrong. */
export function EarlierReading() {
  const readings = useRun((view) => view.readings);
  const [chosenS, setChosenS] = useState<number | null>(null);
  const list = [...readings.tS].flatMap((tS, place) => {
    const label = `${clockText(tS * 1000)}: ${readings.voltageV[place]} V, ${readings.currentA[place]} A`;
    return isZeroAtPowerOn(readings, place) ? [] : [{ id: String(tS), label, tS }];
  });
  const newest = list.at(-1);
  if (!newest) return null;
  if (chosenS === null || !list.some(({ tS }) => tS === chosenS)) {
    return (
      <ActionButton look="small" onPress={() => setChosenS(newest.tS)}>
        Put one right…
      </ActionButton>
    );
  }
  return (
    <div className="stack" role="group" aria-label="Put a reading right">
      <ChooseFrom
        label="Which reading was wrong?"
        options={list.reverse()}
        chosen={String(chosenS)}
        onChoose={(id) => setChosenS(Number(id))}
      />
      <WrongReading key={chosenS} tS={chosenS} onDone={() => setChosenS(null)} />
      <ActionButton look="small" onPress={() => setChosenS(null)}>
        Leave them as they are
      </ActionButton>
    </div>
  );
}
