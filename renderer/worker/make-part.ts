import { faceEdges } from '../../core/faces/face-edges.ts';
import { preparePart, type MeshWishes, type SourceSurface } from '../../core/job/prepare-part.ts';
import type { SolidKit } from '../../core/mesh/solid-kit.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { cutPolygon } from './cut-polygon.ts';
import type { MadePart, ReportProgress } from './jobs.ts';
import { startSolidKit } from './start-solid-kit.ts';

/** manifold-3d, or why there is none. */
export async function solidKit(): Promise<Result<SolidKit>> {
  try {
    return success(await startSolidKit());
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return failure(
      'solid-kit-missing',
      `The part of the program that joins bodies could not be started (${reason}).`,
      'Close other programs to free memory and try again.',
    );
  }
}

/** From a source to the measured part with its edges. `from` is the share of the whole job already done. */
export async function makePart(
  source: SourceSurface,
  wishes: MeshWishes,
  report: ReportProgress,
  from = 0,
): Promise<Result<MadePart>> {
  let kit: SolidKit | undefined;
  if (wishes.surface.fuseGap !== null) {
    const started = await solidKit();
    if (!started.ok) return started;
    kit = started.value;
  }
  const prepared = preparePart(source, wishes, { cutPolygon, ...(kit ? { kit } : {}) }, (fraction, phase) =>
    report({ phase, fraction: from + fraction * (0.97 - from) }),
  );
  const { geometry } = prepared;
  report({ phase: 'drawing edges', fraction: 0.97 });
  const edges = faceEdges(geometry.graph.indexed, geometry.graph.twin, geometry.faces.faceOfTriangle);
  const changed = geometry.positions !== source.positions;
  return success({ ...prepared, edges, source: changed ? source : null });
}
