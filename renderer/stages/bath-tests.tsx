import { useMemo, useState } from 'react';
import { hydrometerStrength } from '../../core/bath/hydrometer.ts';
import { takenStrength } from '../../core/bath/taken-strength.ts';
import { TITRATION_STEPS, titrate } from '../../core/bath/titration.ts';
import { CAUTIONS } from '../../core/reference/cautions.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { noteInBathBook } from '../state/bath-book.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { EntryGroup, OnceTaken } from '../widgets/entry-group.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** What is in the bath, by hydrometer or by titration. */
export function BathTests() {
  return (
    <>
      <Hydrometer />
      <Titration />
    </>
  );
}

/** 60 °F, the usual stem of battery and acid hydrometers. */
const STEM_K = 273.15 + ((60 - 32) * 5) / 9;

function Hydrometer() {
  const { store } = useServices();
  const bath = useApp(jobOf).bath;
  const [gravity, setGravity] = useState<number | null>(null);
  const [sampleK, setSampleK] = useState(bath.temperatureK);
  const [calibrationK, setCalibrationK] = useState(STEM_K);
  const read = useMemo(
    () =>
      gravity === null
        ? null
        : hydrometerStrength({
            specificGravity: gravity,
            sampleK,
            calibrationK,
            aluminiumKgPerM3: bath.aluminiumKgPerM3,
          }),
    [gravity, sampleK, calibrationK, bath.aluminiumKgPerM3],
  );
  return (
    <EntryGroup>
      <section className="stack" aria-label="Hydrometer">
        <h4>Hydrometer</h4>
        <QuantityField
          label="Reading on the stem"
          kind="count"
          valueSi={gravity}
          units={['', '']}
          limits={{ low: 1, high: 1.85 }}
          emptyMeans="no reading yet"
          onChange={setGravity}
        />
        <div className="two">
          <QuantityField
            label="Sample at"
            kind="temperature"
            valueSi={sampleK}
            units={['°C', '°F']}
            limits={{ low: 273.15, high: 323.15 }}
            onChange={(value) => value !== null && setSampleK(value)}
          />
          <QuantityField
            label="Stem made for"
            kind="temperature"
            valueSi={calibrationK}
            units={['°C', '°F']}
            limits={{ low: 277.15, high: 303.15 }}
            onChange={(value) => value !== null && setCalibrationK(value)}
          />
        </div>
        <OnceTaken what="The figures">
          {read && !read.ok ? (
            <MessageCard level="check" message={read.error.message} remedy={read.error.remedy} />
          ) : null}
          {read?.ok ? (
            <>
              <FigureView figure={read.value.concentration} />
              <div className="figure-pair">
                <FigureView figure={read.value.strength} size="small" />
                <FigureView figure={read.value.density} size="small" />
              </div>
              {read.value.warning ? <p className="soft">{read.value.warning}</p> : null}
              <UseStrength
                kgPerM3={read.value.concentration.valueSi}
                onUse={(acidKgPerM3) =>
                  editJob(store, 'Acid by hydrometer', (job) => changeBath(job, { acidKgPerM3 }))
                }
              >
                Use this strength
              </UseStrength>
            </>
          ) : null}
        </OnceTaken>
      </section>
    </EntryGroup>
  );
}

interface UseStrengthProps {
  readonly kgPerM3: number;
  readonly onUse: (acidKgPerM3: number) => void;
  readonly children: string;
}

/** Takes a measured strength into the job, or says why it can not be that of a bath. */
function UseStrength({ kgPerM3, onUse, children }: UseStrengthProps) {
  const taken = takenStrength(kgPerM3);
  if (!taken.ok)
    return <MessageCard level="note" message={taken.error.message} remedy={taken.error.remedy} />;
  return <ActionButton onPress={() => onUse(taken.value)}>{children}</ActionButton>;
}

