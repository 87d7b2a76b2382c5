import { ShapeUtils, Vector2 } from 'three';
import { OBJLoader, PLYLoader, STLLoader } from 'three-stdlib';
import type { ModelLoaders } from '../../core/model-files/loader-parsers.ts';
import type { StepKernel } from '../../core/model-files/step-kernel.ts';

/**
 * The library's loaders, for core's readers.
 *
 * @param step for STEP files only, see startStepKernel
 */
export function modelLoaders(step?: StepKernel): ModelLoaders {
  return {
    stl: new STLLoader(),
    obj: new OBJLoader(),
    ply: new PLYLoader(),
    ...(step ? { step } : {}),
    cutPolygon: (contour) =>
      ShapeUtils.triangulateShape(
        contour.map(({ x, y }) => new Vector2(x, y)),
        [],
      ),
  };
}
