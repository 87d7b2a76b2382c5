import { faceId } from '../../core/faces/face-table.ts';
import type { SceneProgress } from '../../core/field/solve-scene.ts';
import { solveScene } from '../../core/field/solve-scene.ts';
import { chooseTank } from '../../core/job/edit-hanging.ts';
import { readBores, readField, type BoreReading, type FieldReading } from '../../core/job/field-reading.ts';
import { fieldSetting, type FieldGround } from '../../core/job/field-setting.ts';
import type { Job } from '../../core/job/job.ts';
import { sizeAsHung } from '../../core/job/hung-wires.ts';
import { usualTank } from '../../core/job/usual-tank.ts';
import { success, type Result } from '../../core/result.ts';
import type { GatheredPart } from './gather-parts.ts';
import { gatheredPlugs } from './gathered-plugs.ts';

/** Float noise beyond this many digits is cut. */
const DIGITS = 9;
const tidy = (value: number): number => Number(value.toPrecision(DIGITS));
const um = (valueM: number): number => tidy(valueM * 1e6);
const mm = (valueM: number): number => tidy(valueM * 1e3);

/** One part's solved field with all that is printed of it. */
export interface FieldReport {
  readonly file: string;
  readonly reading: FieldReading;
  readonly bores: readonly BoreReading[];
  /** The one object that `field --json` prints for a part. */
  readonly json: ReturnType<typeof jsonOf>;
}

/**
 * @param job with its tank, see withUsualTank
 * Failures: those of fieldSetting and solveScene.
 */
export function fieldReport(
  job: Job,
  gathered: readonly GatheredPart[],
  { file, part }: GatheredPart,
  mostCells: number | undefined,
  onProgress: (progress: SceneProgress) => void,
): Result<FieldReport> {
  const grounds: Record<string, FieldGround> = Object.fromEntries(
    gathered.map((one) => [one.part.id, groundOf(one)]),
  );
  const setting = fieldSetting(job, part.id, grounds, 0, mostCells === undefined ? {} : { mostCells });
  if (!setting.ok) return setting;
  const field = solveScene(setting.value.scene, (progress) => {
    onProgress(progress);
  });
  if (!field.ok) return field;
  const ground = grounds[part.id]!;
  const reading = readField(job, setting.value, field.value, ground);
  const holes = readBores(job, part, ground, { reading, field: field.value });
  if (!holes.ok) return holes;
  const { bores, wagner } = holes.value;
  const { result } = field.value;
  return success({ file, reading, bores, json: jsonOf(file, reading, result, bores, wagner.valueSi) });
}

function groundOf(gathered: GatheredPart): FieldGround {
  const { part, geometry, measure } = gathered;
  return { geometry, measure, plugs: gatheredPlugs(gathered), meshKey: part.id };
}

function jsonOf(
  file: string,
  reading: FieldReading,
  { fine, grid, error }: Parameters<typeof readField>[2]['result'],
  bores: readonly BoreReading[],
  wagner: number,
) {
  const { map, figures, setting, perDensityM } = reading;
  return {
    file,
    meanUm: um(map.meanM),
    leastUm: um(map.leastM),
    mostUm: um(map.mostM),
    areaMm2: tidy(map.areaM2 * 1e6),
    gasAreaMm2: tidy(reading.gasM2 * 1e6),
    limitUm: um(reading.limitM),
    areaBelowLimitMm2: tidy(figures.areaBelowM2.valueSi * 1e6),
    thicknessForLeastUm: reading.thicknessForLeastM === null ? null : um(reading.thicknessForLeastM),
    volts: tidy(fine.cellVoltageV),
    faces: reading.faces.map(({ face, areaM2, meanM, leastM, mostM, currentA }) => ({
      id: faceId(face),
      areaMm2: tidy(areaM2 * 1e6),
      meanUm: um(meanM),
      leastUm: um(leastM),
      mostUm: um(mostM),
      currentA: tidy(currentA),
    })),
    currents: reading.currents.map(({ name, role, currentA }) => ({ name, role, currentA: tidy(currentA) })),
    chargeBalance: {
      plannedA: tidy(setting.plannedCurrentA),
      anodeA: tidy(fine.anodeCurrentA),
      cathodeA: tidy(fine.cathodeCurrentA),
      imbalance: figures.chargeImbalance.valueSi,
    },
    grid: {
      cells: fine.cells,
      spacingMm: mm(grid.spacingM),
      bytes: grid.bytes,
      residual: fine.relativeResidual,
    },
    errorEstimate: {
      leastUm: um(error.leastAPerM2 * perDensityM),
      mostUm: um(error.mostAPerM2 * perDensityM),
      volts: tidy(error.cellVoltageV),
      rmsShare: tidy(error.rmsShare),
    },
    conductivitySPerM: tidy(setting.conductivity.valueSi),
    wagnerNumber: tidy(wagner),
    bores: bores.map(({ bore, heldM, bare, estimate }) => ({
      faces: bore.faceIds,
      diameterMm: mm(2 * bore.radiusM),
      depthMm: mm(bore.depthM),
      through: bore.through,
      coatedDepthMm: heldM === null ? null : mm(heldM),
      bare,
      estimatedThinnestShare: tidy(estimate.thinnestShare.valueSi),
      estimatedDepthMm: mm(estimate.depthHeldM.valueSi),
    })),
    assumed: setting.assumed,
  };
}

/** The job in a usual tank around its largest part, for where it has none. */
export function withUsualTank(job: Job, parts: readonly GatheredPart[]): Job {
  const sizes = parts.map(({ part, geometry }) => sizeAsHung(part, geometry));
  const most = (of: 'alongM' | 'acrossM' | 'heightM'): number => Math.max(...sizes.map((size) => size[of]));
  return chooseTank(
    job,
    usualTank({
      ...(sizes.length === 1 ? sizes[0] : {}),
      alongM: most('alongM'),
      acrossM: most('acrossM'),
      heightM: most('heightM'),
      middleM: [0, 0, 0],
    }),
  );
}
