import type { Job } from '../../core/job/job.ts';
import type { JobTank } from '../../core/job/job-tank.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { HangingSize } from '../../core/racking/hanging-size.ts';
import { wiresInTank, type WireInTank } from '../../core/racking/hanger-clearance.ts';
import { rotateBack, rotate } from '../../core/racking/pose.ts';
import type { Clearance, TankCheck, TankFinding } from '../../core/racking/tank-clearance.ts';
import type { Placement } from '../../core/racking/tank.ts';
import { add, scale, type Vec3 } from '../../core/racking/vec3.ts';
import { hangingRotation } from '../../core/job/tank-plan.ts';

/** Middle of a part's box as it hangs, metres, in its own frame before it is turned. */
export function middleInPart(job: Job, size: HangingSize, partId: string): Vec3 {
  const part = job.parts.find(({ id }) => id === partId)!;
  return rotateBack(hangingRotation(part.attitude), size.middleM);
}

/** Middle of the box of a copy, metres in the tank. */
export function middleOfCopy(placement: Placement, middleM: Vec3): Vec3 {
  return add(rotate(placement.pose.rotation, middleM), placement.pose.offsetM);
}

/** The worst that is said of one copy; notes do not colour it. */
export function levelOfCopy(
  findings: readonly Pick<TankFinding, 'level' | 'placementIds'>[],
  placementId: string,
): 'ok' | 'check' | 'stop' {
  const levels = findings
    .filter(({ placementIds }) => placementIds.includes(placementId))
    .map(({ level }) => level);
  return levels.includes('stop') ? 'stop' : levels.includes('check') ? 'check' : 'ok';
}

/** Findings as they stand, with those of the dragged copy in place of its own older ones. */
export function liveCheck(
  settled: TankCheck | null,
  dragged: TankCheck | null,
  draggedId: string | null,
): Pick<TankCheck, 'findings' | 'clearances' | 'swings'> {
  if (!dragged || draggedId === null) return settled ?? { findings: [], clearances: [], swings: [] };
  const others = (settled?.findings ?? []).filter(
    ({ placementIds }) => placementIds.length > 0 && !placementIds.includes(draggedId),
  );
  return {
    findings: [...dragged.findings, ...others],
    clearances: [
      ...dragged.clearances,
      ...(settled?.clearances ?? []).filter(({ placementId }) => placementId !== draggedId),
    ],
    swings: [
      ...dragged.swings,
      ...(settled?.swings ?? []).filter(({ placementId }) => placementId !== draggedId),
    ],
  };
}

/** A distance is wrong where a finding about the same kind of neighbour says so. */
export function levelOfClearance(
  { placementId, to }: Clearance,
  findings: readonly TankFinding[],
): 'ok' | 'check' | 'stop' {
  const codes: Readonly<Record<Clearance['to'], readonly string[]>> = {
    cathode: ['short-circuit', 'near-cathode'],
    wall: ['through-wall', 'near-wall'],
    floor: ['through-floor', 'near-floor'],
    surface: ['out-of-liquid', 'near-surface'],
    part: ['parts-touch', 'near-part'],
  };
  return levelOfCopy(
    findings.filter(({ code }) => codes[to].includes(code)),
    placementId,
  );
}

/** Hangers as lines from the contacts up to the bars. @param copies as they hang */
export function wiresOf(job: Job & { readonly tank: JobTank }, copies: readonly Placement[]): WireInTank[] {
  const parts = new Map(
    job.parts.map((part) => [
      part.id,
      {
        wires: part.contacts.map(({ at, hanger }) => ({
          at: scale(at, metresPerUnit(part.unit)),
          diameterM: hanger.diameterM,
        })),
      },
    ]),
  );
  return wiresInTank(job.tank.tank, parts, copies);
}
