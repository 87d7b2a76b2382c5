import { changeField } from '../../core/job/edit-field.ts';
import type { FieldSetting } from '../../core/job/field-setting.ts';
import type { FilmReading } from '../../core/job/job-field.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { filmLaw } from '../../core/field/film-law.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { filmReadings } from '../../core/shop/film-readings.ts';
import { useApp, useLogbook, useServices } from '../app/services.ts';
import { useEffect, useState } from 'react';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** What the map rests on: bath and film, each replaced by the user's own figures. */
export function FieldGroundwork({ setting }: { setting: FieldSetting | null }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const field = useApp((state) => jobOf(state).field);
  const [draft, setDraft] = useState<{ j: number | null; v: number | null }>({ j: null, v: null });
  const film = filmLaw(field.filmReadings);
  const setReadings = (filmReadings: FilmReading[], label: string): void =>
    editJob(store, label, (job) => changeField(job, { filmReadings }));
  return (
    <DisclosureSection title="What it rests on" state={film.source.standing}>
      {setting ? <FigureView figure={setting.conductivity} size="small" /> : null}
      <QuantityField
        label="Conductivity you measured"
        kind="conductivity"
        valueSi={field.conductivitySPerM}
        units={['S/m', 'S/m']}
        limits={{ low: 1, high: 150 }}
        emptyMeans="from strength and temperature"
        onChange={(conductivitySPerM) =>
          editJob(
            store,
            'Conductivity',
            (job) => changeField(job, { conductivitySPerM }),
            'field-conductivity',
          )
        }
      />
      <h4>Voltage over the film</h4>
      <p className="soft">
        {inReaderUnits(film.source.text, system)} ({film.source.standing}). Your own steady voltages at two or
        more densities take its place.
      </p>
      {field.filmReadings.length > 0 ? (
        <ul className="plain-list">
          {field.filmReadings.map((reading, i) => (
            <li key={i} className="row">
              <span className="grow">
                {formatQuantity('currentDensity', reading.currentDensityAPerM2, system).text}:{' '}
                {formatQuantity('voltage', reading.voltageV, system).text}
              </span>
              <ActionButton
                look="small"
                onPress={() =>
                  setReadings(
                    field.filmReadings.filter((_, other) => other !== i),
                    'Voltage reading removed',
                  )
                }
              >
                Remove<span className="visually-hidden"> reading {i + 1}</span>
              </ActionButton>
            </li>
          ))}
        </ul>
      ) : null}
      <FromLogbook onTake={(readings) => setReadings(readings, 'Voltages of the logbook')} />
      <div className="two">
        <QuantityField
          label="Density"
          kind="currentDensity"
          valueSi={draft.j}
          units={['A/dm²', 'A/ft²']}
          limits={{ low: 10, high: 1000 }}
          emptyMeans="none"
          isDraft
          onChange={(j) => setDraft({ ...draft, j })}
        />
        <QuantityField
          label="Voltage"
          kind="voltage"
          valueSi={draft.v}
          units={['V', 'V']}
          limits={{ low: 1, high: 100 }}
          emptyMeans="none"
          isDraft
          onChange={(v) => setDraft({ ...draft, v })}
        />
      </div>
      <ActionButton
        isDisabled={draft.j === null || draft.v === null}
        onPress={() => {
          if (draft.j === null || draft.v === null) return;
          setReadings(
            [...field.filmReadings, { currentDensityAPerM2: draft.j, voltageV: draft.v }],
            'Voltage reading',
          );
          setDraft({ j: null, v: null });
        }}
      >
        Add the reading
      </ActionButton>
    </DisclosureSection>
  );
}

/** The shop's own runs, where they tell a law. */
function FromLogbook({ onTake }: { onTake: (readings: FilmReading[]) => void }) {
  const { runs } = useServices();
  useEffect(() => runs.logbook.follow(() => {}), [runs]); // A book that can not be read is told at the start.
  const readings = filmReadings(useLogbook((state) => state.runs));
  if (readings.length === 0) return null;
  return (
    <ActionButton onPress={() => onTake(readings)}>
      Take them from {readings.length} runs of the logbook
    </ActionButton>
  );
}
