import type { BathHeat } from '../bath/plan-bath-heat.ts';
import { mixFromTexts } from '../bath/mix-report.ts';
import type { Figure } from '../figure/figure.ts';
import { capital } from '../units/first-letter.ts';
import { etch } from '../finish/etch.ts';
import { stripTime } from '../finish/strip.ts';
import { printSource } from '../figure/print-figure.ts';
import { STRIP_TIME_S } from '../reference/caustic-etch.ts';
import { CAUTIONS, cautionsFor, type Caution, type CautionTopic } from '../reference/cautions.ts';
import { DYE_PRACTICE } from '../reference/dye-practice.ts';
import { sealWay } from '../reference/seal-ways.ts';
import type { SealHazards } from '../reference/step-cautions.ts';
import type { QuantityKind, UnitSystem } from '../units/unit-table.ts';
import { formatIn, readableUnit } from '../units/format-quantity.ts';
import { listWords } from '../units/list-words.ts';
import { inReaderUnits } from '../units/reader-units.ts';
import { hasLead } from './bath-plan.ts';
import { bathLimitK, bathStartK, startsTooWarm } from './bath-start.ts';
import { coolDownWords, coolingWords, iceWords } from './cooling-words.ts';
import { jobDyePot, jobSeal, sealTimerS } from './finish-plan.ts';
import { jobEtch, strippedFirst } from './job-growth.ts';
import type { Job } from './job.ts';
import type { JobStep } from './job-step.ts';

const short = (kind: QuantityKind, valueSi: number, unit: string, digits = 3): string =>
  formatIn(kind, valueSi, unit, digits)
    .text.replace(/(\.\d*?)0+(?= )/, '$1')
    .replace(/\.(?= )/, '');

/** A reader's unit first, the other behind it: a thermometer at the tank shows one of the two. */
function degrees(kelvin: number, system: UnitSystem): string {
  const [metric, us] = [short('temperature', kelvin, '°C'), short('temperature', kelvin, '°F')];
  return system === 'us' ? `${us} (${metric})` : metric;
}

function thickness(metres: number, system: UnitSystem): string {
  return system === 'us' ? short('length', metres, 'mil', 2) : short('length', metres, 'µm', 2);
}

/** Looked at first after this time where none is settled on (common practice). */
const DYE_S = 600;
/** Time in the desmutting bath (common practice). */
const DESMUT_S = 90;

/** The rinse between two baths, so that none is carried into the next. */
export function rinse(after: string, plannedS: number): JobStep {
  return {
    id: `rinse after ${after}`,
    kind: 'rinse',
    title: `Rinse after ${after}`,
    detail: '',
    plannedS,
    record: [],
    source: 'common practice',
  };
}

/** What to write down beside a warm bath. */
const DEGREES: Readonly<Record<UnitSystem, string>> = { metric: '°C', us: '°F' };

/** Whole minutes outwards: "51 to 77 min"; empty for one number. */
function wholeMinutes({ valueSi, lowSi = valueSi, highSi = valueSi }: Figure): string {
  const low = Math.ceil(lowSi / 60 - 1e-9);
  const high = Math.ceil(highSi / 60 - 1e-9);
  return low === high ? '' : `${low} to ${high} min`;
}

/** Making up the bath, where the job asks for it on the sheet; empty otherwise. */
export function mixSteps(job: Job, system: UnitSystem): JobStep[] {
  const { mix } = job.bath;
  if (!mix.onSheet) return [];
  const volume = mix.volumeM3 === null ? {} : { volume: `${mix.volumeM3} m3` };
  const made = mixFromTexts(
    mix.by === 'target'
      ? { acid: mix.acidText, target: mix.targetText, ...volume }
      : { acid: mix.acidText, parts: mix.partsText, ...volume },
  );
  if (!made.ok) return [];
  const { waterVolume, waterMass, acidVolume, acidMass, temperature } = made.value;
  const pours = 'steps' in made.value ? made.value.steps.length : 1;
  const amount = (volumeM3: number, massKg: number): string =>
    system === 'us'
      ? `${short('volume', volumeM3, 'US gal', 4)} (${short('volume', volumeM3, 'L', 4)})`
      : `${short('volume', volumeM3, 'L', 4)} (${short('mass', massKg, 'kg', 4)})`;
  return [
    {
      id: 'mix',
      kind: 'mix',
      title: 'Make up the bath',
      detail: `${amount(waterVolume.valueSi, waterMass.valueSi)} of cold water first. Then ${amount(acidVolume.valueSi, acidMass.valueSi)} of ${mix.acidText} acid into it, slowly, stirring${pours > 1 ? `, in ${pours} pours, cooling down between them` : `; it reaches about ${degrees(temperature.valueSi, system)}`}. Let it cool.`,
      plannedS: null,
      record: ['g/L'],
      source: printSource(acidMass.source),
    },
  ];
}

