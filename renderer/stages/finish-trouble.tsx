import { useState } from 'react';
import { rankCauses } from '../../core/finish/rank-causes.ts';
import { SYMPTOMS } from '../../core/finish/trouble-table.ts';
import { troubleFacts } from '../../core/job/finish-plan.ts';
import type { Part } from '../../core/job/job.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { jobOf } from '../state/app-store.ts';
import { useApp, useDerived } from '../app/services.ts';
import { ChooseFrom } from '../widgets/choose-from.tsx';

/** A symptom, its causes ranked by this job's own figures, the check that tells them apart and the way back. */
export function FinishTrouble({ part }: { part: Part | undefined }) {
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.plan);
  const heat = useDerived((derived) => derived.wet.heat);
  const system = useApp((state) => state.unitSystem);
  const say = (text: string): string => inReaderUnits(text, system);
  const [symptom, setSymptom] = useState('');
  const hangs = useDerived((derived) => (part ? derived.hanging[part.id] : undefined));
  const facts = troubleFacts(job, plan?.ok ? plan.value : null, heat?.ok ? heat.value : null, part, hangs);
  const ranked = symptom === '' ? null : rankCauses(symptom, facts);
  return (
    <>
      <ChooseFrom
        label="What does it look like?"
        options={[
          { id: '', label: 'choose a symptom' },
          ...SYMPTOMS.map(({ id, title }) => ({ id, label: title })),
        ]}
        chosen={symptom}
        onChoose={setSymptom}
      />
      {ranked?.ok ? (
        <ol className="causes" aria-label="Likely causes, likeliest first">
          {ranked.value.map((cause) => (
            <li key={cause.id} className="record-card">
              <div className="row">
                <strong className="grow">{cause.text}</strong>
                <span>{Math.round(cause.likelihood * 100)} %</span>
              </div>
              <div className="cause-bar" aria-hidden="true">
                <span style={{ width: `${Math.round(cause.likelihood * 100)}%` }} />
              </div>
              {cause.because.length > 0 ? (
                <p className="soft">In this job: {say(cause.because.join('; '))}.</p>
              ) : null}
              <p>
                <strong>Check:</strong> {say(cause.check)}
              </p>
              <p>
                <strong>Way back:</strong> {say(cause.wayBack)}
              </p>
            </li>
          ))}
        </ol>
      ) : (
        <p className="soft">
          Causes are ranked by how often they are met and by this job’s own figures; what was never measured
          counts neither way.
        </p>
      )}
    </>
  );
}
