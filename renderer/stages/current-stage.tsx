import { PROCESS_LIMITS, type ProcessField } from '../../core/electrical/check-process.ts';
import { faradayBound } from '../../core/electrical/faraday.ts';
import type { RunPlan } from '../../core/electrical/plan-run.ts';
import { changeProcess } from '../../core/job/edit-job.ts';
import { bathStartK } from '../../core/job/bath-start.ts';
import { jobVoltage } from '../../core/job/job-voltage.ts';
import { STARTS_TOO_WARM } from '../../core/job/wet-messages.ts';
import { DEFAULT_PROCESS } from '../../core/job/default-job.ts';
import type { Process } from '../../core/job/job.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { MessageList } from './message-list.tsx';
import { SupplyChoice } from './supply-choice.tsx';
import { StageHead } from './stage-head.tsx';

interface FieldSpec {
  readonly field: ProcessField;
  readonly label: string;
  readonly kind: QuantityKind;
  readonly units: readonly [string, string];
  readonly emptyMeans?: string;
}

const MAIN_FIELDS: readonly FieldSpec[] = [
  { field: 'thicknessM', label: 'Film thickness', kind: 'length', units: ['µm', 'mil'] },
  {
    field: 'currentDensityAPerM2',
    label: 'Current density',
    kind: 'currentDensity',
    units: ['A/dm²', 'A/ft²'],
  },
  { field: 'rampS', label: 'Ramp from zero to full current', kind: 'time', units: ['min', 'min'] },
];

const SUPPLY_FIELDS: readonly FieldSpec[] = [
  {
    field: 'supplyCurrentLimitA',
    label: 'Supply gives at most',
    kind: 'current',
    units: ['A', 'A'],
    emptyMeans: 'no limit known',
  },
  {
    field: 'supplyVoltageLimitV',
    label: 'Supply’s highest voltage',
    kind: 'voltage',
    units: ['V', 'V'],
    emptyMeans: 'not known',
  },
];

/** The current and time planner: what to set on the supply, for how long. */
export function CurrentStage() {
  const plan = useDerived((derived) => derived.plan);
  return (
    <>
      <StageHead title="Current and time">
        Area times density is the current; thickness sets how long it must flow. The supply must be able to
        hold it.
      </StageHead>
      {plan?.ok ? (
        <section className="stack" aria-label="What to set">
          <FigureView figure={plan.value.loadCurrentA} />
          <FigureView figure={plan.value.totalS} />
        </section>
      ) : null}
      {plan && !plan.ok ? (
        <MessageCard level="stop" message={plan.error.message} remedy={plan.error.remedy} />
      ) : null}
      {plan === null ? <p className="soft">Open a part first; the figures follow from its area.</p> : null}
      <section className="stack" aria-label="Process">
        {MAIN_FIELDS.map((spec) => (
          <ProcessQuantity key={spec.field} spec={spec} />
        ))}
      </section>
      <section className="stack" aria-label="Supply">
        <h3>Your supply</h3>
        <SupplyChoice />
        {SUPPLY_FIELDS.map((spec) => (
          <ProcessQuantity key={spec.field} spec={spec} />
        ))}
        {plan?.ok && plan.value.options.length > 0 ? <OptionTable plan={plan.value} /> : null}
      </section>
      {plan?.ok ? <SmallFigures plan={plan.value} /> : null}
      <MappedThickness />
      <BathAndVoltage />
      <ChargeConstant />
      <MessageList stage="current" />
    </>
  );
}

/** The plan’s thickness is a mean; where a map was worked out, its thinnest place stands beside it. */
function MappedThickness() {
  const system = useApp((state) => state.unitSystem);
  const parts = useApp(jobOf).parts;
  const field = useDerived((derived) => derived.field);
  const film = (valueM: number): string =>
    formatIn('length', valueM, system === 'metric' ? 'µm' : 'mil').text;
  const lines = parts.flatMap(({ id, name }) => {
    const known = field[id];
    if (!known?.reading || known.stale) return [];
    const { meanM, leastM } = known.reading.map;
    return [`${name}: mean ${film(meanM)}, thinnest place ${film(leastM)}, by the thickness map.`];
  });
  if (lines.length === 0) return null;
  return (
    <section className="stack" aria-label="By the thickness map">
      {lines.map((text) => (
        <p key={text} className="soft">
          {text}
        </p>
      ))}
    </section>
  );
}

function SmallFigures({ plan }: { plan: RunPlan }) {
  return (
    <section className="figure-pair" aria-label="Plan in detail">
      <FigureView figure={plan.rampS} size="small" />
      <FigureView figure={plan.holdS} size="small" />
      <FigureView figure={plan.loadChargeC} size="small" />
      {plan.loads.length > 1 ? <FigureView figure={plan.chargeC} size="small" /> : null}
      {plan.thicknessM.lowSi === undefined ? null : <FigureView figure={plan.thicknessM} size="small" />}
      <FigureView figure={plan.loadCount} size="small" />
    </section>
  );
}

