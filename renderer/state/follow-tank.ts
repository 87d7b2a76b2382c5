import type { Job, Part } from '../../core/job/job.ts';
import { inTank } from '../../core/job/tank-plan.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { HangingSize } from '../../core/racking/hanging-size.ts';
import type { Placement } from '../../core/racking/tank.ts';
import { scale } from '../../core/racking/vec3.ts';
import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import { hangingKey } from './follow-hanging.ts';

type TankServices = Pick<Services, 'store' | 'derived' | 'hanging' | 'worker'>;
const WAIT_MS = 60;

/**
 * Keeps the clearances of what hangs in the tank up to date. The parts' bodies are kept in the tank's worker; a check
 * asked while one is under way replaces the one that waits.
 */
export function followTank(services: TankServices): void {
  const { store, derived, hanging } = services;
  let seen = '';
  let timer: ReturnType<typeof setTimeout> | undefined;
  const look = async (): Promise<void> => {
    const state = store.getState();
    const job = jobOf(state);
    if (!inTank(job) || job.placements.length === 0) {
      seen = '';
      const { tankCheck, tankFailure, dragCheck } = hanging.getState();
      if (tankCheck ?? tankFailure ?? dragCheck) {
        hanging.setState({ tankCheck: null, dragCheck: null, tankFailure: null });
      }
      return;
    }
    const { tank } = derived.getState();
    const now = JSON.stringify([
      job.tank,
      tank.copies,
      job.hanging.swingRad,
      state.unitSystem,
      job.parts.map((part) => [
        part.name,
        tank.sizes[part.id]?.depthM,
        part.contacts.map(({ at, hanger }) => [at, hanger.diameterM]),
        state.meshes[part.id] && hangingKey(state.meshes[part.id]!.geometry, part),
        derived.getState().measures[part.id]?.coatedM2,
      ]),
    ]);
    if (now === seen) return;
    seen = now;
    const check = await runTankCheck(services, job, tank.copies);
    if (seen !== now || !check) return;
    hanging.setState(
      check.ok
        ? { tankCheck: check.value, dragCheck: null, tankFailure: null }
        : { tankCheck: null, dragCheck: null, tankFailure: check.error },
    );
  };
  derived.subscribe(() => {
    clearTimeout(timer);
    timer = setTimeout(() => void look(), WAIT_MS);
  });
}

const depthOf = (size: HangingSize | undefined): Pick<HangingSize, 'depthM'> =>
  size?.depthM === undefined ? {} : { depthM: size.depthM };

/** Bodies the tank's worker was given, by part id. */
const given = new Map<string, string>();

/**
 * Asks the worker for clearances; null where a newer request took this one's place.
 * @param onlyId while it is dragged: only its own
 */
export async function runTankCheck(
  { store, derived, worker }: TankServices,
  job: Job,
  placements: readonly Placement[],
  onlyId?: string,
) {
  if (!inTank(job)) return null;
  const state = store.getState();
  const hung = job.parts.filter(({ id }) => placements.some(({ partId }) => partId === id));
  const keep = async (part: Part, isSure: boolean): Promise<void> => {
    const geometry = state.meshes[part.id]?.geometry;
    if (!geometry) return;
    const key = hangingKey(geometry, part);
    const before = given.get(part.id);
    if (before === key && isSure) return;
    given.set(part.id, key);
    if (before && before !== key) void worker.run('dropBody', { name: part.name, key: before });
    await worker.run('keepBody', {
      name: part.name,
      key,
      mesh: geometry.graph.indexed,
      metresPerUnit: metresPerUnit(part.unit),
    });
  };
  const ask = () =>
    worker.run(
      'checkTank',
      {
        name: 'the tank',
        tank: job.tank.tank,
        rules: job.tank.rules,
        system: state.unitSystem,
        swingRad: job.hanging.swingRad,
        placements,
        parts: hung.map((part) => ({
          partId: part.id,
          key: given.get(part.id) ?? '',
          name: part.name,
          coatedAreaM2: derived.getState().measures[part.id]?.coatedM2 ?? 0,
          ...depthOf(derived.getState().tank.sizes[part.id]),
          wires: part.contacts.map(({ at, hanger }) => ({
            at: scale(at, metresPerUnit(part.unit)),
            diameterM: hanger.diameterM,
          })),
        })),
        ...(onlyId === undefined ? {} : { onlyId }),
      },
      { supersede: onlyId === undefined ? 'tank' : 'drag' },
    );
  await Promise.all(hung.map((part) => keep(part, true)));
  let check = await ask();
  if (!check.ok && check.error.code === 'not-kept') {
    await Promise.all(hung.map((part) => keep(part, false)));
    check = await ask();
  }
  return !check.ok && check.error.code === 'superseded' ? null : check;
}
