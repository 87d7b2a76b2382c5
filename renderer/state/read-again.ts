import type { OpenedJob } from '../../core/job/container.ts';
import { readAgain } from '../../core/job/read-again.ts';
import type { Failure } from '../../core/result.ts';
import type { PartMesh } from './app-state.ts';

/** The file's own triangles, before repairs and fusing, and its CAD faces. */
export function sourceOfMesh({ source, geometry }: Pick<PartMesh, 'source' | 'geometry'>) {
  return source ?? { positions: geometry.positions, cad: geometry.cad };
}

/** A job whose files were read again, with what is to be said once it is shown. */
export function jobReadAgain<Opened extends Pick<OpenedJob, 'job'>>(
  opened: Opened,
  meshes: Readonly<Record<string, PartMesh>>,
): { readonly opened: Opened; readonly isMoved: boolean; readonly notices: readonly Failure[] } {
  const notices: Failure[] = [];
  let isMoved = false;
  const parts = opened.job.parts.map((part) => {
    const mesh = meshes[part.id];
    if (!mesh) return part;
    const again = readAgain(part, sourceOfMesh(mesh));
    isMoved ||= again.isMoved;
    if (again.notice) notices.push(again.notice);
    return again.part;
  });
  return { opened: { ...opened, job: { ...opened.job, parts } }, isMoved, notices };
}
