import type { AdviceRequest } from '../../core/job/advice-request.ts';
import { packingHelpOf, packLoadsOf } from '../../core/job/pack-request.ts';
import type { IndexedMesh } from '../../core/mesh/mesh.ts';
import { prepareHanging, type HangingPart } from '../../core/racking/hang-part.ts';
import type { Adviser } from '../../core/racking/advise-contacts.ts';
import { bodyBelow } from '../../core/racking/body-below.ts';
import { distanceBody, type DistanceBody } from '../../core/racking/body-distance.ts';
import { rankContactPairs } from '../../core/racking/contact-pairs.ts';
import { judgePins } from '../../core/racking/judge-pins.ts';
import type { ContactAdvice } from '../../core/racking/judge-place.ts';
import { plugPart, trapsOf, type PluggedPart } from '../../core/racking/plugged-traps.ts';
import type { Plugs } from '../../core/racking/plugs.ts';
import { attitudeSteps } from '../../core/racking/search-attitudes.ts';
import { cathodeBodies, checkTank, type TankPart } from '../../core/racking/tank-clearance.ts';
import type { Pose } from '../../core/racking/pose.ts';
import { prepareTrapMesh } from '../../core/racking/trap-mesh.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import { failure, success, type Result } from '../../core/result.ts';
import type { HangingJobs } from './hanging-jobs.ts';
import type { JobRunners } from './jobs.ts';
import { Kept } from './kept.ts';

/** Parts are large: a million triangles take about 300 MB here. */
const MOST_PARTS = 4;
const MOST_BODIES = 40;

interface KeptPart {
  readonly mesh: IndexedMesh;
  readonly hanging: HangingPart;
  readonly size: number;
  plugged?: { readonly key: string | null; readonly part: Result<PluggedPart> };
  adviser?: KeptAdviser;
}

interface KeptAdviser {
  readonly optionsKey: string;
  readonly flags: Uint8Array;
  readonly adviser: Adviser;
  /** Once it was asked for. */
  advice?: readonly ContactAdvice[];
}

const notKept = (name: string): Result<never> =>
  failure('not-kept', `${name} is not made ready for hanging.`, 'Make it ready again.');

const sameBytes = (a: Uint8Array, b: Uint8Array): boolean =>
  a.length === b.length && a.every((byte, i) => byte === b[i]);

/** The one it has, while what it rests on is the same; the proposals that cost the time are kept with it. */
function adviserOf(part: KeptPart, flags: Uint8Array, options: AdviceRequest['options']): KeptAdviser {
  const optionsKey = JSON.stringify(options);
  const known = part.adviser;
  if (known?.optionsKey === optionsKey && sameBytes(known.flags, flags)) return known;
  const adviser = part.hanging.adviser(flags, options);
  return (part.adviser = { optionsKey, flags, adviser });
}

/** With its plugs in, kept while they stay the same. */
function pluggedOf(part: KeptPart, plugs: Plugs | null): Result<PluggedPart> {
  const key = plugs?.key ?? null;
  if (part.plugged?.key !== key || part.plugged === undefined) {
    part.plugged = { key, part: plugPart(part.mesh, part.hanging.trapMesh, plugs) };
  }
  return part.plugged.part;
}

