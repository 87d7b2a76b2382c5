import { printFigure } from '../../core/figure/print-figure.ts';
import type { Figure } from '../../core/figure/figure.ts';
import { makeRunSheet, type SheetMasks, type SheetStep } from '../../core/job/run-sheet.ts';
import type { ExpectedVoltage } from '../../core/bath/expected-voltage.ts';
import type { WetPlan } from '../../core/job/wet-messages.ts';
import type { Job, Part } from '../../core/job/job.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
import type { RunPlan } from '../../core/electrical/plan-run.ts';
import type { FaceTable } from '../../core/faces/face-table.ts';
import { describeFaces } from '../../core/job/face-words.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { PartHangingPlan } from '../../core/job/hanging-plan.ts';
import { hangerText, hangingLines, tankLine } from '../../core/job/hanging-sheet.ts';
import { jobVoltage } from '../../core/job/job-voltage.ts';
import type { TankView } from '../../core/job/tank-messages.ts';
import { formatIn, formatNumber, formatQuantity } from '../../core/units/format-quantity.ts';
import type { QuantityKind, UnitSystem } from '../../core/units/unit-table.ts';

export interface PaperSheetProps {
  readonly job: Job;
  readonly plan: RunPlan;
  readonly measures: Readonly<Record<string, PartMeasure>>;
  /** Per part id. */
  readonly faces: Readonly<Record<string, FaceTable>>;
  readonly messages: readonly JobMessage[];
  readonly wet: WetPlan;
  readonly system: UnitSystem;
  /** PNG data URL per part id. */
  readonly pictures: Readonly<Record<string, string>>;
  readonly date: string;
  /** How each part hangs, per part id. */
  readonly hanging: Readonly<Record<string, PartHangingPlan>>;
  readonly tank: TankView;
  /** One line a part whose thickness was worked out, see core/job/field-sheet-line.ts. */
  readonly thickness: readonly string[];
}

/** The run sheet as it is printed: page one says what and how much, page two what to do and what was read. */
export function PaperSheet(props: PaperSheetProps) {
  const { job, plan, messages, system, date } = props;
  const sheet = makeRunSheet(job, plan, props.wet, system);
  const inWhichTank = tankLine(job, props.tank.check, system);
  const film = { ...plan.thicknessM, label: 'film' };
  const open = messages.filter((message) => message.level !== 'note');
  const voltage = jobVoltage(job);
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
                {message.message} {message.remedy}
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <section className="paper-amounts" aria-label="Amounts">
        <BigFigure figure={plan.loadCurrentA} system={system} />
        <BigFigure figure={plan.rampS} system={system} />
        <BigFigure figure={plan.holdS} system={system} />
        <BigFigure figure={plan.totalS} system={system} />
      </section>
      <p className="paper-line">
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
          voltage to expect: {withRange(voltage.value.start, system)} once the current is steady,{' '}
          {withRange(voltage.value.end, system)} at the end
        </p>
      ) : null}
      {inWhichTank ? <p className="paper-line">{inWhichTank}</p> : null}
      {props.thickness.map((text) => (
        <p key={text} className="paper-line">
          {text}
        </p>
      ))}
      {plan.loads.length > 1 ? <LoadTable job={job} plan={plan} system={system} tank={props.tank} /> : null}
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
      </footer>
      <section className="paper-cautions">
        <h2>Take care</h2>
        <ul>
          {sheet.cautions.map((caution) => (
            <li key={caution.id}>{caution.text}</li>
          ))}
        </ul>
      </section>
      <section className="paper-second">
        <section className="paper-steps">
          <h2>Steps</h2>
          {sheet.steps.map((step) => (
            <StepLine key={step.id} step={step} />
          ))}
        </section>
        <ReadingsTable
          minutes={sheet.readingMinutes}
          plan={plan}
          system={system}
          expectedV={voltage.ok ? voltsToExpect(voltage.value) : ''}
        />
      </section>
    </article>
  );
}

function line(figure: Figure, system: UnitSystem): string {
  const printed = printFigure(figure, system);
  const mark = figure.unconfirmed ? ` [${figure.unconfirmed}]` : '';
  const beside = [printed.also, printed.range].filter((text) => text !== '').join(', ');
  return `${printed.label.toLowerCase()} ${printed.value.text}${beside ? ` (${beside})` : ''}${mark}`;
}

