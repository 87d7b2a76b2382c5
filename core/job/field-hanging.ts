import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { cutAtWaterline, type Wetted } from '../mesh/waterline.ts';
import { hangingSize, lowestOf } from '../racking/hanging-size.ts';
import { rotationForUp, type Pose } from '../racking/pose.ts';
import { USUAL_TANK_RULES, type Tank } from '../racking/tank.ts';
import { dot, scale as scaled, unit as vectorUnit, type Vec3 } from '../racking/vec3.ts';
import { failure, success, type Result } from '../result.ts';
import type { FieldGround } from './field-setting.ts';
import type { Attitude } from './job-hanging.ts';
import { copiesAtLevel, sizeAsHung, sizesAsHung } from './hung-wires.ts';
import type { Job, Part } from './job.ts';
import { measurePart } from './measure-part.ts';
import { lowestHungM } from './tank-plan.ts';

export const raised = ({ rotation, offsetM: [x, y, z] }: Pose, byM: number): Pose => ({
  rotation,
  offsetM: [x, y, z + byM],
});

/** The job with its part in another attitude: of one that stands out of the liquid another part of it is wetted then. */
export function turned(
  job: Job,
  part: Part,
  grounds: Readonly<Record<string, FieldGround>>,
  attitude: Attitude | undefined,
): { job: Job; part: Part; grounds: Readonly<Record<string, FieldGround>> } {
  const ground = grounds[part.id];
  if (!attitude || !ground || part.surface.immersedDepth === null) return { job, part, grounds };
  const other = { ...part, attitude };
  return {
    job: { ...job, parts: job.parts.map((one) => (one.id === part.id ? other : one)) },
    part: other,
    grounds: { ...grounds, [part.id]: { ...ground, measure: measurePart(other, ground.geometry) } },
  };
}

/** What of a part is under the level, by triangle and in all; its own units. */
export function wettedOf({ attitude, unit }: Part, geometry: PartGeometry, depthM: number): Wetted {
  const up = vectorUnit(attitude.up);
  const { vertices } = geometry.graph.indexed;
  let lowest = Infinity;
  for (let i = 0; i < vertices.length; i += 3) {
    lowest = Math.min(lowest, dot(up, [vertices[i]!, vertices[i + 1]!, vertices[i + 2]!]));
  }
  const point = scaled(up, lowest + depthM / metresPerUnit(unit));
  return cutAtWaterline(geometry.positions, geometry.triangleAreas, geometry.closed, { up, point });
}

export interface HungCopy {
  readonly partId: string;
  readonly pose: Pose;
}

export function hungCopies(
  job: Job,
  part: Part,
  tank: Tank,
  grounds: Readonly<Record<string, FieldGround>>,
  attitude: Attitude | undefined,
  assumed: string[],
): Result<HungCopy[]> {
  const ground = grounds[part.id];
  if (!ground) {
    return failure('not-measured', `The model of “${part.name}” is not read yet.`, 'Wait until it is.');
  }
  const tankRules = job.tank?.rules ?? USUAL_TANK_RULES;
  const asHung = { ...job, tank: { shopTankId: null, tank, rules: tankRules } };
  const sizes = sizesAsHung(
    job.parts.filter(({ surface }) => surface.immersedDepth !== null),
    (id) => grounds[id]?.geometry,
  );
  const placed = copiesAtLevel(asHung, sizes).filter(({ partId }) =>
    job.parts.some(({ id }) => id === partId),
  );
  if (placed.some(({ partId }) => partId === part.id)) {
    return success(
      placed.map(({ partId, pose }): HungCopy => {
        const { rotation, offsetM } = pose;
        if (partId !== part.id || !attitude) return { partId, pose: { rotation, offsetM } };
        const before = hangingSize(
          ground.geometry.graph.indexed.vertices,
          metresPerUnit(part.unit),
          rotation,
          0,
        );
        const at: Vec3 = [offsetM[0] + before.middleM[0], offsetM[1] + before.middleM[1], 0];
        return { partId, pose: hungAt(job, part, ground, tank, attitude, at) };
      }),
    );
  }
  assumed.push(
    placed.length > 0
      ? `“${part.name}” does not hang in the tank yet: it is taken alone, in the middle.`
      : 'No load hangs in the tank yet: one piece is taken, in the middle.',
  );
  const bar = tank.bars.find(({ role }) => role === 'work');
  const middle: Vec3 = !bar
    ? [0, 0, 0]
    : bar.along === 'x'
      ? [(bar.fromM + bar.toM) / 2, bar.acrossM, 0]
      : [bar.acrossM, (bar.fromM + bar.toM) / 2, 0];
  return success([
    { partId: part.id, pose: hungAt(job, part, ground, tank, attitude ?? part.attitude, middle) },
  ]);
}

/** The part in an attitude with the middle of its box over a point, as high as it hangs by the plan. */
function hungAt(
  job: Job,
  part: Part,
  { geometry }: FieldGround,
  tank: Tank,
  { up, turnRad }: Attitude,
  at: Vec3,
): Pose {
  const rotation = rotationForUp(up, turnRad);
  const size = sizeAsHung({ ...part, attitude: { up, turnRad } }, geometry);
  const rules = job.tank?.rules ?? USUAL_TANK_RULES;
  const lowestM = lowestHungM({ shopTankId: null, tank, rules }, size);
  return {
    rotation,
    offsetM: [at[0] - size.middleM[0], at[1] - size.middleM[1], lowestM - lowestOf(size)],
  };
}