/** The hanging jobs with what they keep; made once for each worker. */
export function createHangingRunners(): Pick<JobRunners, keyof HangingJobs> {
  const parts = new Kept<KeptPart>(MOST_PARTS);
  const bodies = new Kept<DistanceBody>(MOST_BODIES);
  const belows = new Kept<{ readonly of: DistanceBody; readonly made: DistanceBody }>(MOST_BODIES);
  let sheets: { readonly tankKey: string; readonly made: ReadonlyMap<string, DistanceBody> } | null = null;
  const hints = new Map<string, readonly [number, number]>();

  /** While a copy is dragged the same one is asked for again and again. */
  const belowOf = (key: string, body: DistanceBody, { rotation }: Pose, depthM: number): DistanceBody => {
    const up: Vec3 = [rotation[6]!, rotation[7]!, rotation[8]!];
    const ownKey = JSON.stringify([key, depthM, up]);
    const known = belows.get(ownKey);
    if (known?.of === body) return known.made;
    const made = bodyBelow(body, up, depthM);
    belows.put(ownKey, { of: body, made });
    return made;
  };

  return {
    async prepareHanging({ key, geometry, metresPerUnit }, report) {
      report({ phase: 'making ready to hang', fraction: null });
      const hanging = prepareHanging(geometry, metresPerUnit);
      const { min, max } = geometry;
      const size = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
      parts.put(key, { mesh: geometry.graph.indexed, hanging, size });
      const { moments, centre } = hanging;
      return success({
        open: moments.ok ? null : moments.error,
        moments: moments.ok ? moments.value : null,
        centre,
      });
    },

    async findTraps({ name, key, up, plugs }) {
      const part = parts.get(key);
      if (!part) return notKept(name);
      const plugged = pluggedOf(part, plugs);
      return plugged.ok ? success(trapsOf(plugged.value, up)) : plugged;
    },

    async adviseContacts({ name, key, flags, options }, report) {
      const part = parts.get(key);
      if (!part) return notKept(name);
      const kept = adviserOf(part, flags, options);
      if (!kept.advice) {
        report({ phase: 'looking for places to clamp', fraction: null });
        kept.advice = kept.adviser.advise();
      }
      const pairs = rankContactPairs(kept.advice, part.hanging.centre, options.up, part.size);
      return success({ advice: kept.advice, pairs: pairs.slice(0, 6) });
    },

    async judgePins({ name, key, flags, options, pins }) {
      const part = parts.get(key);
      if (!part) return notKept(name);
      const { adviser } = adviserOf(part, flags, options);
      return success(
        judgePins(adviser, pins, { centre: part.hanging.centre, up: options.up, size: part.size }),
      );
    },

    async dropHanging({ key }) {
      parts.drop(key);
      return success(null);
    },

    async searchAttitudes({ mesh, plugs, ...options }, report) {
      const phase = 'looking at attitudes';
      const ready = plugPart(mesh, prepareTrapMesh(mesh), plugs);
      if (!ready.ok) return ready;
      const steps = attitudeSteps(ready.value.mesh, options);
      for (;;) {
        const step = steps.next();
        if (step.done) return success(step.value);
        report({ phase, fraction: step.value.done / step.value.total });
      }
    },

    async packTank({ request }) {
      return success(packLoadsOf(request));
    },

    async helpPacking({ request, plan }) {
      return success(packingHelpOf(request, plan));
    },

    async keepBody({ key, mesh, metresPerUnit }) {
      bodies.put(key, distanceBody(mesh.vertices, mesh.triangles, metresPerUnit));
      return success(null);
    },

    async dropBody({ key }) {
      bodies.drop(key);
      return success(null);
    },

    async checkTank({ tank, rules, parts: named, placements, system, swingRad, onlyId }) {
      const found = new Map<string, TankPart>();
      for (const { partId, key, depthM, ...part } of named) {
        const body = bodies.get(key);
        if (!body) return notKept(part.name);
        // Copies are turned about the upright alone, so all have the same way up.
        const pose = placements.find((placement) => placement.partId === partId)?.pose;
        const below = depthM !== undefined && pose ? belowOf(key, body, pose, depthM) : undefined;
        found.set(partId, { ...part, body, ...(below ? { below } : {}) });
      }
      const tankKey = JSON.stringify(tank);
      if (sheets?.tankKey !== tankKey) {
        sheets = { tankKey, made: cathodeBodies(tank) };
        hints.clear();
      }
      if (hints.size > 100_000) hints.clear();
      const options = { sheets: sheets.made, hints, swingRad, ...(onlyId === undefined ? {} : { onlyId }) };
      return success(checkTank(tank, rules, found, placements, system, options));
    },
  };
}
