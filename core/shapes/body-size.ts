import type { ShapeBody } from '../job/job-shape.ts';

/** Along x, y and z of the body's own frame, m. */
export function bodySize(body: ShapeBody): [number, number, number] {
  switch (body.kind) {
    case 'plate':
      return [body.lengthM, body.widthM, body.thicknessM];
    case 'box':
    case 'angle':
    case 'channel':
      return [body.lengthM, body.widthM, body.heightM];
    case 'disc':
      return [body.diameterM, body.diameterM, body.thicknessM];
    case 'ring':
      return [body.outerDiameterM, body.outerDiameterM, body.thicknessM];
    case 'rod':
      return [body.diameterM, body.diameterM, body.lengthM];
    case 'tube':
      return [body.outerDiameterM, body.outerDiameterM, body.lengthM];
    case 'cone': {
      const wide = Math.max(body.lowDiameterM, body.highDiameterM);
      return [wide, wide, body.heightM];
    }
  }
}
