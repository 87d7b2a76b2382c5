import type { Failure } from '../result.ts';
import type { Part } from './job.ts';
import { fileOf } from './part-source.ts';

/**
 * What a job says of a part refers to the triangles its file was read into. Where it is read into others, and nothing is known of
 * its faces (a mesh, or a job saved before those were kept), masks and contacts would lie elsewhere, and the user is told.
 *
 * @param triangleCount as the file is read now
 * @returns undefined where nothing can have moved, or nothing was said that could move
 */
export function readOtherwise(part: Part, triangleCount: number): Failure | undefined {
  const before = fileOf(part)?.triangleCount;
  if (before === undefined || before === triangleCount || !saysSomething(part)) return undefined;
  return {
    code: 'read-otherwise',
    message: `The model of “${part.name}” is read into ${triangleCount} triangles now and into ${before} when its faces were set: masks, contacts and threads may lie on other faces.`,
    remedy: 'Look at every face’s treatment and at the contacts, and set them again where they are wrong.',
  };
}

function saysSomething({ coverage, contacts, surface, leastFaces, fits }: Part): boolean {
  const { mask, contact, show, pieces = [] } = coverage;
  const { threads, ventedVoids, facetAnswers, repairs } = surface;
  const onFaces = [mask, contact, show, pieces, contacts, leastFaces, fits].some((list) => list.length > 0);
  return onFaces || [threads, ventedVoids, facetAnswers, repairs].some((list) => list.length > 0);
}
