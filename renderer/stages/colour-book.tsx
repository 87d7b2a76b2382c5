import { useEffect, useMemo, useState } from 'react';
import type { Figure } from '../../core/figure/figure.ts';
import { printFigure } from '../../core/figure/print-figure.ts';
import type { Dye } from '../../core/finish/colour-book.ts';
import { dipsApart } from '../../core/finish/dips-apart.ts';
import { doubtDips } from '../../core/finish/doubt-dips.ts';
import { toBeDyed } from '../../core/job/to-be-dyed.ts';
import { dyeAgeing } from '../../core/finish/dye-ageing.ts';
import { fitUptake, predictColour, type DyeSetting, type UptakeFit } from '../../core/finish/fit-uptake.ts';
import { timeForColour } from '../../core/finish/time-for-colour.ts';
import { changeFinishSection } from '../../core/job/edit-wet.ts';
import type { DipRecord } from '../../core/shop/dip-record.ts';
import { formatIn, sayQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { hexOfLab } from '../state/dye-accent.ts';
import { notify } from '../state/notices.ts';
import { useApp, useServices, useShelf, useDerived } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { LineChart } from '../widgets/line-chart.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { NewDip } from './new-dip.tsx';
import { uncapital } from '../../core/units/first-letter.ts';

/** The shop's own dips of a dye, the curve they give, and the minutes for the colour wanted. */
export function ColourBook() {
  const services = useServices();
  const { wetShop, store } = services;
  const dye = useApp(jobOf).finish.dye;
  const dyes = useShelf(wetShop.dyes);
  const dips = useShelf(wetShop.dips);
  const record = dyes.records.find(({ id }) => id === dye.shopDyeId);
  const mine = useMemo(
    () => dips.records.filter(({ dyeId }) => dyeId === record?.id).sort((a, b) => a.timeS - b.timeS),
    [dips.records, record],
  );
  const doubted = useMemo(() => new Set(doubtDips(mine).flatMap(({ places }) => places)), [mine]);
  const enter = async (): Promise<void> => {
    const made: Dye = {
      id: crypto.randomUUID(),
      name: dye.name.trim(),
      recipe: dye.recipe,
      potM3: dye.potM3,
      note: '',
    };
    try {
      await wetShop.dyes.put(made, Date.now());
    } catch {
      return notify(store, {
        code: 'dye-not-kept',
        message: 'The dye could not be kept in the shop’s book.',
        remedy: 'Make room on the disk, or let this page keep data, and enter it again.',
      });
    }
    editJob(store, 'Dye', (job) => changeFinishSection(job, 'dye', { shopDyeId: made.id }));
  };
  if (!dye.use) return <p className="soft">Turn the dye on above; the book then holds your dips of it.</p>;
  if (!record) {
    return (
      <>
        <p className="soft">
          The book keeps your dips of each dye: time, temperature, film and the colour that came out. Enter
          the dye named above to start.
        </p>
        <ActionButton isDisabled={dye.name.trim() === ''} onPress={() => void enter()}>
          Enter {dye.name.trim() === '' ? 'the dye' : `“${dye.name.trim()}”`} in the book
        </ActionButton>
      </>
    );
  }
  return (
    <>
      <HowLong dips={mine} />
      <DisclosureSection
        title={`Add a dip of ${record.name}`}
        state="typed, or read from a photo"
        open={mine.length < 3}
      >
        <NewDip dyeId={record.id} dyeName={record.name} />
      </DisclosureSection>
      {mine.length > 0 ? (
        <section className="stack" aria-label={`Dips of ${record.name}`}>
          <h4>Dips of {record.name}</h4>
          {mine.map((dip, place) => (
            <DipCard key={dip.id} dip={dip} isDoubted={doubted.has(place)} />
          ))}
        </section>
      ) : null}
    </>
  );
}

function HowLong({ dips }: { dips: readonly DipRecord[] }) {
  const { store } = useServices();
  const job = useApp(jobOf);
  const { dye } = job.finish;
  const fit = useMemo(() => fitUptake(dips), [dips]);
  const setting = useMemo(
    () => ({ temperatureK: dye.temperatureK, thicknessM: job.process.thicknessM }),
    [dye.temperatureK, job.process.thicknessM],
  );
  const answer = useMemo(
    () => (fit.ok && dye.colour ? timeForColour(fit.value, dye.colour, setting) : null),
    [fit, dye.colour, setting],
  );
  const doubts = useMemo(
    () =>
      doubtDips(dips).map(({ places, message, remedy }) => ({
        places,
        message,
        remedy: `${remedy}${withoutThem(dips, places, dye.colour, setting)}`,
      })),
    [dips, dye.colour, setting],
  );
  const system = useApp((state) => state.unitSystem);
  const plan = useDerived((derived) => derived.plan);
  const apart = fit.ok
    ? dipsApart(fit.value, dips, toBeDyed(job, plan?.ok ? plan.value.loads : []), system)
    : [];
  const doubted = doubts.map(({ places, message, remedy }) => (
    <MessageCard key={places.join()} level="check" message={message} remedy={remedy} />
  ));
  if (!fit.ok) {
    return (
      <>
        {doubted}
        <MessageCard
          level="note"
          message={`${dips.length} ${dips.length === 1 ? 'dip' : 'dips'} so far: ${uncapital(fit.error.message)}`}
          remedy={fit.error.remedy}
        />
      </>
    );
  }
  return (
    <section className="stack" aria-label="How long for this colour">
      {doubted}
      {answer ? (
        <>
          <FigureView figure={answer.time} />
          <div className="row">
            <Pair label="wanted" lab={dye.colour!} />
            <Pair label={`comes out, ΔE ${answer.missBy.toFixed(1)}`} lab={answer.predicted} />
          </div>
          <MessageCard
            level={answer.reach === 'reachable' ? 'note' : 'check'}
            message={answer.text.split('. ')[0]!.replace(/\.?$/, '.')}
            remedy={
              answer.reach === 'not with this dye' && doubts.length > 0
                ? 'That may be the dips’ fault, not the dye’s: put right first what is said of them above.'
                : answer.text.split('. ').slice(1).join('. ') || 'Pull, look, put back until it is right.'
            }
          >
            {answer.reach === 'not with this dye' ? null : (
              <ActionButton
                look="small"
                onPress={() =>
                  editJob(store, 'Time in the dye', (j) =>
                    changeFinishSection(j, 'dye', { timeS: asShown(answer.time) }),
                  )
                }
              >
                Use this time
              </ActionButton>
            )}
          </MessageCard>
          {apart.length > 0 ? (
            <MessageCard
              level="check"
              message={apart.join(' ')}
              remedy="Dip a scrap of the same alloy and film first, and note it here."
            />
          ) : null}
        </>
      ) : (
        <p className="soft">Choose the colour wanted above, and the book says how long it takes.</p>
      )}
      <Curve fit={fit.value} dips={dips} setting={setting} />
    </section>
  );
}

/** What the curve says without one doubtful dip; nothing where that can't be said. */
function withoutThem(
  dips: readonly DipRecord[],
  places: readonly number[],
  colour: DipRecord['colour'] | null,
  setting: DyeSetting,
): string {
  if (!colour || places.length > 1) return '';
  const fit = fitUptake(dips.filter((_, place) => !places.includes(place)));
  if (!fit.ok) return '';
  const { time, reach } = timeForColour(fit.value, colour, setting);
  if (reach === 'not with this dye') return '';
  const { value, range } = printFigure(time, 'metric');
  return ` Without it the colour takes ${value.text}${range ? ` (${range})` : ''}.`;
}

/** The minutes just as they are shown, so that the field says the same. */
function asShown(time: Figure): number {
  return Number(printFigure(time, 'metric').value.number) * 60;
}

function Pair({ label, lab }: { label: string; lab: DipRecord['colour'] }) {
  return (
    <span className="row">
      <span className="swatch" style={{ background: hexOfLab(lab) }} />
      <span className="soft">{label}</span>
    </span>
  );
}

const STRIP_MINUTES = [0.5, 1, 2, 5, 10, 20];
const CURVE_POINTS = 40;

interface CurveProps {
  readonly fit: UptakeFit;
  readonly dips: readonly DipRecord[];
  readonly setting: { readonly temperatureK: number; readonly thicknessM: number };
}

/** The fitted curve in this job's dye bath: colours over time, lightness with its range, and how well it holds. */
function Curve({ fit, dips, setting }: CurveProps) {
  const system = useApp((state) => state.unitSystem);
  const chart = useMemo(() => {
    const rates = fit.allowed.map(({ ratePerS }) => ratePerS);
    const slow = fit.allowed[rates.indexOf(Math.min(...rates))]!;
    const fast = fit.allowed[rates.indexOf(Math.max(...rates))]!;
    const even = Array.from(
      { length: CURVE_POINTS + 1 },
      (_, i) => fit.longestS * 1.2 * (i / CURVE_POINTS) ** 2,
    );
    const seconds = [...new Set([...even, ...dips.map(({ timeS }) => timeS)])].sort((a, b) => a - b);
    const light = (curve: typeof slow): number[] =>
      seconds.map((timeS) => predictColour(fit, curve, setting, timeS).l);
    return {
      x: { label: 'min', values: seconds.map((s) => s / 60) },
      lines: [
        { label: 'Curve', values: light(fit.best) },
        {
          label: 'Your dips',
          values: seconds.map((s) => dips.find(({ timeS }) => timeS === s)?.colour.l ?? null),
          points: true,
        },
        { label: 'Slowest', values: light(slow), dashed: true },
        { label: 'Fastest', values: light(fast), dashed: true },
      ],
    };
  }, [fit, dips, setting]);
  const ageing = useMemo(() => dyeAgeing(dips, fit), [dips, fit]);
  const strip = STRIP_MINUTES.filter((minutes) => minutes * 60 <= fit.longestS * 1.5);
  return (
    <>
      {ageing ? <MessageCard level="check" message={ageing.message} remedy={ageing.remedy} /> : null}
      <h4>
        What this dye does in {sayQuantity('temperature', setting.temperatureK, system, '°C', 2)}, by minutes
      </h4>
      <ul className="swatch-strip" aria-label="Colours by the curve, after minutes">
        {strip.map((minutes) => (
          <li key={minutes}>
            <span
              className="swatch wide block"
              style={{ background: hexOfLab(predictColour(fit, fit.best, setting, minutes * 60)) }}
            />
            {minutes}
          </li>
        ))}
      </ul>
      <LineChart
        label="Lightness L* over the time in the dye, with your dips and the slowest and fastest curve they allow"
        x={chart.x}
        unit="L*"
        lines={chart.lines}
      />
      <p className="soft">
        {fit.model} uptake; curve and dips differ by ΔE {fit.meanDeltaE.toFixed(1)} on average,{' '}
        {fit.worstDeltaE.toFixed(1)} at most; known from {formatIn('time', fit.shortestS, 'min', 2).text} to{' '}
        {formatIn('time', fit.longestS, 'min', 2).text}. {fit.notes.join(' ')}
      </p>
    </>
  );
}

function DipCard({ dip, isDoubted }: { dip: DipRecord; isDoubted: boolean }) {
  const { store, wetShop } = useServices();
  const system = useApp((state) => state.unitSystem);
  const picture = usePhoto(dip.photoId);
  const minutes = `${Number((dip.timeS / 60).toFixed(2))} min`;
  return (
    <article className={`record-card ${isDoubted ? 'look' : ''}`} aria-label={dip.name}>
      <div className="row">
        <span className="swatch" style={{ background: hexOfLab(dip.colour) }} />
        <span className="grow">
          <strong>{dip.timeS === 0 ? 'bare film' : minutes}</strong>,{' '}
          {sayQuantity('temperature', dip.temperatureK, system, '°C', 2)},{' '}
          {sayQuantity('length', dip.thicknessM, system, 'µm', 3)}
          {dip.alloy ? `, ${dip.alloy}` : ''}
          {dip.dyeKgPerM3 === null
            ? ''
            : `, ${formatIn('massConcentration', dip.dyeKgPerM3, system === 'us' ? 'oz/US gal' : 'g/L', 2).text}`}
          {dip.ph === null ? '' : `, pH ${dip.ph}`}
          <span className="soft block">
            L* {dip.colour.l.toFixed(1)}, a* {dip.colour.a.toFixed(1)}, b* {dip.colour.b.toFixed(1)},{' '}
            {dip.colourFrom}
            {dip.note ? `; ${dip.note}` : ''}
          </span>
        </span>
        {isDoubted ? <span className="verdict look">check it</span> : null}
      </div>
      {picture ? <img className="dip-photo" src={picture} alt={`Photo of ${dip.name}`} /> : null}
      <div className="choices">
        <ActionButton
          look="small"
          onPress={() =>
            editJob(store, 'Colour', (job) => changeFinishSection(job, 'dye', { colour: dip.colour }))
          }
        >
          Want this colour
        </ActionButton>
        <ActionButton
          look="small"
          aria-label={`Remove ${dip.name}`}
          onPress={() => void wetShop.removeDip(dip)}
        >
          Remove
        </ActionButton>
      </div>
    </article>
  );
}

function usePhoto(id: string | null): string | null {
  const { wetShop } = useServices();
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    if (id === null) return;
    let made: string | null = null;
    let left = false;
    void wetShop.photo(id).then((photo) => {
      if (left || !photo) return;
      made = URL.createObjectURL(new Blob([photo.bytes.slice()], { type: photo.type }));
      setAddress(made);
    });
    return () => {
      left = true;
      if (made) URL.revokeObjectURL(made);
    };
  }, [id, wetShop]);
  return address;
}
