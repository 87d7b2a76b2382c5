import type { ShapeBody, ShapeHole } from '../../core/job/job-shape.ts';

/** What a new body of each kind is like; sizes one would find in a small shop's scrap box. */
export const NEW_BODY: Readonly<Record<ShapeBody['kind'], Omit<ShapeBody, 'id'>>> = (() => {
  const base = { at: [0, 0, 0] as [number, number, number], axis: 'z' as const, holes: [] };
  return {
    plate: { ...base, kind: 'plate', lengthM: 0.1, widthM: 0.06, thicknessM: 0.006 },
    disc: { ...base, kind: 'disc', diameterM: 0.06, thicknessM: 0.006 },
    ring: { ...base, kind: 'ring', outerDiameterM: 0.06, innerDiameterM: 0.04, thicknessM: 0.006 },
    rod: { ...base, kind: 'rod', diameterM: 0.012, lengthM: 0.1 },
    tube: { ...base, kind: 'tube', outerDiameterM: 0.03, wallM: 0.003, lengthM: 0.07 },
    box: { ...base, kind: 'box', lengthM: 0.1, widthM: 0.04, heightM: 0.02, wallM: null },
    angle: { ...base, kind: 'angle', lengthM: 0.1, widthM: 0.03, heightM: 0.03, thicknessM: 0.003 },
    channel: { ...base, kind: 'channel', lengthM: 0.1, widthM: 0.04, heightM: 0.02, thicknessM: 0.003 },
    cone: { ...base, kind: 'cone', lowDiameterM: 0.04, highDiameterM: 0.02, heightM: 0.03 },
  };
})();

export const BODY_NAMES: Readonly<Record<ShapeBody['kind'], string>> = {
  plate: 'Plate',
  disc: 'Disc',
  ring: 'Ring',
  rod: 'Rod',
  tube: 'Tube',
  box: 'Block or box section',
  angle: 'Angle',
  channel: 'Channel',
  cone: 'Cone',
};

/** Sizes of each kind, in the order they are asked for. */
export const BODY_SIZES: Readonly<
  Record<ShapeBody['kind'], readonly (readonly [key: string, label: string])[]>
> = {
  plate: [
    ['lengthM', 'Length'],
    ['widthM', 'Width'],
    ['thicknessM', 'Thickness'],
  ],
  disc: [
    ['diameterM', 'Diameter'],
    ['thicknessM', 'Thickness'],
  ],
  ring: [
    ['outerDiameterM', 'Outside diameter'],
    ['innerDiameterM', 'Inside diameter'],
    ['thicknessM', 'Thickness'],
  ],
  rod: [
    ['diameterM', 'Diameter'],
    ['lengthM', 'Length'],
  ],
  tube: [
    ['outerDiameterM', 'Outside diameter'],
    ['wallM', 'Wall'],
    ['lengthM', 'Length'],
  ],
  box: [
    ['lengthM', 'Length'],
    ['widthM', 'Width'],
    ['heightM', 'Height'],
    ['wallM', 'Wall'],
  ],
  angle: [
    ['lengthM', 'Length'],
    ['widthM', 'Leg lying'],
    ['heightM', 'Leg standing'],
    ['thicknessM', 'Thickness'],
  ],
  channel: [
    ['lengthM', 'Length'],
    ['widthM', 'Width'],
    ['heightM', 'Height'],
    ['thicknessM', 'Thickness'],
  ],
  cone: [
    ['lowDiameterM', 'Diameter below'],
    ['highDiameterM', 'Diameter above'],
    ['heightM', 'Height'],
  ],
};

export const NEW_CUT: Readonly<Record<ShapeHole['cut']['kind'], ShapeHole['cut']>> = {
  round: { kind: 'round', diameterM: 0.006 },
  slot: { kind: 'slot', lengthM: 0.02, widthM: 0.006, turned: false },
  counterbore: { kind: 'counterbore', diameterM: 0.0066, recessDiameterM: 0.011, recessDepthM: 0.004 },
};

export const CUT_SIZES: Readonly<
  Record<ShapeHole['cut']['kind'], readonly (readonly [key: string, label: string])[]>
> = {
  round: [['diameterM', 'Diameter']],
  slot: [
    ['lengthM', 'Length'],
    ['widthM', 'Width'],
  ],
  counterbore: [
    ['diameterM', 'Diameter'],
    ['recessDiameterM', 'Recess diameter'],
    ['recessDepthM', 'Recess depth'],
  ],
};
