import { checkProcess, PROCESS_LIMITS, type ProcessField } from '../../core/electrical/check-process.ts';
import { wettedBusEnds } from '../../core/racking/bus-ends.ts';
import { planRun, type RunPlan } from '../../core/electrical/plan-run.ts';
import { DEFAULT_PROCESS, emptyJob } from '../../core/job/default-job.ts';
import { hungParts, sizesAsHung } from '../../core/job/hung-wires.ts';
import { loadItems } from '../../core/job/load-items.ts';
import { NO_PACKING_HELP, packLoadsOf, packRequest } from '../../core/job/pack-request.ts';
import { tankMessages } from '../../core/job/tank-messages.ts';
import { inTank } from '../../core/job/tank-plan.ts';
import { jobMessages, type JobMessage } from '../../core/job/job-messages.ts';
import { partBefore } from '../../core/job/part-before.ts';
import type { Job, Process } from '../../core/job/job.ts';
import { failure, success, type Failure, type Result } from '../../core/result.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { isMeshed, type AnyPart, type Gathered } from './gather-parts.ts';
import { pinWarnings } from './pin-warnings.ts';
import type { PlanOptions } from './plan-options.ts';
import { plugWarnings } from './plug-warnings.ts';

export interface PlannedJob {
  readonly parts: readonly AnyPart[];
  readonly process: Process;
  readonly plan: Result<RunPlan>;
  /** What to know before the power goes on; findings about one part's mesh stay with the part. */
  readonly warnings: readonly (Failure & { readonly level: 'note' | 'check' | 'stop' })[];
}

const RANGE_PRINT: Readonly<
  Record<ProcessField, readonly [option: string, kind: QuantityKind, units: readonly string[]]>
> = {
  thicknessM: ['thickness', 'length', ['µm', 'mil']],
  currentDensityAPerM2: ['density', 'currentDensity', ['A/dm²', 'A/ft²']],
  chargePerVolumeCPerM3: ['charge', 'chargePerVolume', ['A·min/ft²/mil']],
  rampS: ['ramp', 'time', ['min']],
  supplyCurrentLimitA: ['supply', 'current', ['A']],
  supplyVoltageLimitV: ['supply', 'voltage', ['V']],
};

/** "0.5 to 150 µm (0.0197 to 5.91 mil)" */
function rangeText(field: ProcessField): string {
  const [, kind, units] = RANGE_PRINT[field];
  const { low, high } = PROCESS_LIMITS[field];
  const [first, ...others] = units.map(
    (unit) => `${formatIn(kind, low, unit).number} to ${formatIn(kind, high, unit).text}`,
  );
  return others.length === 0 ? first! : `${first} (${others.join(', ')})`;
}

/** The process of the command line over the job's; without a job, thickness and density must be said. */
export function processOf(options: PlanOptions, job: Job | undefined): Result<Process> {
  const missing = [
    ...(options.thicknessM === undefined ? ['--thickness (as 25.4um or 1mil)'] : []),
    ...(options.currentDensityAPerM2 === undefined ? ['--density (as 6A/ft2 or 0.65A/dm2)'] : []),
  ];
  if (!job && missing.length > 0) {
    return failure(
      'option-missing',
      `${missing.join(' and ')} ${missing.length > 1 ? 'are' : 'is'} not given.`,
      'Say what film you want and at which current density.',
    );
  }
  const base = job?.process ?? DEFAULT_PROCESS;
  const process: Process = {
    ...base,
    thicknessM: options.thicknessM ?? base.thicknessM,
    currentDensityAPerM2: options.currentDensityAPerM2 ?? base.currentDensityAPerM2,
    chargePerVolumeCPerM3: options.chargePerVolumeCPerM3 ?? base.chargePerVolumeCPerM3,
    rampS: options.rampS ?? base.rampS,
    supplyCurrentLimitA: options.supplyCurrentLimitA ?? base.supplyCurrentLimitA,
  };
  const stop = checkProcess(process).find((message) => message.level === 'stop');
  if (!stop) return success(process);
  const [option] = RANGE_PRINT[stop.field];
  const remedy = stop.code === 'out-of-range' ? `Use ${rangeText(stop.field)}.` : stop.remedy;
  return failure(stop.code, `--${option}: ${stop.message}`, remedy);
}

/** Plans the run of all parts together. */
export function planJob({ parts, job: opened }: Gathered, process: Process): PlannedJob {
  const job: Job = { ...(opened ?? emptyJob('')), parts: parts.map(({ part }) => part), process };
  const measures = Object.fromEntries(parts.map(({ part, measure }) => [part.id, measure]));
  const geometryOf = (id: string) => parts.filter(isMeshed).find(({ part }) => part.id === id)?.geometry;
  const items = loadItems(hungParts(job, geometryOf), measures);
  const sizes = sizesAsHung(job.parts, geometryOf);
  const packed = inTank(job) ? packLoadsOf(packRequest(job, items, sizes, 'metric')) : null;
  const within = new Map(packed?.within);
  const plan = planRun(items, process, {
    busEnds: wettedBusEnds(job.hanging.busEnds),
    ...(packed?.plan.ok ? { loads: packed.plan.value.loads } : {}),
    ...(packed ? { loadsWithin: (areaM2: number) => within.get(areaM2) } : {}),
  });
  // A model file alone says nothing about hanging, so nothing is missing there.
  const fromFiles = new Set(parts.filter((one) => isMeshed(one) && !one.fromJob).map(({ part }) => part.id));
  const findings = new Set(parts.flatMap(({ measure }) => measure.findings.map((finding) => finding.code)));
  const eachPart = parts.filter(isMeshed).flatMap((one) => [...pinWarnings(job, one), ...plugWarnings(one)]);
  const view = { plan: packed?.plan ?? null, help: NO_PACKING_HELP, check: null, sizes };
  const unpacked = tankMessages(job, view, 'metric').map((message) => asHung(job, message));
  const warnings = jobMessages(job, measures, plan, undefined, [...eachPart, ...unpacked]).filter(
    (message) =>
      !(message.stage === 'part' && findings.has(message.code)) &&
      !(message.code === 'no-contact' && message.partId !== undefined && fromFiles.has(message.partId)),
  );
  return {
    parts,
    process,
    plan,
    warnings: warnings.map((message) =>
      inTerminal({ ...message, message: partBefore(job.parts, message) + message.message }),
    ),
  };
}

/** Parts hung by hand may be clear although packing finds no room; the exact distances are the window's to tell. */
function asHung(job: Job, message: JobMessage): JobMessage {
  if (message.code !== 'no-room' || job.placements.length === 0) return message;
  return {
    ...message,
    level: 'check',
    remedy: `${message.remedy} As you have hung them the window tells the exact distances.`,
  };
}

/** What the window asks for at a field is an option here. */
const REMEDIES: Readonly<Record<string, string>> = {
  'round-or-flat': 'Look at the part and say which it is: --round or --flat with the face, as below.',
  'supply-unknown': 'Give the most current your supply can hold: --supply 10A.',
};

function inTerminal<T extends Failure>(message: T): T {
  const remedy = REMEDIES[message.code];
  return remedy === undefined ? message : { ...message, remedy };
}
