import type { FileSource } from '../../core/bridge/bridge.ts';
import type { MeshWishes } from '../../core/job/prepare-part.ts';
import { failure, type Result } from '../../core/result.ts';
import type { Services } from '../app/services.ts';
import type { ReadPart } from '../worker/jobs.ts';
import type { Loading } from './app-state.ts';

type Wishes = Partial<MeshWishes> & Pick<MeshWishes, 'splitAngleRad'>;

/** A file that was chosen and is shown as waiting; it can be stopped before its turn comes, and while it is read. */
export interface FileInSight {
  readonly source: FileSource;
  /** Reads and measures it in the worker. Fails with `cancelled` where it was stopped, before or meanwhile. */
  read(wishes: Wishes): Promise<Result<ReadPart>>;
}

/** Puts a file in sight, with its progress and a way to stop it, until it is read or stopped. */
export function putInSight({ store, worker }: Services, source: FileSource): FileInSight {
  const id = crypto.randomUUID();
  const stopper = new AbortController();
  const show = (progress: Pick<Loading, 'phase' | 'fraction'>): void =>
    store.setState((state) => ({
      loadings: state.loadings.map((loading) => (loading.id === id ? { ...loading, ...progress } : loading)),
    }));
  const takeAway = (): void =>
    store.setState((state) => ({ loadings: state.loadings.filter((other) => other.id !== id) }));
  const cancel = (): void => {
    stopper.abort();
    takeAway();
  };
  const loading: Loading = { id, fileName: source.name, phase: 'waiting', fraction: null, cancel };
  store.setState((state) => ({ loadings: [...state.loadings, loading] }));
  return {
    source,
    async read(wishes) {
      if (stopper.signal.aborted)
        return failure('cancelled', `${source.name} was stopped.`, 'Open it again.');
      const read = await worker.run(
        'readModel',
        { name: source.name, content: source.content, ...wishes },
        { signal: stopper.signal, onProgress: ({ phase, fraction }) => show({ phase, fraction }) },
      );
      takeAway();
      return read;
    },
  };
}

/** A model still waiting or being read was meant for the job that was open: it does not land in the next one. */
export function endLoadings({ store }: Services): void {
  for (const { cancel } of store.getState().loadings) cancel();
}
