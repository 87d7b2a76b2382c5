import { useMemo } from 'react';
import type { Part } from '../../core/job/job.ts';
import { pieceAt, scaleRange, thicknessScalar } from '../state/thickness-map.ts';
import { jobOf } from '../state/app-store.ts';
import type { SurfaceHit, ViewportClip, ViewportScalar } from '../viewport/viewport-props.ts';
import { useApp, useDerived, useField, useServices } from './services.ts';

export interface ShownMap {
  readonly scalar: ViewportScalar | null;
  readonly clip: ViewportClip | null;
  /** From the coarse grid, while the fine one is under way. */
  readonly isPreview: boolean;
  readonly onHoverAt: (hit: SurfaceHit | null) => void;
}

/** The part's thickness for the 3D view: at the thickness stage alone, the coarse grid's while the fine one runs. */
export function useThicknessMap(part: Part): ShownMap {
  const { field: desk } = useServices();
  const stage = useApp((state) => state.stage);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const thicknessM = useApp((state) => jobOf(state).process.thicknessM);
  const density = useApp((state) => jobOf(state).process.currentDensityAPerM2);
  const known = useDerived((derived) => derived.field[part.id]);
  const preview = useField(({ run }) =>
    run?.partId === part.id && run.what === 'the map' ? run.preview : null,
  );
  const section = useField((state) => state.section);
  const isOn = stage === 'thickness';
  const reading = known?.reading ?? null;
  const field = known?.field ?? null;
  const scalar = useMemo((): ViewportScalar | null => {
    if (!isOn) return null;
    if (preview) {
      const perDensityM = thicknessM / density;
      let least = Infinity;
      let most = 0;
      for (const j of preview.triangleAPerM2) {
        if (!(j > 0)) continue;
        least = Math.min(least, j);
        most = Math.max(most, j);
      }
      if (!(most > 0)) return null;
      const map = { leastM: least * perDensityM, mostM: most * perDensityM, meanM: thicknessM };
      return thicknessScalar(preview.positions, preview, perDensityM, scaleRange([map]));
    }
    if (!reading || !field) return null;
    const { map, perDensityM, limitM } = reading;
    return thicknessScalar(field.positions, field.result.fine.part, perDensityM, scaleRange([map]), limitM);
  }, [isOn, preview, reading, field, thicknessM, density]);
  const clip = useMemo((): ViewportClip | null => {
    if (!scalar || !section || !geometry) return null;
    const n = { x: 0, y: 1, z: 2 }[section.axis];
    const normal: [number, number, number] = [0, 0, 0];
    const sign = section.keepsHigh ? -1 : 1;
    normal[n] = sign;
    const at = geometry.min[n]! + section.share * (geometry.max[n]! - geometry.min[n]!);
    return { normal, at: sign * at };
  }, [scalar, section, geometry]);
  const onHoverAt = (hit: SurfaceHit | null): void => {
    if (!isOn || preview || !reading || !field || !geometry) return;
    const piece = hit ? pieceAt(field, hit.triangle, hit.point) : undefined;
    const row = hit ? geometry.faces.faceOfTriangle[hit.triangle] : undefined;
    const before = desk.store.getState().cursor;
    if (piece === undefined || row === undefined) {
      if (before) desk.store.setState({ cursor: null });
      return;
    }
    const coated = field.result.fine.part.conductingM2[piece]! > 0;
    const cursor = { thicknessM: coated ? reading.map.triangleM[piece]! : null, row };
    if (before?.thicknessM === cursor.thicknessM && before.row === row) return;
    desk.store.setState({ cursor });
  };
  return { scalar, clip, isPreview: preview !== null, onHoverAt };
}