function ProcessQuantity({ spec }: { spec: FieldSpec }) {
  const { store } = useServices();
  const value = useApp((state) => jobOf(state).process[spec.field]);
  const complaint = useDerived((derived) => derived.messages.find((message) => message.field === spec.field));
  const change = (valueSi: number | null): void => {
    const next = { [spec.field]: valueSi } as Partial<Process>;
    editJob(store, spec.label, (job) => changeProcess(job, next), `process-${spec.field}`);
  };
  return (
    <QuantityField
      label={spec.label}
      kind={spec.kind}
      valueSi={value}
      units={spec.units}
      limits={PROCESS_LIMITS[spec.field]}
      emptyMeans={spec.emptyMeans}
      complaint={complaint}
      onChange={change}
    />
  );
}

/** The bath decides how many volts the current takes; it is set at its own stage. */
function BathAndVoltage() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const voltage = jobVoltage(job);
  const { acidKgPerM3 } = job.bath;
  const temperatureK = bathStartK(job);
  const tooWarm = useDerived(({ messages }) => messages.find(({ code }) => code === STARTS_TOO_WARM));
  return (
    <section className="stack" aria-label="Bath and voltage">
      <h3>Your bath</h3>
      <div className="row">
        <span className="grow">
          {formatQuantity('temperature', temperatureK, system).text},{' '}
          {formatQuantity('massConcentration', acidKgPerM3, system).text} sulfuric acid
        </span>
        <ActionButton look="small" onPress={() => store.setState({ stage: 'bath' })}>
          Change the bath
        </ActionButton>
      </div>
      {tooWarm ? (
        <MessageCard level={tooWarm.level} message={tooWarm.message} remedy={tooWarm.remedy} />
      ) : null}
      {voltage.ok ? (
        <>
          <FigureView figure={voltage.value.start} size="small" />
          <FigureView figure={voltage.value.end} size="small" />
        </>
      ) : (
        <MessageCard level="note" message={voltage.error.message} remedy={voltage.error.remedy} />
      )}
    </section>
  );
}

function OptionTable({ plan }: { plan: RunPlan }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const planned = useApp((state) => jobOf(state).process.currentDensityAPerM2);
  const take = (densityAPerM2: number): void =>
    editJob(store, 'Density the supply holds', (job) =>
      changeProcess(job, { currentDensityAPerM2: densityAPerM2 * (1 - 1e-6) }),
    );
  return (
    <table className="plain" aria-label="What the supply can hold">
      <thead>
        <tr>
          <th scope="col">Loads</th>
          <th scope="col">Density</th>
          <th scope="col">Current</th>
          <th scope="col">Power on, each</th>
          <th scope="col">
            <span className="visually-hidden">Take it</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {plan.options.map((option) => {
          const asPlanned = Math.abs(option.currentDensityAPerM2 / planned - 1) < 1e-6;
          return (
            <tr key={option.loads}>
              <th scope="row">{option.loads}</th>
              <td>{formatQuantity('currentDensity', option.currentDensityAPerM2, system).text}</td>
              <td>{formatIn('current', option.currentA, 'A').text}</td>
              <td>{formatIn('time', option.totalPerLoadS, 'min', 4).text}</td>
              <td>
                {asPlanned ? (
                  <span className="soft">planned</span>
                ) : (
                  <ActionButton look="small" onPress={() => take(option.currentDensityAPerM2)}>
                    Take
                    <span className="visually-hidden">
                      {option.loads === 1 ? ' one load' : ` ${option.loads} loads`} at this density
                    </span>
                  </ActionButton>
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function ChargeConstant() {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const value = useApp((state) => jobOf(state).process.chargePerVolumeCPerM3);
  const usual = DEFAULT_PROCESS.chargePerVolumeCPerM3;
  const print = (valueSi: number): string => formatQuantity('chargePerVolume', valueSi, system, 3).text;
  const bound = faradayBound();
  return (
    <section className="stack" aria-label="Charge constant">
      <h3>Charge for the film</h3>
      <ProcessQuantity
        spec={{
          field: 'chargePerVolumeCPerM3',
          label: 'Charge constant',
          kind: 'chargePerVolume',
          units: ['A·min/dm²/µm', 'A·min/ft²/mil'],
        }}
      />
      <FigureView figure={bound} size="small" />
      <p className="soft">
        Your constant means {Math.round((bound.valueSi / value) * 100)} % of the current ends up as film.
      </p>
      {Math.abs(value / usual - 1) > 1e-6 ? (
        <ActionButton
          look="small"
          onPress={() =>
            editJob(store, 'Charge constant', (job) => changeProcess(job, { chargePerVolumeCPerM3: usual }))
          }
        >
          Back to the 720 rule ({print(usual)})
        </ActionButton>
      ) : null}
    </section>
  );
}
