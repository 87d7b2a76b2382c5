import type { RunPlan } from '../../core/electrical/plan-run.ts';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import { tankLine } from '../../core/job/hanging-sheet.ts';
import { isOpen } from '../../core/job/job-messages.ts';
import { partBefore } from '../../core/job/part-before.ts';
import { jobVoltage } from '../../core/job/job-voltage.ts';
import { loadCurrents } from '../../core/job/load-currents.ts';
import { makeRunSheet } from '../../core/job/run-sheet.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { timerText, timerUnit } from '../../core/units/timer-text.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { LoadTable } from './paper-loads.tsx';
import { PartBlock } from './paper-part.tsx';
import type { PaperSheetProps } from './paper-props.ts';
import { ReadingsTable, voltsToExpect } from './paper-readings.tsx';
import { StepLine } from './paper-step.tsx';
import { both, line, withRange } from './paper-words.ts';

/** The run sheet as it is printed: first what and how much, then what to do and what was read. */
export function PaperSheet(props: PaperSheetProps) {
  const { job, plan, messages, system, date } = props;
  const sheet = makeRunSheet(job, plan, props.wet, system);
  const inWhichTank = tankLine(job, props.tank.check, plan.loads, system);
  const film = { ...plan.thicknessM, label: 'film' };
  const open = messages.filter(isOpen);
  const voltage = jobVoltage(job);
  const currents = loadCurrents(plan.loads.map(({ currentA }) => currentA));
  return (
    <article className="paper" aria-label="Run sheet">
      <header className="paper-head">
        <h1>{job.name}</h1>
        <div>
          <div>{date}</div>
          <div>Anodizing run sheet</div>
        </div>
      </header>
      {open.length > 0 ? (
        <section className="paper-open">
          <strong>Still open when printed:</strong>
          <ul>
            {open.map((message, index) => (
              <li key={index}>
                {partBefore(job.parts, message)}
                {inReaderUnits(`${message.message} ${message.remedy}`, system)}
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <section className="paper-amounts" aria-label="Amounts">
        {currents.length === 1 ? (
          <BigFigure
            figure={
              plan.loads.length > 1
                ? { ...plan.loadCurrentA, label: `Current, each of ${plan.loads.length} loads` }
                : plan.loadCurrentA
            }
            system={system}
          />
        ) : null}
        <BigFigure figure={plan.rampS} system={system} />
        <BigFigure figure={plan.holdS} system={system} />
        <BigFigure figure={plan.totalS} system={system} />
      </section>
      {plan.loads.length > 1 ? <LoadTable job={job} plan={plan} system={system} tank={props.tank} /> : null}
      <p className="paper-line">
        {plan.loads.length > 1 ? 'All loads together: ' : ''}
        {line(plan.areaM2, system)} · {line(plan.chargeC, system)} · {line(film, system)} · density{' '}
        {both('currentDensity', job.process.currentDensityAPerM2, ['A/dm²', 'A/ft²'], system)}
        {job.process.supplyCurrentLimitA === null
          ? ''
          : ` · supply up to ${formatIn('current', job.process.supplyCurrentLimitA, 'A').text}`}
        {job.process.supplyVoltageLimitV === null
          ? ''
          : `, ${formatIn('voltage', job.process.supplyVoltageLimitV, 'V').text}`}
      </p>
      {voltage.ok ? (
        <p className="paper-line">
          voltage to expect: {withRange(voltage.value.start, system)} once steady,{' '}
          {withRange(voltage.value.end, system)} at the end
        </p>
      ) : null}
      {inWhichTank ? <p className="paper-line">{inWhichTank}</p> : null}
      {props.thickness.map((text) => (
        <p key={text} className="paper-line">
          {text}
        </p>
      ))}
      {job.parts.map((part) => (
        <PartBlock
          key={part.id}
          part={part}
          masks={sheet.masks.find(({ partId }) => partId === part.id)}
          {...props}
        />
      ))}
      {job.note.trim() === '' ? null : <p className="paper-note">{job.note}</p>}
      <footer className="paper-foot">
        Charge constant {line(chargeConstant(plan), system)}: {printFigure(plan.holdS, system).source}. Area:{' '}
        {printFigure(plan.areaM2, system).source}.
        {voltage.ok ? ` Voltage: ${printFigure(voltage.value.end, system).source}.` : ''}
        {job.bath.mix.onSheet
          ? ''
          : ' A fresh bath’s acid and water: “Print these amounts” at Bath, Mix a bath.'}
      </footer>
      <section className="paper-cautions">
        <h2>Take care</h2>
        <ul>
          {sheet.cautions.map((caution) => (
            <li key={caution.id}>{inReaderUnits(caution.text, system)}</li>
          ))}
        </ul>
      </section>
      <section className="paper-steps">
        <h2>Steps</h2>
        {sheet.steps.map((step) => (
          <StepLine key={step.id} step={step} loads={step.kind === 'mix' ? 1 : plan.loads.length} />
        ))}
      </section>
      {plan.loads.map((_, load) => (
        <ReadingsTable
          key={load}
          load={load}
          minutes={sheet.readingMinutes}
          job={job}
          plan={plan}
          system={system}
          expectedV={voltage.ok ? voltsToExpect(voltage.value) : ''}
        />
      ))}
    </article>
  );
}

function chargeConstant(plan: RunPlan): Figure {
  const input = plan.holdS.inputs.find((candidate) => candidate.kind === 'chargePerVolume');
  if (!input) throw new RangeError('chargeConstant: the hold has no charge constant among its inputs');
  return { ...plan.holdS, label: '', kind: 'chargePerVolume', valueSi: input.valueSi };
}

function BigFigure({ figure, system }: { figure: Figure; system: UnitSystem }) {
  const printed = printFigure(figure, system);
  const { number, unit } =
    figure.kind === 'time'
      ? { number: timerText(figure.valueSi), unit: timerUnit(figure.valueSi) }
      : printed.value;
  return (
    <div className="paper-big">
      <div className="paper-big-label">{printed.label}</div>
      <div className="paper-big-value">
        {number} <small>{unit}</small>
      </div>
      {figure.unconfirmed ? <div className="paper-mark">{figure.unconfirmed}</div> : null}
    </div>
  );
}
