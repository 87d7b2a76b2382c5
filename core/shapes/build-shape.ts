import type { Shape, ShapeBody, ShapeHole } from '../job/job-shape.ts';
import type { SolidHandle, SolidKit, Vec3 } from '../mesh/solid-kit.ts';
import { failure, success, type Result } from '../result.ts';
import { bodySize } from './body-size.ts';

/** Flats round a circle: its wall is 6e-5 short of round before the facets are corrected. */
export const ROUND = 128;

/** Cuts stick out by this share of the body, so that no skin is left at their mouths. */
const OVERSHOOT = 0.01;

/**
 * The drawn shape as loose triangles in mm, 9 floats each. Bodies are joined, holes cut from their own body first.
 * Failures: `shape-impossible` (a ring without a wall, a hole wider than its recess), `shape-empty` (nothing is left),
 * `shape-failed` (the library's own word).
 */
export function buildShape({ bodies }: Shape, kit: SolidKit): Result<Float32Array<ArrayBuffer>> {
  for (const body of bodies) {
    const problem = impossible(body);
    if (problem) return failure('shape-impossible', problem, 'Change one of the two sizes.');
  }
  const made: SolidHandle[] = [];
  const keep = (solid: SolidHandle): SolidHandle => {
    made.push(solid);
    return solid;
  };
  try {
    const drawn = bodies.map((body) => drawBody(body, kit, keep));
    const whole = drawn.length === 1 ? drawn[0] : keep(kit.Manifold.union(drawn));
    const status = whole.status();
    if (status !== 'NoError') return notBuilt(status);
    if (whole.isEmpty()) {
      return failure('shape-empty', 'The holes leave nothing of the shape.', 'Make them smaller or fewer.');
    }
    const { numProp, vertProperties, triVerts } = whole.getMesh();
    const positions = new Float32Array(3 * triVerts.length);
    for (let corner = 0; corner < triVerts.length; corner++) {
      const from = triVerts[corner] * numProp;
      for (let k = 0; k < 3; k++) positions[3 * corner + k] = vertProperties[from + k];
    }
    return success(positions);
  } catch (error) {
    return notBuilt(error instanceof Error ? error.message : String(error));
  } finally {
    for (const solid of made) solid.delete();
  }
}

function notBuilt(reason: string): Result<never> {
  return failure('shape-failed', `The shape could not be drawn (${reason}).`, 'Change its sizes a little.');
}

/** Millimetres, rounded to a millionth so that the same length typed twice is the same number. */
function mm(metres: number): number {
  return Math.round(metres * 1e9) / 1e6;
}

function impossible(body: ShapeBody): string | undefined {
  if (body.kind === 'ring' && body.innerDiameterM >= body.outerDiameterM) {
    return 'The ring’s hole is as wide as the ring or wider.';
  }
  if (body.kind === 'tube' && 2 * body.wallM >= body.outerDiameterM) {
    return 'The tube’s wall is thicker than half its diameter.';
  }
  if (body.kind === 'box' && body.wallM !== null && 2 * body.wallM >= Math.min(body.widthM, body.heightM)) {
    return 'The box section’s wall is thicker than half its width or height.';
  }
  if (
    (body.kind === 'angle' && body.thicknessM >= Math.min(body.widthM, body.heightM)) ||
    (body.kind === 'channel' && (2 * body.thicknessM >= body.widthM || body.thicknessM >= body.heightM))
  ) {
    return 'The legs are thicker than they are long.';
  }
  for (const { cut } of body.holes) {
    if (cut.kind === 'slot' && cut.widthM > cut.lengthM) return 'A slot is wider than it is long.';
    if (cut.kind === 'counterbore' && cut.recessDiameterM <= cut.diameterM) {
      return 'A counterbore’s recess is no wider than its hole.';
    }
  }
  return undefined;
}

type Keep = (solid: SolidHandle) => SolidHandle;

function drawBody(body: ShapeBody, kit: SolidKit, keep: Keep): SolidHandle {
  let solid = drawSolid(body, kit, keep);
  if (body.holes.length > 0) {
    const cuts = body.holes.map((hole) => drawCut(hole, bodySize(body).map(mm) as Vec3, kit, keep));
    solid = keep(kit.Manifold.difference([solid, ...cuts]));
  }
  if (body.axis === 'x') solid = keep(solid.rotate([0, 90, 0]));
  if (body.axis === 'y') solid = keep(solid.rotate([-90, 0, 0]));
  const at = body.at.map(mm) as Vec3;
  return at.every((value) => value === 0) ? solid : keep(solid.translate(at));
}

