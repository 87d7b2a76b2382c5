import { jobRedo, jobStrip } from '../../core/job/finish-plan.ts';
import type { Part } from '../../core/job/job.ts';
import { MOST_REDOS } from '../../core/finish/redo-verdict.ts';
import { faceId } from '../../core/faces/face-table.ts';
import { changeFinishSection, changeStrips } from '../../core/job/edit-wet.ts';
import type { PartFitPlan } from '../../core/job/fit-plan.ts';
import { bareStrippedMetal, strippedFirst } from '../../core/job/job-growth.ts';
import type { PartStrips } from '../../core/job/job-finish.ts';
import { listWords } from '../../core/units/list-words.ts';
import { sayQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { CheckBox } from '../widgets/check-box.tsx';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { FinishField } from './finish-field.tsx';

/** Taking the film off again: what to make up, what it costs, whether it is worth it. */
export function FinishStrip({ part }: { part: Part | undefined }) {
  const { store } = useServices();
  const job = useApp(jobOf);
  const plan = useDerived((derived) => derived.plan);
  const fits = useDerived((derived) => (part ? derived.wet.fits[part.id] : undefined));
  const measures = useDerived((derived) => derived.measures);
  if (!plan?.ok || !part)
    return <p className="soft">A strip follows from area and thickness; plan those first.</p>;
  const coatedM2 = Object.fromEntries(
    Object.entries(measures).map(([id, measure]) => [id, measure.coatedM2]),
  );
  const strip = jobStrip(job, plan.value, coatedM2);
  const first = strippedFirst(job);
  const redo = jobRedo(job, part, fits);
  const change = (label: string, next: Partial<typeof job.finish.strip>): void =>
    editJob(store, label, (j) => changeFinishSection(j, 'strip', next));
  const ofPart = (label: string, next: Partial<PartStrips>, key?: string): void =>
    editJob(store, label, (j) => changeStrips(j, part.id, next), key && `strips-${part.id}-${key}`);
  const isOneOf = job.parts.length > 1;
  const length = { kind: 'length', units: ['mm', 'in'], limits: { low: 1e-5, high: 1 } } as const;
  return (
    <>
      <p className="caution">
        <strong>Lye</strong> blinds and burns and makes hydrogen on bare metal: lye into cold water, eyes
        covered, ventilate, no flame.
      </p>
      <div className="two">
        <FinishField
          section="strip"
          field="volumeM3"
          label="Volume of the strip"
          kind="volume"
          units={['L', 'US gal']}
          limits={{ low: 1e-4, high: 10 }}
        />
        <FinishField
          section="strip"
          field="lyeKgPerM3"
          label="Lye in the strip"
          kind="massConcentration"
          units={['g/L', 'oz/US gal']}
          limits={{ low: 10, high: 150 }}
        />
        <FinishField
          section="strip"
          field="temperatureK"
          label="Strip temperature"
          kind="temperature"
          units={['°C', '°F']}
          limits={{ low: 283.15, high: 358.15 }}
        />
        <FinishField
          section="strip"
          field="overTimeS"
          label="Left in after the film is gone"
          kind="time"
          units={['min', 'min']}
          limits={{ low: 0, high: 3600 }}
        />
      </div>
      {strip.ok ? (
        <>
          <div className="figure-pair">
            <FigureView figure={strip.value.lyeMass} size="small" />
            <FigureView figure={strip.value.beadsVolume} size="small" />
            <FigureView figure={strip.value.time} size="small" />
            <FigureView figure={strip.value.metalRemoved} size="small" />
            <FigureView figure={strip.value.bareRemoved} size="small" />
            <FigureView figure={strip.value.rise} size="small" />
            <FigureView figure={strip.value.lyeUsed} size="small" />
            <FigureView figure={strip.value.hydrogen} size="small" />
          </div>
          {isOneOf ? (
            <p className="soft">
              {first.length === 0
                ? 'For all parts of the job.'
                : `For ${listWords(first.map(({ name }) => name))}, which this run strips first.`}
            </p>
          ) : null}
          <ul className="plain-list">
            {strip.value.notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </>
      ) : (
        <MessageCard level="check" message={strip.error.message} remedy={strip.error.remedy} />
      )}
      <CheckBox
        isOn={job.finish.strip.bareCovered}
        onChange={(bareCovered) => change('Plugged in the strip', { bareCovered })}
      >
        What stays bare is plugged or masked in every strip
      </CheckBox>
      {job.finish.strip.bareCovered ? null : <BareSizes fits={fits} />}
      <h4>{isOneOf ? `${part.name}: is a redo worth it?` : 'Is a redo worth it?'}</h4>
      <CheckBox isOn={part.strips.first} onChange={(isOn) => ofPart('Strip first', { first: isOn })}>
        This run begins with a strip{isOneOf ? ' of this part' : ''}, one more than so far: put it on the
        sheet
      </CheckBox>
      <div className="two">
        <QuantityField
          label="Stripped and coated again so far"
          kind="count"
          valueSi={part.strips.soFar}
          units={['', '']}
          limits={{ low: 0, high: 20 }}
          wholeNumber
          onChange={(soFar) => soFar !== null && ofPart('Stripped so far', { soFar }, 'so-far')}
        />
        <QuantityField
          {...length}
          label="Thinnest wall as machined"
          valueSi={part.strips.wallM}
          emptyMeans="no thin wall"
          onChange={(wallM) => ofPart('Thinnest wall', { wallM }, 'wall')}
        />
        <QuantityField
          {...length}
          label="It may get as thin as"
          valueSi={part.strips.leastWallM}
          emptyMeans="not limited"
          onChange={(leastWallM) => ofPart('Least wall', { leastWallM }, 'least')}
        />
      </div>
      {isOneOf ? (
        <p className="soft">
          Counted for this part alone. Pieces of it with another past are a part of their own: open its model
          again for them.
        </p>
      ) : null}
      {redo ? (
        <div className={`record-card ${redo.verdict === 'worth it' ? '' : 'look'}`}>
          <div className="row">
            <span className={`verdict ${redo.verdict === 'worth it' ? 'good' : 'look'}`}>{redo.verdict}</span>
            <span className="soft">
              {redo.redosLeft >= MOST_REDOS ? `${MOST_REDOS} or more` : redo.redosLeft} redos before a size
              given is lost for certain
            </span>
          </div>
          {redo.reasons.map((reason) => (
            <p key={reason}>{reason}</p>
          ))}
          <p className="soft">Counts the fits of this part, the etch, and the strip above.</p>
        </div>
      ) : null}
    </>
  );
}

/** What one strip does to masked sizes whose plugs are out. */
function BareSizes({ fits }: { fits: PartFitPlan | undefined }) {
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const loss = bareStrippedMetal(job);
  const sizes = (fits?.items ?? []).filter(({ masked, factor }) => masked && factor !== null && factor !== 0);
  if (!loss || sizes.length === 0) return null;
  const um = (metres: number): string => sayQuantity('length', Math.abs(metres), system, 'µm', 2);
  return (
    <ul className="plain-list">
      {sizes.map(({ fit, rows, factor }) => (
        <li key={fit.id}>
          {[fit.label, ...rows.map(faceId)].join(' ')}: with its plug or mask off in the lye,{' '}
          {um(factor! * loss.lowM)} to {um(factor! * loss.highM)} {factor! < 0 ? 'larger' : 'smaller'} each
          time
        </li>
      ))}
    </ul>
  );
}