const ML = { kind: 'volume', units: ['mL', 'mL'], limits: { low: 0.01e-6, high: 500e-6 } } as const;

/** Stands before the instruction, not after the reading that it is about. */
const FLUORIDE_CAUTION = CAUTIONS.find(({ id }) => id === 'fluoride')!;

function Titration() {
  const services = useServices();
  const bath = useApp(jobOf).bath;
  const [sampleM3, setSample] = useState(5e-6);
  const [lye, setLye] = useState(1);
  const [total, setTotal] = useState<number | null>(null);
  const [fluoride, setFluoride] = useState<number | null>(null);
  const read = useMemo(
    () =>
      total === null ? null : titrate({ sampleM3, lyeMolPerL: lye, totalM3: total, fluorideM3: fluoride }),
    [sampleM3, lye, total, fluoride],
  );
  const free = read?.ok ? (read.value.freeAcid ?? read.value.totalAcid).valueSi : null;
  const aluminium = read?.ok ? (read.value.aluminium?.valueSi ?? null) : null;
  return (
    <EntryGroup>
      <section className="stack" aria-label="Titration">
        <h4>Titration</h4>
        <p className="caution">
          <strong>With fluoride:</strong> {FLUORIDE_CAUTION.text}
        </p>
        <DisclosureSection title="How to titrate" state="to phenolphthalein’s first lasting pink">
          <ol className="pours">
            {TITRATION_STEPS.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </DisclosureSection>
        <div className="two">
          <QuantityField
            {...ML}
            label="Bath sample"
            valueSi={sampleM3}
            onChange={(value) => value !== null && setSample(value)}
          />
          <QuantityField
            label="Lye (NaOH), mol/L"
            kind="count"
            valueSi={lye}
            units={['', '']}
            limits={{ low: 0.01, high: 5 }}
            onChange={(value) => value !== null && setLye(value)}
          />
          <QuantityField
            {...ML}
            label="Lye used, plain sample"
            valueSi={total}
            emptyMeans="not done yet"
            onChange={setTotal}
          />
          <QuantityField
            {...ML}
            label="Lye used, with fluoride"
            valueSi={fluoride}
            emptyMeans="not done"
            onChange={setFluoride}
          />
        </div>
        <OnceTaken what="The figures">
          {read && !read.ok ? (
            <MessageCard level="check" message={read.error.message} remedy={read.error.remedy} />
          ) : null}
          {read?.ok ? (
            <>
              <div className="figure-pair">
                <FigureView figure={read.value.totalAcid} size="small" />
                {read.value.freeAcid ? <FigureView figure={read.value.freeAcid} size="small" /> : null}
                {read.value.aluminium ? <FigureView figure={read.value.aluminium} size="small" /> : null}
              </div>
              {read.value.freeAcid === null ? (
                <p className="soft">
                  Without the fluoride titration the acid held by aluminium is counted as free, so the bath
                  reads stronger than it is.
                </p>
              ) : null}
              <div className="choices">
                <UseStrength
                  kgPerM3={free!}
                  onUse={(acidKgPerM3) =>
                    editJob(services.store, 'Titrated', (job) =>
                      changeBath(job, {
                        acidKgPerM3,
                        ...(aluminium === null
                          ? {}
                          : { aluminiumKgPerM3: Math.round(aluminium * 100) / 100 }),
                      }),
                    )
                  }
                >
                  Use these figures
                </UseStrength>
                {bath.shopBathId === null ? null : (
                  <ActionButton
                    onPress={() =>
                      free !== null &&
                      void noteInBathBook(services, bath.shopBathId!, {
                        kind: 'titrated',
                        at: new Date().toISOString(),
                        freeAcidKgPerM3: free,
                        aluminiumKgPerM3: aluminium,
                      })
                    }
                  >
                    Note it in this bath’s history
                  </ActionButton>
                )}
              </div>
            </>
          ) : null}
        </OnceTaken>
      </section>
    </EntryGroup>
  );
}
