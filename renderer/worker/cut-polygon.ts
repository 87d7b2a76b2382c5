import { ShapeUtils, Vector2 } from 'three';
import type { ModelLoaders } from '../../core/model-files/loader-parsers.ts';

/** The library's polygon cutter, for core. */
export const cutPolygon: ModelLoaders['cutPolygon'] = (contour) =>
  ShapeUtils.triangulateShape(
    contour.map(({ x, y }) => new Vector2(x, y)),
    [],
  );