/** State of the bath before the power goes on; for all loads of a job also what is to be cooled between them. */
export function bathReady(job: Job, heat: BathHeat | null, system: UnitSystem, forAllLoads: boolean): string {
  const { bath } = job;
  const cooling = forAllLoads && heat ? coolingWords(heat, system) : '';
  const between = cooling === '' ? '' : ` ${capital(cooling)}`;
  const ice =
    bath.iceKg > 0
      ? ` Ice: ${system === 'us' ? iceWords(bath.iceKg, system) : short('mass', bath.iceKg, 'kg')}${bath.iceInBottles ? ' in closed bottles' : ''}.`
      : '';
  const limit = degrees(bathLimitK(job), system);
  const startK = bathStartK(job);
  const tooWarm = startsTooWarm(job);
  const ends = tooWarm
    ? ` That is too warm: cool it to ${limit} or less before the power goes on${heat?.coolDown ? `, with ${coolDownWords(job, heat.coolDown, system)}` : ''}. Stop and cool again at ${limit}.`
    : heat
      ? ` It should end near ${degrees(heat.endTemperature.valueSi, system)}; stop and cool at ${limit}.`
      : ` Stop and cool at ${limit}.`;
  return `Bath ${bath.stirred ? 'stirred, ' : ''}${short('massConcentration', bath.acidKgPerM3, 'g/L')} acid, at ${degrees(startK, system)}.${ice}${ends}${between} Cathodes clean and on minus, ventilation on, protection on, soda at hand.`;
}

/** The old film taken off in lye, of the parts with which this run begins so; empty where there are none. */
export function stripSteps(job: Job, system: UnitSystem): JobStep[] {
  const { lyeKgPerM3, temperatureK, overTimeS } = job.finish.strip;
  const parts = strippedFirst(job);
  const attack = parts.length > 0 ? etch(lyeKgPerM3, temperatureK, 60) : null;
  if (!attack?.ok) return [];
  const time = stripTime(lyeKgPerM3);
  const minutes = (seconds: number): number => Math.round(seconds / 60);
  const over = overTimeS > 0 ? `${short('time', overTimeS, 'min')} after that` : 'then at once';
  const { rate } = attack.value;
  const names = parts.map(({ name }) => `“${name}”`);
  const only =
    parts.length < job.parts.length ? `Only ${listWords(names)}; keep the others out of the lye. ` : '';
  return [
    {
      id: 'strip',
      kind: 'etch',
      title: 'Strip the old film',
      detail: `${only}First plug or mask again what is to stay bare: metal without film is eaten from the first minute. Lye ${short('massConcentration', lyeKgPerM3, 'g/L')} at ${degrees(temperatureK, system)}: the film is gone when gas starts evenly all over, after ${minutes(time.low)} to ${minutes(time.high)} min; out ${over}. Every minute longer takes about ${thickness(rate.valueSi * 60, system)} off. Rinsed, measure what has to fit.`,
      plannedS: time.usual + overTimeS,
      record: ['min', system === 'us' ? 'in' : 'mm'],
      source: printSource(STRIP_TIME_S.source),
    },
    rinse('the strip', 60),
    // An etch has its own desmut.
    ...(job.finish.desmut && !jobEtch(job)?.ok ? desmutSteps() : []),
  ];
}

/** Etch and desmut as planned; empty where the job has none. */
export function etchSteps(job: Job, system: UnitSystem): JobStep[] {
  const { etch: bath, desmut } = job.finish;
  const planned = jobEtch(job);
  if (!planned?.ok) return [];
  const { removed } = planned.value;
  return [
    {
      id: 'etch',
      kind: 'etch',
      title: 'Etch',
      detail: `Lye ${short('massConcentration', bath.lyeKgPerM3, 'g/L')} at ${degrees(bath.temperatureK, system)}. It takes about ${thickness(removed.valueSi, system)} off every face that is not masked.`,
      plannedS: bath.timeS,
      record: ['min'],
      source: printSource(removed.source),
    },
    rinse('the etch', 60),
    ...(desmut ? desmutSteps() : []),
  ];
}

function desmutSteps(): JobStep[] {
  return [
    {
      id: 'desmut',
      kind: 'desmut',
      title: 'Desmut',
      detail: '1 to 2 min: until the grey smut is gone and a white cloth stays white.',
      plannedS: DESMUT_S,
      record: [],
      source: 'common practice',
    },
    rinse('the desmut, twice', 60),
  ];
}

