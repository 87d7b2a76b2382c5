import { useMemo } from 'react';
import {
  dropOwnHeating,
  dropOwnVoltage,
  takeOwnCharge,
  takeOwnHeating,
  takeOwnVoltage,
} from '../../core/job/edit-own-runs.ts';
import type { Job } from '../../core/job/job.ts';
import type { Learnt } from '../../core/run/learnt.ts';
import { learnFromRuns, type Learning } from '../../core/shop/learn-from-runs.ts';
import type { RunSummary } from '../../core/shop/run-summary.ts';
import { unitBySymbol } from '../../core/units/find-unit.ts';
import { formatQuantity, preferredUnit } from '../../core/units/format-quantity.ts';
import { useApp, useLogbook, useServices } from '../app/services.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { LineChart, type ChartLine } from '../widgets/line-chart.tsx';
import { DyesLearnt } from './learn-dyes.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

/** What the shop's own runs say, each with its runs, range and picture; offered, never switched to by itself. */
export function LearnPage() {
  const runs = useLogbook((state) => state.runs);
  const learning = useMemo(() => learnFromRuns(runs), [runs]);
  return (
    <article className="run-page" aria-label="What these runs teach">
      <header>
        <h2>What these runs teach</h2>
        <p className="lead">
          Finished real runs count, without those that lost contact or have long gaps. The published values
          stand until you take one of these over.
        </p>
      </header>
      <ChargeLearnt learning={learning.charge} />
      <VoltageLearnt learning={learning.voltage} />
      <HeatingLearnt learning={learning.heating} />
      <DyesLearnt />
    </article>
  );
}

interface LearntSectionProps<T> {
  readonly title: string;
  readonly learning: Learning<T>;
  readonly plot: (learning: Learning<T>) => React.ReactNode;
  readonly children?: (value: T, count: number) => React.ReactNode;
}

function LearntSection<T>({ title, learning, plot, children }: LearntSectionProps<T>) {
  const { learnt, runs } = learning;
  return (
    <section className="stack learnt" aria-label={title}>
      <h3>{title}</h3>
      {learnt.state === 'too-little' ? (
        <>
          <MessageCard level="note" message={learnt.message} remedy={learnt.remedy} />
          {runs.length > 0 ? plot(learning) : null}
        </>
      ) : (
        <>
          {learnt.figures.map((figure) => (
            <FigureView key={figure.label} figure={figure} />
          ))}
          {plot(learning)}
          <p className="soft">
            From {learnt.count} runs.
            {learnt.outliers.length > 0
              ? ` Left out as outliers: ${learnt.outliers.map((index) => runs[index]!.name).join(', ')}.`
              : ' No outliers.'}{' '}
            {learnt.remarks.join(' ')}
          </p>
          {children?.(learnt.value, learnt.count)}
        </>
      )}
    </section>
  );
}

/** Points used, outliers by themselves, and what was made of them, over one x. */
function lines<T>(
  runs: readonly RunSummary[],
  learnt: Learnt<T>,
  x: (run: RunSummary) => number,
  y: (run: RunSummary) => number,
  fit: ((x: number) => number) | null,
): { readonly xs: number[]; readonly lines: ChartLine[] } {
  const outliers = learnt.state === 'offered' ? learnt.outliers : [];
  const order = runs.map((run, index) => ({ run, index })).sort((a, b) => x(a.run) - x(b.run));
  const values = (wanted: boolean): (number | null)[] =>
    order.map(({ run, index }) => (outliers.includes(index) === wanted ? y(run) : null));
  return {
    xs: order.map(({ run }) => x(run)),
    lines: [
      { label: 'runs', values: values(false), points: true },
      ...(outliers.length > 0 ? [{ label: 'outliers', values: values(true), points: true }] : []),
      ...(fit ? [{ label: 'fit', values: order.map(({ run }) => fit(x(run))), dashed: true }] : []),
    ],
  };
}

function ChargeLearnt({ learning }: { readonly learning: ReturnType<typeof learnFromRuns>['charge'] }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const now = useApp((state) => jobOf(state).process);
  const unit = system === 'us' ? 'A·min/ft²/mil' : 'A·min/dm²/µm';
  const perUnit = unitBySymbol('chargePerVolume', unit).toSi;
  const take = (change: (job: Job) => Job): void => editJob(store, 'Charge constant of our own runs', change);
  return (
    <LearntSection
      title="Charge constant"
      learning={learning}
      plot={({ runs, learnt }) => {
        const constant = learnt.state === 'offered' ? learnt.value.chargePerVolumeCPerM3 / perUnit : null;
        const order = [...runs].sort((a, b) => a.startedAtMs - b.startedAtMs);
        const drawn = lines(
          runs,
          learnt,
          (run) => order.indexOf(run) + 1,
          (run) => run.chargeC! / (run.areaM2 * run.measuredM!) / perUnit,
          constant === null ? null : () => constant,
        );
        return (
          <LineChart
            label={`Charge constant of each of ${runs.length} runs, oldest first, in ${unit}`}
            x={{ label: 'run', values: drawn.xs }}
            unit={unit}
            lines={drawn.lines}
          />
        );
      }}
    >
      {(value, count) => {
        const taken = now.ownCharge?.chargePerVolumeCPerM3 === value.chargePerVolumeCPerM3;
        return (
          <div className="row">
            <ActionButton
              look="main"
              isDisabled={taken}
              onPress={() => take((job) => takeOwnCharge(job, value, count))}
            >
              {taken ? 'In use in this job' : 'Use it in this job'}
            </ActionButton>
            <span className="soft">
              The job now uses {formatQuantity('chargePerVolume', now.chargePerVolumeCPerM3, system, 3).text}.
              A single run scatters by {(100 * value.relativeSd).toFixed(1)} %.
            </span>
          </div>
        );
      }}
    </LearntSection>
  );
}

