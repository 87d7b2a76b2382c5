import { bathMessages, HARD_COAT_FROM } from '../bath/bath-messages.ts';
import type { BathHeat } from '../bath/plan-bath-heat.ts';
import { alloyMessages } from '../finish/alloy-messages.ts';
import { checkSpecification } from '../finish/check-specification.ts';
import { dyeMessages } from '../finish/dye-recipe.ts';
import { ALUMINIUM_LIMITS, BATH_TEMPERATURE } from '../reference/bath-limits.ts';
import { COATING_SPECIFICATIONS } from '../reference/coating-specifications.ts';
import type { Result } from '../result.ts';
import { formatIn, sayBoth, sayQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { coolDownWords, cooledLoads, coolingWords, degreesBoth, iceWords } from './cooling-words.ts';
import { jobFilmLimit } from './bath-plan.ts';
import { bathLimitK, bathStartK, isColdBath, startsTooWarm } from './bath-start.ts';
import { rimVolumeM3 } from './bath-vessel.ts';
import { filmShare } from './film-share.ts';
import { alloyOf, jobSeal } from './finish-plan.ts';
import type { PartFitPlan } from './fit-plan.ts';
import { coatingMessages, fitMessages } from './fit-messages.ts';
import type { JobMessage } from './job-messages.ts';
import type { Job } from './job.ts';

/** What is known of a job's wet side besides the job itself; worked out where it is kept (renderer/state/derived.ts). */
export interface WetPlan {
  /** null while the bath's volume or the voltage is not known. */
  readonly heat: Result<BathHeat> | null;
  /** Per part id. */
  readonly fits: Readonly<Record<string, PartFitPlan>>;
  /** Thinnest place of all parts by the thickness map as the job stands now; null or missing while it is not worked out. */
  readonly thinnestM?: number | null;
  /** What the reader's instruments show; metric where nobody says. */
  readonly system?: UnitSystem;
}

/** The one message of the bath that holds the power back, so the current’s stage shows it too. */
export const STARTS_TOO_WARM = 'bath-starts-over-limit';

/** What bath, fits and finish have to say before the power goes on. */
export function wetMessages(job: Job, wet: WetPlan): JobMessage[] {
  return [
    ...bathStage(job, wet.heat, wet.system ?? 'metric'),
    ...coatingMessages(job, bathStartK(job), wet.system ?? 'metric'),
    ...fitMessages(job, wet.fits),
    ...finishStage(job, wet.thinnestM ?? null),
  ];
}

function bathStage(job: Job, heat: Result<BathHeat> | null, system: UnitSystem): JobMessage[] {
  const { bath, process } = job;
  const stage = 'bath' as const;
  const messages: JobMessage[] = [];
  if (heat && !heat.ok) messages.push({ level: 'stop', stage, ...heat.error });
  messages.push(...overTheRim(job, system));
  const made = heat?.ok ? heat.value : null;
  const startK = bathStartK(job);
  const limitK = bathLimitK(job);
  const startsOver = startsOverLimit(job, made, system);
  messages.push(
    ...startsOver,
    ...bathMessages({
      startK,
      warmestK: Math.max(startK, made?.endTemperature.valueSi ?? startK),
      currentDensityAPerM2: process.currentDensityAPerM2,
      stirred: bath.stirred,
      thicknessM: process.thicknessM,
    })
      // Cooled to the limit it does not; how warm it ends from there is told with what is to be taken out.
      .filter(({ code }) => code !== 'soft-coating' || startsOver.length === 0)
      .map((message) => ({ ...message, stage })),
  );
  messages.push(...ordinaryLimit(job, system));
  const said = messages.some(({ code }) => code === 'soft-coating' || code === STARTS_TOO_WARM);
  if (made && made.endTemperature.valueSi > limitK && !said) {
    messages.push({
      level: 'check',
      code: 'bath-over-limit',
      stage,
      message: `The bath ends at ${degreesBoth(made.endTemperature.valueSi, system)}, above ${limitWords(job, system)}.`,
      remedy: `It takes about ${iceWords(made.iceNeeded.valueSi, system)} of ${bath.iceKg > 0 ? 'more ice' : 'ice'}, a colder start or a smaller load.`,
    });
  }
  if (made) messages.push(...overLoads(job, made, system));
  const limit = jobFilmLimit(job);
  if (limit?.ok) {
    const { thickness, practice } = limit.value;
    const um = (metres: number): string => sayQuantity('length', metres, system, 'µm', 2);
    const most = Math.min(thickness.highSi ?? thickness.valueSi, practice?.highSi ?? Infinity);
    const planned = um(process.thicknessM);
    if (process.thicknessM > most) {
      messages.push({
        level: 'check',
        code: 'film-limit',
        stage,
        message: `In this bath the acid eats the film’s outside as it grows, so about ${um(most)} is as thick as it gets sound; ${planned} is planned.`,
        remedy: 'Chill the bath, take a higher current density or a weaker bath, or plan a thinner film.',
      });
    } else if (process.thicknessM > thickness.valueSi) {
      messages.push({
        level: 'note',
        code: 'film-near-limit',
        stage,
        message: `This long in the acid a film may get soft outside: somewhere from ${um(thickness.lowSi ?? thickness.valueSi)} to ${um(thickness.highSi ?? thickness.valueSi)} is the limit in this bath, and ${planned} is planned.`,
        remedy:
          'Rub the first part with a white cloth; if it dusts, run colder or at a higher current density.',
      });
    }
  }
  const aluminium = bath.aluminiumKgPerM3;
  if (aluminium !== null && aluminium > ALUMINIUM_LIMITS.warnKgPerM3) {
    const over = aluminium > ALUMINIUM_LIMITS.limitKgPerM3;
    messages.push({
      level: 'check',
      code: 'aluminium-high',
      stage,
      message: `The bath holds ${formatIn('massConcentration', aluminium, 'g/L').text} of dissolved aluminium, ${over ? 'above' : 'close to'} the limit of 20 g/L.`,
      remedy: 'Replace a part of the bath by fresh acid; the bath stage says how much.',
    });
  }
  return messages;
}

/** "your limit of 22 °C (71.6 °F)"; "the limit of a hard coat, 5 °C (41 °F)" where nobody typed one. */
function limitWords(job: Job, system: UnitSystem): string {
  const limit = degreesBoth(bathLimitK(job), system);
  if (job.bath.limitK !== null || !isColdBath(job)) return `your limit of ${limit}`;
  return `the limit of a hard coat’s bath, ${limit}`;
}

/** What is to be taken out of a bath that is too warm already, before the power goes on. */
function startsOverLimit(job: Job, heat: BathHeat | null, system: UnitSystem): JobMessage[] {
  const startK = bathStartK(job);
  const limitK = bathLimitK(job);
  if (!startsTooWarm(job)) return [];
  const { bath } = job;
  const limit = degreesBoth(limitK, system);
  return [
    {
      level: 'check',
      code: STARTS_TOO_WARM,
      stage: 'bath',
      message: `The bath is at ${degreesBoth(startK, system)}${bath.iceKg > 0 ? ' with its ice' : ''}, above ${limitWords(job, system)}: the film would come out soft and chalky.`,
      remedy: heat?.coolDown
        ? `Cool it to ${limit} or less before the power goes on: ${coolDownWords(job, heat.coolDown, system)}. To hold it there through the run takes about ${iceWords(heat.iceNeeded.valueSi, system)} of ice in all${bath.iceKg > 0 ? ', on top of what is in' : ''}.`
        : `Cool it to ${limit} or less before the power goes on; with the bath’s volume the program says how much ice that takes.`,
    },
  ];
}

/** A limit typed for a bath of another kind, as an older job brings it along. */
function ordinaryLimit(job: Job, system: UnitSystem): JobMessage[] {
  const { limitK } = job.bath;
  if (limitK === null || !isColdBath(job) || limitK <= HARD_COAT_FROM.softensAboveK) return [];
  return [
    {
      level: 'check',
      code: 'limit-of-another-bath',
      stage: 'bath',
      message: `The bath is a hard coat’s, but it is only to stop and cool at ${degreesBoth(limitK, system)}: above about 10 °C a thick film softens and powders while it grows.`,
      remedy: `Type a limit near ${degreesBoth(BATH_TEMPERATURE.hard.highK, system)} under “Heat through the run”, or leave it empty to go by the bath.`,
    },
  ];
}

/** Loads that the bath's warmth from the ones before would push over the limit. */
function overLoads(job: Job, heat: BathHeat, system: UnitSystem): JobMessage[] {
  const [first] = cooledLoads(heat);
  if (!first) return [];
  const { fromK, uncooledEndK } = first.cooling;
  const degrees = (kelvin: number): string => degreesBoth(kelvin, system);
  const pause = formatIn('time', job.bath.pauseS, 'min', 2).text;
  const end = uncooledEndK === null ? 'far' : `at ${degrees(uncooledEndK)},`;
  return [
    {
      level: 'check',
      code: 'loads-warm-bath',
      stage: 'bath',
      message: `Each load warms the bath for the next: ${pause} after load ${first.load - 1} it is still at ${degrees(fromK)}, and load ${first.load} would end ${end} above ${limitWords(job, system)}.`,
      remedy: `So ${coolingWords(heat, system)} A longer pause can be typed at the bath, under Cooling.`,
    },
  ];
}

/** Walls are measured to about this. */
const RIM_SLACK = 1.02;

/** More bath than the tank holds is a slip of unit, or another tank; heat and mix would rest on it. */
function overTheRim(job: Job, system: UnitSystem): JobMessage[] {
  const rimM3 = rimVolumeM3(job);
  const { volumeM3 } = job.bath;
  if (rimM3 === null || volumeM3 === null || volumeM3 <= RIM_SLACK * rimM3) return [];
  const both = (m3: number): string => sayBoth('volume', m3, system, ['L', 'US gal']);
  return [
    {
      level: 'stop',
      code: 'bath-over-rim',
      stage: 'bath',
      message: `The bath is given as ${both(volumeM3)}, but the tank holds ${both(rimM3)} to its rim.`,
      remedy:
        'Type the bath’s volume again with its unit, leave it empty to take the tank’s, or choose the tank it is in.',
    },
  ];
}

function finishStage(job: Job, thinnestM: number | null): JobMessage[] {
  const { finish, process } = job;
  const stage = 'finish' as const;
  const messages: JobMessage[] = [];
  for (const part of job.parts) {
    const alloy = alloyOf(part.alloy);
    if (!alloy) continue;
    messages.push(
      ...alloyMessages(alloy, {
        dyed: finish.dye.use,
        brightColour: finish.dye.use && finish.dye.shade === 'bright',
        black: finish.dye.use && finish.dye.shade === 'black',
        amongOthers: job.parts.some((other) => other.alloy !== part.alloy),
        chargeOfItsOwn: filmShare(job, part) === null,
        hardCoat: finish.coating === 'hard',
        filler: alloyOf(part.filler),
      }).map((message) => ({ ...message, stage, partId: part.id })),
    );
  }
  if (finish.dye.use) {
    messages.push(
      ...dyeMessages({ ...finish.dye, thicknessM: process.thicknessM }).map((message) => ({
        ...message,
        stage,
      })),
    );
  }
  const seal = jobSeal(job);
  if (seal && !seal.ok) messages.push({ level: 'check', stage, ...seal.error });
  if (seal?.ok)
    messages.push(...seal.value.checks.map((check) => ({ level: 'check' as const, stage, ...check })));
  const specification = COATING_SPECIFICATIONS.find(({ id }) => id === finish.specification);
  if (specification) {
    messages.push(
      ...checkSpecification(specification, {
        thicknessM: process.thicknessM,
        thinnestM,
        massPerAreaKgPerM2: null,
        sealed: finish.seal.way !== 'none',
      }).map((message) => ({ ...message, stage })),
    );
  }
  return messages;
}
