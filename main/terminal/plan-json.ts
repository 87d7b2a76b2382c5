import { faceId, FACE_KINDS } from '../../core/faces/face-table.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { terminalRemedy } from './finding-words.ts';
import { isMeshed, type AnyPart, type GatheredPart, type TypedPart } from './gather-parts.ts';
import type { PlannedJob } from './plan-job.ts';

/** Float noise beyond this many digits is cut, so that 120 minutes print as 120. */
const DIGITS = 12;

const tidy = (value: number): number => Number(value.toPrecision(DIGITS));
const coded = ({ code, message, remedy }: { code: string; message: string; remedy: string }) => ({
  code,
  message: `${message} ${remedy}`,
});

function partJson(gathered: AnyPart) {
  return isMeshed(gathered) ? meshedJson(gathered) : typedJson(gathered);
}

function typedJson({ file, part, measure }: TypedPart) {
  const areaMm2 = tidy(measure.totalM2 * 1e6);
  return {
    file,
    typed: true,
    quantity: part.quantity,
    areaMm2,
    areaRangeMm2: [areaMm2, areaMm2],
    coatedMm2: areaMm2,
    maskedMm2: 0,
    faces: [],
    findings: [],
  };
}

function meshedJson({ file, part, model, geometry, measure, repairs, fuse, fuseFailure }: GatheredPart) {
  const mmPerUnit = metresPerUnit(part.unit) * 1000;
  const sealed = measure.voids.filter(({ vented }) => !vented);
  return {
    file,
    unit: part.unit,
    quantity: part.quantity,
    triangles: geometry.triangleCount,
    areaMm2: tidy(measure.totalM2 * 1e6),
    areaRangeMm2: [tidy(measure.totalLowM2 * 1e6), tidy(measure.totalHighM2 * 1e6)],
    meshAreaMm2: tidy(measure.meshM2 * 1e6),
    bodies: fuse?.bodiesBefore ?? Math.max(1, geometry.topology.shellCount - geometry.voids.length),
    ...(repairs.length > 0
      ? {
          repairs: repairs.map(({ repair, areaBefore, areaAfter }) => ({
            kind: repair.kind,
            areaBeforeMm2: tidy(areaBefore * mmPerUnit ** 2),
            areaAfterMm2: tidy(areaAfter * mmPerUnit ** 2),
          })),
        }
      : {}),
    ...(fuse ? { removedByFusingMm2: tidy(fuse.removedArea * mmPerUnit ** 2) } : {}),
    sealedVoids: sealed.map(({ areaM2, volumeM3 }) => ({
      areaMm2: tidy(areaM2 * 1e6),
      volumeMm3: tidy(volumeM3 * 1e9),
    })),
    ...(measure.aboveM2 > 0
      ? {
          hangsDeepMm: tidy((part.surface.immersedDepth ?? 0) * mmPerUnit),
          aboveWaterlineMm2: tidy(measure.aboveM2 * 1e6),
        }
      : {}),
    coatedMm2: tidy(measure.coatedM2 * 1e6),
    maskedMm2: tidy(measure.maskedM2 * 1e6),
    ...(measure.contactM2 > 0 ? { contactMm2: tidy(measure.contactM2 * 1e6) } : {}),
    volumeMm3: tidy(measure.volumeM3 * 1e9),
    closed: geometry.closed,
    ...(measure.questions.length > 0
      ? {
          questions: measure.questions.map(({ rows, facetCount, flatM2, roundM2, gainM2, taken }) => ({
            faces: rows.map(faceId),
            facets: facetCount,
            flatMm2: tidy(flatM2 * 1e6),
            roundMm2: tidy(roundM2 * 1e6),
            gainOfPartMm2: tidy(gainM2 * 1e6),
            countedAs: taken,
          })),
        }
      : {}),
    faces: Array.from({ length: geometry.faces.count }, (_, row) => ({
      id: faceId(row),
      kind: FACE_KINDS[geometry.faces.kind[row]!]!,
      areaMm2: tidy(measure.areaOfFaceM2[row]! * 1e6),
      areaRangeMm2: [tidy(measure.lowOfFaceM2[row]! * 1e6), tidy(measure.highOfFaceM2[row]! * 1e6)],
      meshAreaMm2: tidy(measure.meshOfFaceM2[row]! * 1e6),
      ...(measure.aboveM2 > 0 ? { wettedMm2: tidy(measure.wettedOfFaceM2[row]! * 1e6) } : {}),
    })),
    findings: [
      ...model.notes,
      ...measure.findings.map((finding) => ({ ...finding, remedy: terminalRemedy(finding) })),
      ...(fuseFailure ? [fuseFailure] : []),
    ].map(coded),
  };
}

/**
 * The one object that `--json` prints. `areaMm2` is the best estimate of what the acid touches (round faces and threads
 * corrected, sealed voids and what is above the level left out) within `areaRangeMm2`; `meshAreaMm2` the plain sum of
 * the mesh's triangles (after repairs and fusing; of a STEP file its exact faces). Areas and volume are of one piece; the plan's area, current and charge are of
 * all pieces, its minutes of one load. `plan` is null where there is none (the warning says why).
 */
export function planJson({ parts, process, plan, warnings }: PlannedJob) {
  const run = plan.ok ? plan.value : undefined;
  return {
    parts: parts.map(partJson),
    plan: run
      ? {
          areaMm2: tidy(run.areaM2.valueSi * 1e6),
          currentA: tidy(run.currentA.valueSi),
          ...(run.loads.length > 1 ? { loadCurrentA: tidy(run.loadCurrentA.valueSi) } : {}),
          rampMinutes: tidy(run.rampS.valueSi / 60),
          holdMinutes: tidy(run.holdS.valueSi / 60),
          totalMinutes: tidy(run.totalS.valueSi / 60),
          chargeAh: tidy(run.chargeC.valueSi / 3600),
          thicknessUm: tidy(process.thicknessM * 1e6),
          densityAPerM2: tidy(process.currentDensityAPerM2),
          loads: run.loadCount.valueSi,
          ...(run.options.length > 0
            ? {
                supplyHolds: run.supplyHolds,
                options: run.options.map((option) => ({
                  loads: option.loads,
                  densityAPerM2: tidy(option.currentDensityAPerM2),
                  currentA: tidy(option.currentA),
                  totalMinutes: tidy(option.totalPerLoadS / 60),
                })),
              }
            : {}),
        }
      : null,
    warnings: warnings.map(coded),
  };
}
