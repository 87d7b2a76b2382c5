import { useState } from 'react';
import {
  admittanceLimitS,
  dyeSpotCheck,
  massLossCheck,
  type SpotRating,
} from '../../core/finish/seal-checks.ts';
import { printSource } from '../../core/figure/print-figure.ts';
import { COATING_SPECIFICATIONS } from '../../core/reference/coating-specifications.ts';
import { changeFinish } from '../../core/job/edit-wet.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** What the coating has to meet, and how to tell that it does. */
export function FinishChecks() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const { thicknessM } = job.process;
  const specification = COATING_SPECIFICATIONS.find(({ id }) => id === job.finish.specification);
  const sealed = job.finish.seal.way !== 'none';
  return (
    <>
      <ChooseFrom
        label="Specification to meet"
        options={[
          { id: '', label: 'none' },
          ...COATING_SPECIFICATIONS.map(({ id, title }) => ({ id, label: `${id}: ${title}` })),
        ]}
        chosen={specification?.id ?? ''}
        onChoose={(id) =>
          editJob(store, 'Specification', (j) => changeFinish(j, { specification: id === '' ? null : id }))
        }
      />
      {specification ? (
        <p className="soft">
          Misses are listed at the head of this stage. {printSource(specification.source)}
        </p>
      ) : null}
      {sealed ? (
        <>
          <DyeSpot />
          <MassLoss />
          {thicknessM > 3e-6 ? (
            <p className="soft">
              An admittance meter should read below {(admittanceLimitS(thicknessM) * 1e6).toFixed(0)} µS (ISO
              2931, from memory).
            </p>
          ) : null}
        </>
      ) : (
        <p className="soft">The tests of a seal are for sealed films.</p>
      )}
    </>
  );
}

function DyeSpot() {
  const [rating, setRating] = useState<string | null>(null);
  const check = rating === null ? null : dyeSpotCheck(Number(rating) as SpotRating);
  return (
    <section className="stack" aria-label="Dye spot test">
      <h4>Dye spot</h4>
      <p className="soft">A drop of acid, rinse, a drop of dye, rinse: how much stain stays?</p>
      <ChoiceRow
        label="Stain that stays, 0 none to 5 deep"
        choices={['0', '1', '2', '3', '4', '5'].map((id) => ({ id, label: id }))}
        chosen={rating}
        onChoose={setRating}
      />
      {check ? (
        <MessageCard
          level={check.passed ? 'note' : 'check'}
          message={check.text}
          remedy={printSource(check.measured.source)}
        />
      ) : null}
    </section>
  );
}

function MassLoss() {
  const [beforeKg, setBefore] = useState<number | null>(null);
  const [afterKg, setAfter] = useState<number | null>(null);
  const [areaM2, setArea] = useState(1e-2);
  const check =
    beforeKg === null || afterKg === null ? null : massLossCheck(beforeKg, afterKg, areaM2, 'iso');
  const mass = { kind: 'mass', units: ['g', 'g'], limits: { low: 1e-6, high: 10 } } as const;
  return (
    <section className="stack" aria-label="Mass loss test">
      <h4>Mass lost in the acid test</h4>
      <p className="caution">
        <strong>Chromium VI</strong> causes cancer: this test is a laboratory’s work. Type what it weighed.
      </p>
      <div className="two">
        <QuantityField
          {...mass}
          label="Before"
          valueSi={beforeKg}
          emptyMeans="not weighed"
          onChange={setBefore}
        />
        <QuantityField
          {...mass}
          label="After"
          valueSi={afterKg}
          emptyMeans="not weighed"
          onChange={setAfter}
        />
        <QuantityField
          label="Area of the test piece"
          kind="area"
          valueSi={areaM2}
          units={['cm²', 'in²']}
          limits={{ low: 1e-5, high: 1 }}
          onChange={(value) => value !== null && setArea(value)}
        />
      </div>
      {check && !check.ok ? (
        <MessageCard level="check" message={check.error.message} remedy={check.error.remedy} />
      ) : null}
      {check?.ok ? (
        <>
          <FigureView figure={check.value.measured} size="small" />
          <p>{check.value.text}</p>
        </>
      ) : null}
    </section>
  );
}