interface TakeOrStopProps {
  /** What the step is called in the job's history. */
  readonly step: string;
  readonly inUse: boolean;
  readonly take: readonly [label: string, change: (job: Job) => Job];
  readonly stop: readonly [label: string, change: (job: Job) => Job];
}

/** Takes what was learnt into the job, or out of it again. */
function TakeOrStop({ step, inUse, take, stop }: TakeOrStopProps) {
  const { store } = useServices();
  const [label, change] = inUse ? stop : take;
  return (
    <ActionButton look={inUse ? 'plain' : 'main'} onPress={() => editJob(store, step, change)}>
      {label}
    </ActionButton>
  );
}

function VoltageLearnt({ learning }: { readonly learning: ReturnType<typeof learnFromRuns>['voltage'] }) {
  const system = useApp((state) => state.unitSystem);
  const now = useApp((state) => jobOf(state).process.ownVoltage);
  const unit = preferredUnit('currentDensity', system);
  const perUnit = unitBySymbol('currentDensity', unit).toSi;
  return (
    <LearntSection
      title="Voltage"
      learning={learning}
      plot={({ runs, learnt }) => {
        const value = learnt.state === 'offered' ? learnt.value : null;
        const drawn = lines(
          runs,
          learnt,
          (run) => run.steadyCurrentA! / run.areaM2 / perUnit,
          (run) => run.steadyVoltageV!,
          value
            ? (x) => value.voltageV + (value.slopeVM2PerA ?? 0) * (perUnit * x - value.densityAPerM2)
            : null,
        );
        return (
          <LineChart
            label={`Steady voltage of ${runs.length} runs over current density in ${unit}`}
            x={{ label: unit, values: drawn.xs }}
            unit="V"
            lines={drawn.lines}
          />
        );
      }}
    >
      {(value, count) =>
        value.slopeVM2PerA === null ? (
          <p className="soft">The contact watch can use it once runs differ in current density.</p>
        ) : (
          <div className="row">
            <TakeOrStop
              step="Voltage of our own runs"
              inUse={now !== undefined}
              take={['Let the contact watch use it in this job', (job) => takeOwnVoltage(job, value, count)]}
              stop={['Stop using it in the contact watch', dropOwnVoltage]}
            />
            <span className="soft">
              A single run lies within ±{(2 * value.residualSdV).toFixed(1)} V of the fit.
            </span>
          </div>
        )
      }
    </LearntSection>
  );
}

function HeatingLearnt({ learning }: { readonly learning: ReturnType<typeof learnFromRuns>['heating'] }) {
  const system = useApp((state) => state.unitSystem);
  const now = useApp((state) => jobOf(state).bath.ownHeating);
  const unit = preferredUnit('temperatureDifference', system);
  const perUnit = unitBySymbol('temperatureDifference', unit).toSi;
  return (
    <LearntSection
      title="Heating of the bath"
      learning={learning}
      plot={({ runs, learnt }) => {
        const value = learnt.state === 'offered' ? learnt.value : null;
        const drawn = lines(
          runs,
          learnt,
          (run) => run.energyJ! / 1000,
          (run) => run.riseK! / perUnit,
          // The straight part alone; loss over the time differs from run to run.
          value ? (x) => (1000 * x) / value.heatCapacityJPerK / perUnit : null,
        );
        return (
          <LineChart
            label={`Rise of the bath in ${runs.length} runs over the energy put in, kJ`}
            x={{ label: 'kJ', values: drawn.xs }}
            unit={unit}
            lines={drawn.lines}
          />
        );
      }}
    >
      {(value, count) => (
        <>
          <div className="row">
            <TakeOrStop
              step="Heating of our own runs"
              inUse={now !== null}
              take={['Use it for this job’s bath', (job) => takeOwnHeating(job, value, count)]}
              stop={['Stop using it for this job’s bath', dropOwnHeating]}
            />
          </div>
          <p className="soft">
            The bath takes {(value.heatCapacityJPerK / 1000).toFixed(0)} kJ per kelvin (
            {(value.lowJPerK / 1000).toFixed(0)} to {(value.highJPerK / 1000).toFixed(0)}); room and cooler
            take {value.lossW.toFixed(0)} W. Hold it against the volume at the Bath stage: 4.0 kJ per kelvin
            and litre.
          </p>
        </>
      )}
    </LearntSection>
  );
}
