import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';
import { startManifold } from '../core/racking/solids.ts';

/** Millimetres. */
export const CUP = { side: 40, bore: 20, depth: 30, rim: 6 } as const;

/**
 * A block with a blind bore from below, as a cup upside down, and two through holes near its top that hangers can take
 * hold of. All of the bore's space is trapped the way it stands: π r² h = 9.42 mL of gas.
 */
export async function cupStl(): Promise<Buffer> {
  const kit = await startManifold();
  const { Manifold } = kit;
  const { side, bore, depth, rim } = CUP;
  const block = Manifold.cube([side, side, side + rim], false).translate([-side / 2, -side / 2, 0]);
  const blind = Manifold.cylinder(depth, bore / 2, bore / 2, 96);
  const hole = (x: number) =>
    Manifold.cylinder(side + 2, 2, 2, 48)
      .translate([0, 0, -side / 2 - 1])
      .rotate([90, 0, 0])
      .translate([x, 0, side]);
  const mesh = block.subtract(blind).subtract(hole(-14)).subtract(hole(14)).getMesh();
  return Buffer.from(writeBinaryStl(mesh.vertProperties, mesh.triVerts, 'cup, units: mm'));
}