/** In its own frame: middle of the foot at 0, 0, standing on z = 0. */
function drawSolid(body: ShapeBody, kit: SolidKit, keep: Keep): SolidHandle {
  const { Manifold } = kit;
  const rod = (low: number, high: number, height: number): SolidHandle =>
    keep(Manifold.cylinder(mm(height), mm(low) / 2, mm(high) / 2, ROUND));
  const block = (length: number, width: number, height: number): SolidHandle =>
    keep(
      keep(Manifold.cube([mm(length), mm(width), mm(height)])).translate([
        -mm(length) / 2,
        -mm(width) / 2,
        0,
      ]),
    );
  const hollow = (outer: number, inner: number, height: number): SolidHandle => {
    const bore = keep(rod(inner, inner, 3 * height).translate([0, 0, -mm(height)]));
    return keep(Manifold.difference([rod(outer, outer, height), bore]));
  };
  switch (body.kind) {
    case 'plate':
      return block(body.lengthM, body.widthM, body.thicknessM);
    case 'disc':
      return rod(body.diameterM, body.diameterM, body.thicknessM);
    case 'rod':
      return rod(body.diameterM, body.diameterM, body.lengthM);
    case 'ring':
      return hollow(body.outerDiameterM, body.innerDiameterM, body.thicknessM);
    case 'tube':
      return hollow(body.outerDiameterM, body.outerDiameterM - 2 * body.wallM, body.lengthM);
    case 'cone':
      return rod(body.lowDiameterM, body.highDiameterM, body.heightM);
    case 'box': {
      const whole = block(body.lengthM, body.widthM, body.heightM);
      if (body.wallM === null) return whole;
      const inside = block(3 * body.lengthM, body.widthM - 2 * body.wallM, body.heightM - 2 * body.wallM);
      return keep(Manifold.difference([whole, keep(inside.translate([0, 0, mm(body.wallM)]))]));
    }
    case 'angle': {
      const [w, h, t] = [mm(body.widthM), mm(body.heightM), mm(body.thicknessM)];
      return profile(kit, keep, mm(body.lengthM), [
        [-w / 2, 0],
        [w / 2, 0],
        [w / 2, t],
        [-w / 2 + t, t],
        [-w / 2 + t, h],
        [-w / 2, h],
      ]);
    }
    case 'channel': {
      const [w, h, t] = [mm(body.widthM), mm(body.heightM), mm(body.thicknessM)];
      return profile(kit, keep, mm(body.lengthM), [
        [-w / 2, 0],
        [w / 2, 0],
        [w / 2, h],
        [w / 2 - t, h],
        [w / 2 - t, t],
        [-w / 2 + t, t],
        [-w / 2 + t, h],
        [-w / 2, h],
      ]);
    }
  }
}

/** A section in y and z drawn out along x, its middle at x = 0. */
function profile(kit: SolidKit, keep: Keep, length: number, points: [number, number][]): SolidHandle {
  const outline = kit.CrossSection.ofPolygons([points]);
  try {
    // Drawn in x and y, extruded along z; two quarter turns bring (x, y, z) to (z, x, y).
    const drawn = keep(outline.extrude(length));
    return keep(keep(drawn.rotate([90, 0, 90])).translate([-length / 2, 0, 0]));
  } finally {
    outline.delete();
  }
}

function drawCut(hole: ShapeHole, size: Vec3, kit: SolidKit, keep: Keep): SolidHandle {
  const { cut } = hole;
  const through = hole.from === 'top' ? size[2] : hole.from === 'front' ? size[1] : size[0];
  const over = Math.max(through * OVERSHOOT, 0.01);
  const depth = hole.depthM === null ? through + over : Math.min(mm(hole.depthM), through + over);
  /** Mouth at z = 0, going down. */
  const pin = (diameter: number, deep: number): SolidHandle =>
    keep(
      keep(kit.Manifold.cylinder(deep + over, diameter / 2, diameter / 2, ROUND)).translate([0, 0, -deep]),
    );
  let tool: SolidHandle;
  if (cut.kind === 'round') tool = pin(mm(cut.diameterM), depth);
  else if (cut.kind === 'counterbore') {
    tool = keep(
      kit.Manifold.union([
        pin(mm(cut.diameterM), depth),
        pin(mm(cut.recessDiameterM), Math.min(mm(cut.recessDepthM), depth)),
      ]),
    );
  } else {
    const half = (mm(cut.lengthM) - mm(cut.widthM)) / 2;
    const end = (way: number): SolidHandle => {
      const away: Vec3 = cut.turned ? [0, way * half, 0] : [way * half, 0, 0];
      return keep(pin(mm(cut.widthM), depth).translate(away));
    };
    tool = half > 0 ? keep(kit.Manifold.hull([end(-1), end(1)])) : pin(mm(cut.widthM), depth);
  }
  const [u, v] = hole.at.map(mm);
  if (hole.from === 'top') return keep(tool.translate([u, v, size[2]]));
  // From the front: into the body along +y, its first way along x; from the side: along −x, its first way along y.
  if (hole.from === 'front') return keep(keep(tool.rotate([90, 0, 0])).translate([u, -size[1] / 2, v]));
  return keep(keep(tool.rotate([90, 0, 90])).translate([size[0] / 2, u, v]));
}
