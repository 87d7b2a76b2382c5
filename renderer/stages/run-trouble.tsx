import { useState } from 'react';
import { rankCauses } from '../../core/finish/rank-causes.ts';
import type { TroubleFacts } from '../../core/finish/trouble-facts.ts';
import { SYMPTOMS } from '../../core/finish/trouble-table.ts';
import type { Readings } from '../../core/run/readings.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { runTroubleFacts } from '../../core/shop/run-trouble-facts.ts';
import { useRun } from '../app/services.ts';
import { useRunJobFacts } from '../state/use-run-job-facts.ts';
import { ChooseFrom } from '../widgets/choose-from.tsx';

/** Causes of a symptom, weighed with what this run knows of itself. */
export function RunTrouble() {
  const { record, progress, readings } = useRun((view) => view);
  return record ? (
    <TroubleOfRun record={record} readings={readings} filmM={progress?.thicknessM.valueSi ?? null} />
  ) : null;
}

interface TroubleOfRunProps {
  readonly record: RunRecord;
  readonly readings: Readings;
  readonly filmM: number | null;
}

/** Causes of a symptom, by what the run and its job know. */
export function TroubleOfRun({ record, readings, filmM }: TroubleOfRunProps) {
  const ofJob = useRunJobFacts(record);
  return <TroubleCauses facts={runTroubleFacts(record, readings, filmM, ofJob)} />;
}

function TroubleCauses({ facts }: { readonly facts: TroubleFacts }) {
  const [symptom, setSymptom] = useState(SYMPTOMS[0]!.id);
  const ranked = rankCauses(symptom, facts);
  return (
    <>
      <ChooseFrom
        label="What do you see?"
        options={SYMPTOMS.map(({ id, title }) => ({ id, label: title }))}
        chosen={symptom}
        onChoose={setSymptom}
      />
      {ranked.ok
        ? ranked.value.slice(0, 3).map((cause) => (
            <div key={cause.id} className="record-card">
              <h4>{cause.text}</h4>
              <span className="soft">
                {Math.round(cause.likelihood * 100)} of 100
                {cause.because.length > 0 ? `: ${cause.because.join('; ')}` : ', by experience alone'}
              </span>
              <span>{cause.check}</span>
              <span>{cause.wayBack}</span>
            </div>
          ))
        : null}
    </>
  );
}
