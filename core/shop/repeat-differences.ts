import type { BathState } from '../bath/bath-state.ts';
import type { Job } from '../job/job.ts';
import { plannedCurrentA } from '../run/planned-current.ts';
import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import { timerText, timerUnit } from '../units/timer-text.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { BathRecord } from './bath-record.ts';
import { measuredFilm } from './measured-film.ts';
import { stepTookS } from './run-finish.ts';
import type { RunRecord } from './run-record.ts';

/** Less than this nobody sees on the part. */
const APART = {
  timeShare: 0.1,
  kelvin: 1,
  acidKgPerM3: 5,
  aluminiumKgPerM3: 0.5,
  filmShare: 0.1,
  currentShare: 0.05,
};

const differs = (a: number, b: number, share: number): boolean => Math.abs(a - b) > share * Math.abs(b);

/**
 * What stands between a run and its repetition by the plan it was made from: where it did not go as planned, and where the bath is
 * no longer what it was. One short sentence each; empty where nothing is known to differ.
 *
 * @param job as it is opened for the repetition, with the planned values of the run
 * @param bath of the shop's book where the job names one, and where it stands now by its history
 */
export function repeatDifferences(
  record: RunRecord,
  job: Job,
  bath: { readonly record: BathRecord; readonly state: BathState } | null,
  system: UnitSystem,
): string[] {
  return [
    ...dyedAndSealed(record, job),
    ...coated(record, system),
    ...(bath ? bathNow(record, job, bath, system) : []),
  ];
}

const clock = (seconds: number): string => `${timerText(seconds)} ${timerUnit(seconds)}`;

function dyedAndSealed(record: RunRecord, job: Job): string[] {
  const said: string[] = [];
  const dyedS = stepTookS(record, 'dye');
  const { dye } = job.finish;
  if (dyedS !== null && dye.use) {
    if (dye.timeS === null) said.push(`It was in the dye for ${clock(dyedS)}; no time is planned.`);
    else if (differs(dyedS, dye.timeS, APART.timeShare)) {
      said.push(`It was in the dye for ${clock(dyedS)}; ${clock(dye.timeS)} are planned.`);
    }
  }
  const sealedS = stepTookS(record, 'seal');
  const plannedS = record.finish?.seal?.timeS ?? null;
  if (sealedS !== null && plannedS !== null && differs(sealedS, plannedS, APART.timeShare)) {
    said.push(`It was sealed for ${clock(sealedS)}; ${clock(plannedS)} were planned.`);
  }
  return said;
}

function coated(record: RunRecord, system: UnitSystem): string[] {
  const { plan, facts } = record;
  const said: string[] = [];
  const degrees = (kelvin: number): string => formatQuantity('temperature', kelvin, system, 3).text;
  const film = (metres: number): string => formatIn('length', metres, system === 'us' ? 'mil' : 'µm', 3).text;
  const firstK = facts?.firstTemperatureK ?? null;
  if (firstK !== null && Math.abs(firstK - plan.bathTemperatureK) > APART.kelvin) {
    said.push(
      `The bath was at ${degrees(firstK)} at the start; ${degrees(plan.bathTemperatureK)} is planned.`,
    );
  }
  const steadyA = facts?.steadyCurrentA ?? null;
  const plannedA = plannedCurrentA(plan);
  if (steadyA !== null && differs(steadyA, plannedA, APART.currentShare)) {
    said.push(
      `${formatIn('current', steadyA, 'A', 3).text} flowed; ${formatIn('current', plannedA, 'A', 3).text} are planned.`,
    );
  }
  const grownM = measuredFilm(record)?.valueSi ?? record.film?.valueM ?? null;
  if (grownM !== null && differs(grownM, plan.thicknessM, APART.filmShare)) {
    said.push(`Its film came out at ${film(grownM)}; ${film(plan.thicknessM)} is planned.`);
  }
  return said;
}

function bathNow(
  record: RunRecord,
  { bath }: Job,
  { record: book, state }: { readonly record: BathRecord; readonly state: BathState },
  system: UnitSystem,
): string[] {
  const said: string[] = [];
  const grams = (kgPerM3: number): string => formatIn('massConcentration', kgPerM3, 'g/L', 3).text;
  const since = new Date(record.endedAtMs ?? record.createdAtMs).toISOString();
  // The run's own line has the time of its end.
  const runs = book.entries.filter(({ kind, at }) => kind === 'run' && at > since).length;
  const others = book.entries.filter(({ kind, at }) => kind !== 'run' && at > since).length;
  if (runs > 0) said.push(`${book.name} has had ${runs} ${runs === 1 ? 'run' : 'runs'} since.`);
  if (others > 0) said.push(`${book.name} was titrated, topped up or drawn from since.`);
  if (Math.abs(state.freeAcidKgPerM3 - bath.acidKgPerM3) > APART.acidKgPerM3) {
    said.push(
      `It holds ${grams(state.freeAcidKgPerM3)} of free acid now; the job has ${grams(bath.acidKgPerM3)}.`,
    );
  }
  const [now, then] = [state.aluminiumKgPerM3, bath.aluminiumKgPerM3];
  if (now !== null && then === null)
    said.push(`It holds ${grams(now)} of aluminium now; then it was not known.`);
  else if (now !== null && then !== null && Math.abs(now - then) > APART.aluminiumKgPerM3) {
    said.push(`It holds ${grams(now)} of aluminium now; the job has ${grams(then)}.`);
  }
  if (bath.volumeM3 !== null && differs(state.volumeM3, bath.volumeM3, APART.filmShare)) {
    const litres = (m3: number): string => formatQuantity('volume', m3, system, 3).text;
    said.push(`There are ${litres(state.volumeM3)} of it now; the job has ${litres(bath.volumeM3)}.`);
  }
  return said;
}