function withRange(figure: Figure, system: UnitSystem): string {
  const { value, range } = printFigure(figure, system);
  return range ? `${value.text} (${range})` : value.text;
}

/** A value in the reader's own unit, and in the other one behind it. */
function both(
  kind: QuantityKind,
  valueSi: number,
  [metric, us]: readonly [string, string],
  system: UnitSystem,
  digits = 3,
): string {
  const [first, second] = system === 'metric' ? [metric, us] : [us, metric];
  return `${formatIn(kind, valueSi, first, digits).text} (= ${formatIn(kind, valueSi, second, digits).text})`;
}

function chargeConstant(plan: RunPlan): Figure {
  const input = plan.holdS.inputs.find((candidate) => candidate.kind === 'chargePerVolume');
  if (!input) throw new RangeError('chargeConstant: the hold has no charge constant among its inputs');
  return { ...plan.holdS, label: '', kind: 'chargePerVolume', valueSi: input.valueSi };
}

function BigFigure({ figure, system }: { figure: Figure; system: UnitSystem }) {
  const printed = printFigure(figure, system);
  return (
    <div className="paper-big">
      <div className="paper-big-label">{printed.label}</div>
      <div className="paper-big-value">
        {printed.value.number} <small>{printed.value.unit}</small>
      </div>
      {figure.unconfirmed ? <div className="paper-mark">{figure.unconfirmed}</div> : null}
    </div>
  );
}