/** The dye as chosen; empty where the job has none. */
export function dyeSteps(job: Job, system: UnitSystem): JobStep[] {
  const { dye } = job.finish;
  if (!dye.use) return [];
  const pot = jobDyePot(job);
  const figure = pot?.ok ? (pot.value.mass ?? pot.value.bottles) : null;
  const either = (kind: 'mass' | 'volume', valueSi: number, metric: string): string => {
    const known = short(kind, valueSi, metric);
    return system === 'us'
      ? `${short(kind, valueSi, readableUnit(kind, valueSi, system))} (${known})`
      : known;
  };
  const recipe =
    figure === null || dye.potM3 === null
      ? ''
      : ` ${figure.kind === 'mass' ? either('mass', figure.valueSi, 'g') : `${Number(figure.valueSi.toFixed(2))} bottles`} in ${either('volume', dye.potM3, 'L')}.`;
  const { low, high } = DYE_PRACTICE.timeS;
  const usual = dye.timeS === null ? ` Usually ${low / 60} to ${high / 60} min.` : '';
  return [
    {
      id: 'dye',
      kind: 'dye',
      title:
        dye.name.trim() === '' ? `Dye, ${dye.shade} shade (no dye named)` : `Dye with ${dye.name.trim()}`,
      detail: `Straight from the rinse into ${degrees(dye.temperatureK, system)}${dye.ph === null ? '' : `, pH ${dye.ph}`}, never dried or hot before.${recipe}${dye.colour ? ` Wanted: L* ${dye.colour.l.toFixed(0)}, a* ${dye.colour.a.toFixed(0)}, b* ${dye.colour.b.toFixed(0)}.` : ''}${usual} Pull, look, put back until it is right.`,
      plannedS: dye.timeS ?? DYE_S,
      record: [DEGREES[system], 'min'],
      source: dye.timeS === null ? printSource(DYE_PRACTICE.source) : 'your entry',
    },
    rinse('the dye, cold', 30),
  ];
}

/** The seal as planned; empty where the job has none or it can not work. */
export function sealSteps(job: Job, system: UnitSystem): JobStep[] {
  const planned = jobSeal(job);
  if (planned === null) return [];
  const { way, temperatureK } = job.finish.seal;
  if (!planned.ok || way === 'none') {
    return [
      {
        id: 'seal',
        kind: 'seal',
        title: 'Seal: to be settled',
        detail: planned.ok ? '' : inReaderUnits(`${planned.error.message} ${planned.error.remedy}`, system),
        plannedS: null,
        record: [DEGREES[system], 'min'],
        source: '',
      },
    ];
  }
  const { ph } = sealWay(way);
  const range = wholeMinutes(planned.value.time);
  return [
    {
      id: 'seal',
      kind: 'seal',
      title: `Seal: ${planned.value.way.title.toLowerCase()}`,
      detail: `${degrees(temperatureK, system)}${ph ? `, pH ${ph.low}-${ph.high}` : ''}${range === '' ? '' : `, ${range} for this film`}. ${inReaderUnits(planned.value.way.after, system)}`,
      plannedS: sealTimerS(planned.value.time.valueSi),
      record: [DEGREES[system], 'min'],
      source: printSource(planned.value.time.source),
    },
  ];
}

/** From here on water scalds at once (60 °C within seconds; burn tables, from memory). */
const HOT_K = 333.15;

/** What can hurt at the seal as it is planned. */
export function sealHazards({ finish }: Job): SealHazards {
  const { way, temperatureK } = finish.seal;
  if (way === 'none') return { hot: false, nickel: false, fluoride: false, steam: false };
  const { nickel, fluoride } = sealWay(way);
  return { hot: way === 'steam' || temperatureK >= HOT_K, nickel, fluoride, steam: way === 'steam' };
}

function wetTopics({ hot, nickel, fluoride, steam }: SealHazards, dyes: boolean): CautionTopic[] {
  const topics: CautionTopic[] = [];
  if (dyes || hot) topics.push('dye');
  if (nickel) topics.push('seal');
  if (fluoride) topics.push('fluoride');
  if (steam) topics.push('steam');
  return topics;
}

/** The cautions of the seal alone. */
export function sealCautions(job: Job): Caution[] {
  return cautionsFor(wetTopics(sealHazards(job), false));
}

/** The cautions of what this job really does. */
export function jobCautions(job: Job): Caution[] {
  const { finish } = job;
  const { way } = finish.seal;
  const topics: CautionTopic[] = ['general', 'acid', 'current', 'waste'];
  if (finish.etch.use || strippedFirst(job).length > 0) topics.push('etch');
  topics.push(...wetTopics(sealHazards(job), finish.dye.use));
  if (hasLead(job)) topics.push('lead');
  const laboratory =
    finish.specification !== null && way !== 'none' ? CAUTIONS.filter(({ id }) => id === 'chromium') : [];
  return [...cautionsFor(topics), ...laboratory];
}
