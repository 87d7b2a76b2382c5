/** The worker's only entry: jobs come in here, one at a time, and nowhere else. */
import { answerRequest } from './answer-request.ts';
import { createHangingRunners } from './hanging-runners.ts';
import type { JobRequest, JobRunners } from './jobs.ts';
import { runBuildPickIndex } from './run-build-pick-index.ts';
import { runDrawShape } from './run-draw-shape.ts';
import { runFindCrossings } from './run-find-crossings.ts';
import { runPrepare } from './run-prepare.ts';
import { runReadModel } from './run-read-model.ts';
import { runResplit } from './run-resplit.ts';
import { runSolveField } from './run-solve-field.ts';
import { runTryRepair } from './run-try-repair.ts';

declare const self: DedicatedWorkerGlobalScope;

const runners: JobRunners = {
  readModel: runReadModel,
  buildPickIndex: runBuildPickIndex,
  resplit: runResplit,
  solveField: runSolveField,
  prepare: runPrepare,
  tryRepair: runTryRepair,
  drawShape: runDrawShape,
  findCrossings: runFindCrossings,
  ...createHangingRunners(),
};

self.onmessage = (event: MessageEvent<JobRequest>) => {
  void answerRequest(
    event.data,
    runners,
    (reply, transfer) => self.postMessage(reply, transfer),
    () => performance.now(),
  );
};
