import { ShapeUtils, Vector2 } from 'three';
import { OBJLoader, STLLoader } from 'three-stdlib';
import type { ModelLoaders } from '../../core/model-files/loader-parsers.ts';

/** The library's loaders, for core's readers. */
export function modelLoaders(): ModelLoaders {
  return {
    stl: new STLLoader(),
    obj: new OBJLoader(),
    cutPolygon: (contour) =>
      ShapeUtils.triangulateShape(
        contour.map(({ x, y }) => new Vector2(x, y)),
        [],
      ),
  };
}
