import { z } from 'zod';
import { READING_ORIGINS } from '../run/readings.ts';
import { measuredFilm } from './measured-film.ts';
import { isSimulated, RUN_OUTCOMES, type RunRecord } from './run-record.ts';

/** What the logbook's list, its filters and the learning need of a run: a few hundred bytes, so that ten thousand load at once. */
export const runSummarySchema = z.object({
  id: z.string().min(1),
  name: z.string(),
  startedAtMs: z.number(),
  outcome: z.enum(RUN_OUTCOMES),
  simulated: z.boolean(),
  origin: z.enum(READING_ORIGINS).nullable(),
  /** Everything that is searched, in lower case. */
  words: z.string(),
  pieces: z.string(),
  areaM2: z.number(),
  densityAPerM2: z.number(),
  wantedM: z.number(),
  filmM: z.number().nullable(),
  measuredM: z.number().nullable(),
  dye: z.string(),
  colour: z.string(),
  alarms: z.number(),
  chargeC: z.number().nullable(),
  energyJ: z.number().nullable(),
  durationS: z.number().nullable(),
  gapS: z.number().nullable(),
  steadyVoltageV: z.number().nullable(),
  steadyCurrentA: z.number().nullable(),
  steadyTemperatureK: z.number().nullable(),
  riseK: z.number().nullable(),
  troubled: z.boolean(),
});
export type RunSummary = z.infer<typeof runSummarySchema>;

/** When it began, by the wall clock: a practise run's own time runs ahead of it. */
export function beganAtMs({ clock, createdAtMs, practise }: RunRecord): number {
  const begin = practise ? undefined : clock.marks.find((mark) => mark.kind === 'begin');
  return begin?.atMs ?? createdAtMs;
}

export function runSummary(record: RunRecord): RunSummary {
  const { plan, facts, clock } = record;
  const notes = clock.marks.flatMap((mark) => (mark.kind === 'note' ? [mark.text] : []));
  const { firstTemperatureK, lastTemperatureK } = facts ?? {
    firstTemperatureK: null,
    lastTemperatureK: null,
  };
  return {
    id: record.id,
    name: record.name,
    startedAtMs: beganAtMs(record),
    outcome: record.outcome,
    simulated: isSimulated(record),
    origin: record.origin,
    words: [record.name, plan.pieces, record.note, record.dye, record.colour, record.outcome, ...notes]
      .join(' ')
      .toLowerCase(),
    pieces: plan.pieces,
    areaM2: plan.areaM2,
    densityAPerM2: plan.currentDensityAPerM2,
    wantedM: plan.thicknessM,
    filmM: record.film?.valueM ?? null,
    measuredM: measuredFilm(record)?.valueSi ?? null,
    dye: record.dye,
    colour: record.colour,
    alarms: record.events.filter(({ level }) => level === 'alarm').length,
    chargeC: facts?.chargeC ?? null,
    energyJ: facts?.energyJ ?? null,
    durationS: facts?.durationS ?? null,
    gapS: facts?.gapS ?? null,
    steadyVoltageV: facts?.steadyVoltageV ?? null,
    steadyCurrentA: facts?.steadyCurrentA ?? null,
    steadyTemperatureK: facts?.steadyTemperatureK ?? null,
    riseK:
      firstTemperatureK === null || lastTemperatureK === null ? null : lastTemperatureK - firstTemperatureK,
    troubled: facts?.troubled ?? false,
  };
}
