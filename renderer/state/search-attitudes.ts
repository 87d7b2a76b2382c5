import { partById } from '../../core/job/edit-job.ts';
import type { Part } from '../../core/job/job.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { PART_AXES } from '../../core/racking/hang-part.ts';
import type { Plugs } from '../../core/racking/plugs.ts';
import type { Services } from '../app/services.ts';
import { jobOf } from './app-store.ts';
import { hangingKey } from './follow-hanging.ts';
import type { SearchState } from './hanging-store.ts';
import { plugsOfPart } from './plugs-of-part.ts';

export const SEARCHED_DIRECTIONS = 500;

/** What a search was made from: the geometry and the plugs in it. */
export const searchKey = (part: Part, geometry: PartGeometry, plugs: Plugs | null): string =>
  `${hangingKey(geometry, part)} plugs ${plugs?.key ?? ''}`;

/** Looks at many attitudes of one part, in a worker of its own. What its contacts allow is asked of the critique. */
export async function searchAttitudesOf(
  { store, derived, hanging, worker }: Services,
  partId: string,
): Promise<void> {
  const state = store.getState();
  const part = partById(jobOf(state), partId);
  const geometry = state.meshes[partId]?.geometry;
  if (!geometry || hanging.getState().searches[partId]?.state === 'running') return;
  const plugs = plugsOfPart(derived.getState(), part, geometry);
  const key = searchKey(part, geometry, plugs);
  const stopper = new AbortController();
  const put = (search: SearchState | null): void =>
    hanging.setState(({ searches }) => {
      const rest = Object.fromEntries(Object.entries(searches).filter(([id]) => id !== partId));
      return { searches: search ? { ...rest, [partId]: search } : rest };
    });
  const running = (fraction: number | null): SearchState => ({
    state: 'running',
    fraction,
    cancel: () => stopper.abort(),
  });
  put(running(null));
  const critique = hanging.getState().parts[partId]?.pins?.critique ?? {};
  const found = await worker.run(
    'searchAttitudes',
    {
      name: part.name,
      mesh: geometry.graph.indexed,
      directions: SEARCHED_DIRECTIONS,
      plugs,
      extra: [part.attitude.up, ...PART_AXES],
      contacts: part.contacts.flatMap(({ id }, index) => {
        const judged = critique[id];
        return judged ? [{ ...judged.limit, name: `at pin ${index + 1}` }] : [];
      }),
    },
    { signal: stopper.signal, onProgress: ({ fraction }) => put(running(fraction)) },
  );
  if (found.ok) put({ state: 'done', key, search: found.value });
  else put(found.error.code === 'cancelled' ? null : { state: 'failed', failure: found.error });
}
