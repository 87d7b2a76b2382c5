import type { JobRunners } from './jobs.ts';
import { makePart } from './make-part.ts';

/** The same source again, with other repairs, fused or not. */
export const runPrepare: JobRunners['prepare'] = ({ source, wishes }, report) =>
  makePart(source, wishes, report);
