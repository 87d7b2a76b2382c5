import { failure, type Result } from '../../core/result.ts';
import { workerFault } from './answer-request.ts';
import { copyInStretches, largeArraysIn, withCopies } from './copy-in-stretches.ts';
import {
  LANE_OF_JOB,
  type JobInput,
  type JobName,
  type JobOutput,
  type JobProgress,
  type JobReply,
  type JobRequest,
  type Lane,
} from './jobs.ts';

/** As much of a Worker as the client needs, so that tests can stand in for it. */
export interface WorkerLike {
  onmessage: ((event: MessageEvent<JobReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  onmessageerror: ((event: MessageEvent) => void) | null;
  postMessage(request: JobRequest, transfer: ArrayBuffer[]): void;
  terminate(): void;
}

export interface RunOptions {
  readonly onProgress?: (progress: JobProgress) => void;
  /** Aborting settles the job at once with `cancelled`; if it was running, its worker is ended and its memory freed. */
  readonly signal?: AbortSignal;
  /** Jobs still waiting with the same word here are settled with `superseded`: only the last of a slider's steps runs. */
  readonly supersede?: string;
  /** Buffers the page gives away instead of copying. */
  readonly transfer?: ArrayBuffer[];
}

export interface WorkerClient {
  /** Never rejects. Failure codes of the job itself, or `cancelled`, `superseded`, `worker-fault`. */
  run<N extends JobName>(job: N, input: JobInput<N>, options?: RunOptions): Promise<Result<JobOutput<N>>>;
  /** Ends every worker; jobs under way and waiting are settled with `cancelled`. */
  dispose(): void;
}

interface Task {
  readonly request: JobRequest;
  readonly options: RunOptions;
  readonly settle: (result: Result<never>) => void;
  readonly forget: () => void;
}

interface LaneState {
  worker: WorkerLike | null;
  running: Task | null;
  readonly waiting: Task[];
}

const ENDED_WHEN_IDLE: readonly Lane[] = ['loading', 'searching', 'field'];

/** The page's side of the worker: queue, progress, cancel, replacement of a worker that broke. */
export function createWorkerClient(startWorker: () => WorkerLike): WorkerClient {
  const lanes = new Map<Lane, LaneState>();
  let nextId = 1;

  function laneOf(job: JobName): LaneState {
    const name = LANE_OF_JOB[job];
    let lane = lanes.get(name);
    if (!lane) {
      lane = { worker: null, running: null, waiting: [] };
      lanes.set(name, lane);
    }
    return lane;
  }

  function stopWorker(lane: LaneState): void {
    if (!lane.worker) return;
    lane.worker.onmessage = null;
    lane.worker.onerror = null;
    lane.worker.onmessageerror = null;
    lane.worker.terminate();
    lane.worker = null;
  }

  function finish(lane: LaneState, result: Result<unknown>): void {
    const task = lane.running;
    lane.running = null;
    if (!task) return;
    task.forget();
    task.settle(result as Result<never>);
  }

  function broke(lane: LaneState, reason: string): void {
    stopWorker(lane);
    if (lane.running) finish(lane, workerFault(lane.running.request.input.name, reason));
    startNext(lane);
  }

  function workerFor(lane: LaneState): WorkerLike {
    if (lane.worker) return lane.worker;
    const worker = startWorker();
    worker.onmessage = ({ data }) => {
      if (!lane.running || data.id !== lane.running.request.id) return;
      if (data.kind === 'progress') {
        lane.running.options.onProgress?.(data.progress);
        return;
      }
      finish(lane, data.result);
      startNext(lane);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      broke(lane, event.message || 'the worker stopped');
    };
    worker.onmessageerror = () => broke(lane, 'its answer could not be read');
    lane.worker = worker;
    return worker;
  }

  function startNext(lane: LaneState): void {
    if (lane.running) return;
    const task = lane.waiting.shift();
    if (!task) {
      // A worker that has read files keeps what the parsers left behind, one that solved its grids; ending it gives all of it back.
      if (ENDED_WHEN_IDLE.some((name) => lane === lanes.get(name))) stopWorker(lane);
      return;
    }
    lane.running = task;
    const given = task.options.transfer ?? [];
    const large = largeArraysIn(task.request.input, given);
    if (large.length === 0) post(lane, task.request, given);
    else void postCopied(lane, task, large, given);
  }

  function post(lane: LaneState, request: JobRequest, transfer: ArrayBuffer[]): void {
    try {
      workerFor(lane).postMessage(request, transfer);
    } catch (error) {
      // Too large to copy, or the worker could not be started.
      broke(lane, error instanceof Error ? error.message : String(error));
    }
  }

  /** The page goes on using its arrays: the worker is given copies of the large ones, made while the page lives on. */
  async function postCopied(
    lane: LaneState,
    task: Task,
    large: ReturnType<typeof largeArraysIn>,
    given: ArrayBuffer[],
  ): Promise<void> {
    const isRunning = (): boolean => lane.running === task;
    try {
      const copies = await copyInStretches(large, isRunning);
      if (!copies || !isRunning()) return;
      const request = withCopies(task.request, copies);
      post(lane, request, [...given, ...[...copies.values()].map(({ buffer }) => buffer as ArrayBuffer)]);
    } catch (error) {
      if (isRunning()) broke(lane, error instanceof Error ? error.message : String(error));
    }
  }

  function cancel(lane: LaneState, task: Task): void {
    if (lane.running === task) {
      // The job may be deep in a parser that hears nothing: ending the worker is the only stop that works.
      stopWorker(lane);
      finish(lane, cancelled());
      startNext(lane);
      return;
    }
    drop(lane, task, cancelled());
  }

  function drop(lane: LaneState, task: Task, result: Result<never>): void {
    const at = lane.waiting.indexOf(task);
    if (at < 0) return;
    lane.waiting.splice(at, 1);
    task.forget();
    task.settle(result);
  }

  return {
    run(job, input, options = {}) {
      return new Promise((resolve) => {
        if (options.signal?.aborted) {
          resolve(cancelled());
          return;
        }
        const lane = laneOf(job);
        if (options.supersede !== undefined) {
          for (const task of lane.waiting.filter(
            (other) => other.request.job === job && other.options.supersede === options.supersede,
          )) {
            drop(lane, task, superseded());
          }
        }
        const onAbort = (): void => cancel(lane, task);
        const task: Task = {
          request: { id: nextId++, job, input },
          options,
          settle: resolve,
          forget: () => options.signal?.removeEventListener('abort', onAbort),
        };
        options.signal?.addEventListener('abort', onAbort);
        lane.waiting.push(task);
        startNext(lane);
      });
    },
    dispose() {
      for (const lane of lanes.values()) {
        stopWorker(lane);
        for (const task of [...lane.waiting]) drop(lane, task, cancelled());
        finish(lane, cancelled());
      }
      lanes.clear();
    },
  };
}

function cancelled(): ReturnType<typeof failure> {
  return failure('cancelled', 'It was stopped before it was done.', 'Start it again when you want it.');
}

function superseded(): ReturnType<typeof failure> {
  return failure('superseded', 'A newer request took its place.', 'Wait for the newer one.');
}
