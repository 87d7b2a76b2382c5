import { buildShape } from '../../core/shapes/build-shape.ts';
import type { JobRunners } from './jobs.ts';
import { makePart, solidKit } from './make-part.ts';

/** Draws a shape from its recipe and measures it like any other part. */
export const runDrawShape: JobRunners['drawShape'] = async ({ name, shape, wishes }, report) => {
  report({ phase: 'drawing the shape', fraction: 0 });
  const kit = await solidKit();
  if (!kit.ok) return kit;
  const drawn = buildShape(shape, kit.value);
  if (!drawn.ok) return drawn;
  const bodies = [{ name, firstTriangle: 0, triangleCount: drawn.value.length / 9 }];
  return makePart({ positions: drawn.value, bodies }, wishes, report, 0.3);
};