function LoadTable({ job, plan, system, tank }: Pick<PaperSheetProps, 'job' | 'plan' | 'system' | 'tank'>) {
  const inTank = tank.plan?.ok ? tank.plan.value.hanging.loads : [];
  return (
    <table className="paper-table">
      <caption>Loads</caption>
      <thead>
        <tr>
          <th scope="col">Load</th>
          <th scope="col">Pieces</th>
          <th scope="col">Area</th>
          <th scope="col">Current</th>
          <th scope="col">Charge</th>
          <th scope="col">Done</th>
        </tr>
      </thead>
      <tbody>
        {plan.loads.map((load, index) => (
          <tr key={index}>
            <td>{index + 1}</td>
            <td>
              {load.pieces
                .map((count, item) => (count > 0 ? `${count} × ${job.parts[item]?.name ?? ''}` : ''))
                .filter((text) => text !== '')
                .join(', ')}
              {inTank[index] ? <small> {inTank[index].text}</small> : null}
            </td>
            <td>{formatQuantity('area', load.areaM2, system).text}</td>
            <td>{formatIn('current', load.currentA, 'A').text}</td>
            <td>{formatIn('charge', load.chargeC, 'A·h').text}</td>
            <td>
              <span className="paper-box" />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

type PartBlockProps = PaperSheetProps & { readonly part: Part; readonly masks: SheetMasks | undefined };

/** Plugs, caps and tape to lay out, and sizes machined before. */
function MaskLines({ masks, system }: { masks: SheetMasks; system: UnitSystem }) {
  const size = (metres: number): string => formatQuantity('length', metres, system).text;
  const lines = masks.lines.map(
    ({ item, lowM, highM, count, features }) =>
      `${count} × ${item} ${highM > lowM ? `${size(lowM)} to ${size(highM)}` : size(lowM)} (${features.join(', ')})`,
  );
  return (
    <>
      {lines.length > 0 ? (
        <>
          <dt>Plugs, caps, tape</dt>
          <dd>{lines.join('; ')}</dd>
        </>
      ) : null}
      {masks.machine.length > 0 ? (
        <>
          <dt>Fits</dt>
          <dd>{masks.machine.join('; ')}</dd>
        </>
      ) : null}
    </>
  );
}

function PartBlock({ part, measures, faces, pictures, system, masks, hanging }: PartBlockProps) {
  const measure = measures[part.id];
  const table = faces[part.id];
  if (!measure || !table) return null;
  const facesWith = (wanted: (row: number) => boolean): string => {
    const rows = measure.treatmentOfFace.map((_, row) => row).filter(wanted);
    return describeFaces(table, rows, metresPerUnit(part.unit), system).join('; ');
  };
  const masked = facesWith(
    (row) => measure.treatmentOfFace[row] === 'mask' || measure.treatmentOfFace[row] === 'mixed',
  );
  const bare = facesWith((row) => measure.treatmentOfFace[row] === 'contact');
  const shown = facesWith((row) => measure.showOfFace[row]!);
  const picture = pictures[part.id];
  const hangs = hanging[part.id];
  return (
    <section className="paper-part">
      <h2>
        {part.quantity} × {part.name}
      </h2>
      <div className="paper-part-columns">
        {picture ? (
          <img className="paper-picture" src={picture} alt={`${part.name} with its numbered contacts`} />
        ) : null}
        <dl>
          <dt>Coated, each</dt>
          <dd>
            {both('area', measure.coatedM2, ['cm²', 'in²'], system, 4)}
            {measure.unconfirmed ? <span className="paper-mark">{measure.unconfirmed}</span> : null}
          </dd>
          <dt>Mask</dt>
          <dd>
            {masked === ''
              ? 'nothing'
              : `${masked}; in all ${formatQuantity('area', measure.maskedM2, system).text}`}
          </dd>
          {masks ? <MaskLines masks={masks} system={system} /> : null}
          {bare === '' ? null : (
            <>
              <dt>Bare contact</dt>
              <dd>{bare}</dd>
            </>
          )}
          <dt>Show faces</dt>
          <dd>{shown === '' ? 'none marked' : shown}</dd>
          {hangs ? (
            <>
              <dt>Hang it</dt>
              <dd>{hangingLines(part, hangs).join('; ')}</dd>
            </>
          ) : null}
          <dt>Clamp at</dt>
          <dd>
            {part.contacts.length === 0 ? (
              'no pin set'
            ) : (
              <ol>
                {part.contacts.map((contact) => (
                  <li key={contact.id}>
                    {hangerText(contact.hanger, system)}; bare patch{' '}
                    {formatQuantity('length', contact.patchDiameterM, system).text} across
                  </li>
                ))}
              </ol>
            )}
          </dd>
        </dl>
      </div>
    </section>
  );
}

function StepLine({ step }: { step: SheetStep }) {
  return (
    <div className="paper-step">
      <span className="paper-box" />
      <div>
        <strong>{step.title}</strong>
        <div className="paper-detail">{step.detail}</div>
      </div>
      <div className="paper-minutes">{step.minutes === '' ? '' : `${step.minutes} min`}</div>
      <div className="paper-record">
        {step.record.map((what) => (
          <span key={what}>{what} ________</span>
        ))}
      </div>
    </div>
  );
}

/** "13 to 16 V": between the least at the start of the hold and the most at its end. */
function voltsToExpect({ start, end }: ExpectedVoltage): string {
  const low = start.lowSi ?? start.valueSi;
  const high = end.highSi ?? end.valueSi;
  return `${formatNumber(low, 3)} to ${formatIn('voltage', high, 'V').text}`;
}

interface ReadingsTableProps {
  readonly minutes: readonly number[];
  readonly plan: RunPlan;
  readonly system: UnitSystem;
  /** What the hold should read, in words; empty where it is not known. */
  readonly expectedV: string;
}

function ReadingsTable({ minutes, plan, system, expectedV }: ReadingsTableProps) {
  const rampMin = plan.rampS.valueSi / 60;
  const amps = (minute: number): string => {
    const share = rampMin > 0 ? Math.min(1, minute / rampMin) : 1;
    return formatIn('current', plan.loadCurrentA.valueSi * share, 'A').text;
  };
  return (
    <table className="paper-table readings">
      <caption>Readings</caption>
      <thead>
        <tr>
          <th scope="col">Minute</th>
          <th scope="col">Planned</th>
          <th scope="col">Read A</th>
          <th scope="col">Read V{expectedV === '' ? null : <small> hold: {expectedV}</small>}</th>
          <th scope="col">Bath {system === 'metric' ? '°C' : '°F'}</th>
          <th scope="col">Remarks</th>
        </tr>
      </thead>
      <tbody>
        {minutes.map((minute) => (
          <tr key={minute}>
            <td>{minute} min</td>
            <td>{amps(minute)}</td>
            <td />
            <td />
            <td />
            <td className="wide" />
          </tr>
        ))}
      </tbody>
    </table>
  );
}
