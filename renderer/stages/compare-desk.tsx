import { useEffect, useMemo, useState, type RefObject } from 'react';
import { densitySpread } from '../../core/field/cathode-layouts.ts';
import { changeTank, setAttitude } from '../../core/job/edit-hanging.ts';
import { changeProcess } from '../../core/job/edit-job.ts';
import { readField, type FieldReading } from '../../core/job/field-reading.ts';
import type { Job, Part } from '../../core/job/job.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import type { FieldOutcome, FieldTrial } from '../state/field-store.ts';
import { runTrial, settingFor, startField } from '../state/run-field.ts';
import { scaleRange, thicknessScalar, type ScaleRange } from '../state/thickness-map.ts';
import type { ViewportHandle } from '../viewport/viewport-props.ts';
import { useApp, useDerived, useField, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { RunProgress } from './field-start.tsx';
import { ThicknessScale } from './thickness-scale.tsx';

interface Shown {
  readonly id: string;
  readonly name: string;
  readonly trial: FieldTrial | null;
  readonly outcome: FieldOutcome | null;
  readonly reading: FieldReading | null;
}

const PICTURE_PX = { widthPx: 640, heightPx: 440 };

/** The job and its what-ifs side by side, all maps on one scale. Lies over the 3D view, whose camera draws them. */
export function CompareDesk({ part, viewport }: { part: Part; viewport: RefObject<ViewportHandle | null> }) {
  const services = useServices();
  const shown = useShown(part);
  const run = useField((state) => state.run);
  const readings = shown.flatMap(({ reading }) => (reading ? [reading] : []));
  const range = readings.length > 0 ? scaleRange(readings.map(({ map }) => map)) : null;
  return (
    <section className="compare-desk" aria-label="Side by side">
      <header className="row">
        <h2 className="grow">Side by side, one scale</h2>
        <ActionButton onPress={() => services.field.store.setState({ comparing: false })}>
          Back to the one map
        </ActionButton>
      </header>
      {run ? <RunProgress run={run} /> : null}
      {range ? (
        <ThicknessScale range={range} {...(readings[0] ? { limitM: readings[0].limitM } : {})} plain />
      ) : null}
      <div className="compare-cards">
        {shown.map((one) => (
          <CompareCard key={one.id} one={one} part={part} range={range} viewport={viewport} />
        ))}
      </div>
    </section>
  );
}

function useShown(part: Part): Shown[] {
  const services = useServices();
  const job = useApp(jobOf);
  const known = useDerived((derived) => derived.field[part.id]);
  const measure = useDerived((derived) => derived.measures[part.id]);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const results = useField((state) => state.results);
  const trials = useField((state) => state.trials);
  return useMemo(() => {
    const base: Shown = {
      id: 'job',
      name: 'The job as it stands',
      trial: null,
      outcome: known?.stale ? null : (known?.outcome ?? null),
      reading: known?.stale ? null : (known?.reading ?? null),
    };
    const mine = trials.filter(({ partId }) => partId === part.id);
    return [
      base,
      ...mine.map((trial): Shown => {
        const setting = settingFor(services, part.id, trial.variant);
        const outcome = setting.ok ? (results.get(setting.value.key) ?? null) : null;
        const reading =
          outcome && geometry && measure
            ? readField(job, outcome.setting, outcome.field, { geometry })
            : null;
        return { id: trial.id, name: trial.name, trial, outcome, reading };
      }),
    ];
  }, [services, job, known, measure, geometry, results, trials, part.id]);
}

interface CardProps {
  readonly one: Shown;
  readonly part: Part;
  readonly range: ScaleRange | null;
  readonly viewport: RefObject<ViewportHandle | null>;
}

function CompareCard({ one, part, range, viewport }: CardProps) {
  const services = useServices();
  const { store, field } = services;
  const system = useApp((state) => state.unitSystem);
  const isBusy = useField((state) => state.run !== null);
  const { trial, outcome, reading, name } = one;
  const picture = usePicture(one, range, viewport);
  const film = (valueM: number): string =>
    formatIn('length', valueM, system === 'metric' ? 'µm' : 'mil').text;
  const again = (): void =>
    void (trial ? runTrial(services, part.id, name, trial.variant) : startField(services, part.id));
  return (
    <article className="compare-card" aria-label={name}>
      <h3>{name}</h3>
      {picture ? (
        <img src={picture} alt={`Thickness map: ${name}`} />
      ) : (
        <div className="compare-empty">
          {isBusy ? (
            <span className="soft">waiting for its map</span>
          ) : (
            <ActionButton onPress={again}>Work out this map</ActionButton>
          )}
        </div>
      )}
      {reading && outcome ? (
        <dl className="compare-figures">
          <div>
            <dt>Mean</dt>
            <dd>{film(reading.map.meanM)}</dd>
          </div>
          <div>
            <dt>Least</dt>
            <dd>{film(reading.map.leastM)}</dd>
          </div>
          <div>
            <dt>Most</dt>
            <dd>{film(reading.map.mostM)}</dd>
          </div>
          <div>
            <dt>Spread</dt>
            <dd>{formatNumber(100 * densitySpread(outcome.field.result.fine.part), 2)} %</dd>
          </div>
          <div>
            <dt>Below limit</dt>
            <dd>{formatNumber((100 * reading.figures.areaBelowM2.valueSi) / reading.map.areaM2, 2)} %</dd>
          </div>
          <div>
            <dt>Voltage</dt>
            <dd>{formatIn('voltage', reading.figures.cellVoltageV.valueSi, 'V').text}</dd>
          </div>
        </dl>
      ) : null}
      {trial ? (
        <div className="row">
          {trial.taken === null ? (
            <span className="soft grow">{rodWords(trial, system)}</span>
          ) : (
            <ActionButton
              look="small"
              isDisabled={reading === null}
              onPress={() => editJob(store, name, (job) => withTrial(job, part.id, trial))}
            >
              Take it into the job<span className="visually-hidden">: {name}</span>
            </ActionButton>
          )}
          <ActionButton
            look="small"
            onPress={() =>
              field.store.setState((state) => ({ trials: state.trials.filter(({ id }) => id !== trial.id) }))
            }
          >
            Remove<span className="visually-hidden"> {name}</span>
          </ActionButton>
        </div>
      ) : null}
    </article>
  );
}

/** What the job can't hold, in words to write down. */
function rodWords({ name, variant }: FieldTrial, system: UnitSystem): string {
  const rod = variant.innerCathodes?.[0];
  const keep = 'Neither job nor run sheet can hold it: write it on the sheet by hand';
  if (!rod) return `${keep}.`;
  const lengthM = Math.hypot(...rod.toM.map((x, i) => x - rod.fromM[i]!));
  const size = (m: number): string => formatIn('length', m, system === 'metric' ? 'mm' : 'in', 3).text;
  return `${keep}, “${name.toLowerCase()}: ${size(rod.diameterM)} across, ${size(lengthM)} long, on the supply’s minus, touching nothing”.`;
}

function withTrial(job: Job, partId: string, { variant, taken }: FieldTrial): Job {
  if (taken === 'tank' && job.tank && variant.tank)
    return changeTank(job, { ...job.tank, tank: variant.tank });
  if (taken === 'attitude' && variant.attitude) return setAttitude(job, partId, variant.attitude);
  if (taken === 'density' && variant.currentDensityAPerM2 !== undefined) {
    return changeProcess(job, { currentDensityAPerM2: variant.currentDensityAPerM2 });
  }
  return job;
}

/** Drawn by the 3D view as it is turned now; again only when the map or the scale is another. */
function usePicture(
  one: Shown,
  range: ScaleRange | null,
  viewport: RefObject<ViewportHandle | null>,
): string | null {
  const [drawn, setDrawn] = useState<{ readonly of: string; readonly url: string | null } | null>(null);
  const { outcome, reading } = one;
  const low = range?.low;
  const high = range?.high;
  const perDensityM = reading?.perDensityM;
  const limitM = reading?.limitM;
  const of = outcome ? `${low} ${high} ${perDensityM} ${limitM} ${outcome.setting.key}` : '';
  useEffect(() => {
    if (!outcome || perDensityM === undefined || low === undefined || high === undefined) return;
    const { positions, result } = outcome.field;
    // After this picture of the page: drawing takes a moment where the graphics are slow.
    const frame = requestAnimationFrame(() => {
      const scalar = thicknessScalar(positions, result.fine.part, perDensityM, { low, high }, limitM);
      const request = { ...PICTURE_PX, background: 'transparent', view: 'as-turned', scalar } as const;
      setDrawn({ of, url: viewport.current?.snapshot(request) ?? null });
    });
    return () => cancelAnimationFrame(frame);
  }, [of, outcome, perDensityM, limitM, low, high, viewport]);
  return drawn?.of === of ? drawn.url : null;
}
