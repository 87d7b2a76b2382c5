import { faceId, faceRow } from '../faces/face-table.ts';
import { wholeFaces } from '../faces/whole-faces.ts';
import { maskList, type MaskFeature, type MaskLine } from '../finish/mask-list.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { flatWidthM, type FitGround } from './fit-ground.ts';
import type { FitItem } from './fit-plan.ts';
import type { Part } from './job.ts';

/**
 * Plugs, caps and tape for everything masked or to be masked, for all pieces.
 *
 * @param masked per face row, see fit-plan.ts
 * @param closedOff triangles behind plugs: what is masked there gets nothing
 */
export function masksToLayOut(
  part: Part,
  ground: FitGround,
  items: readonly FitItem[],
  masked: Uint8Array,
  closedOff: Uint32Array,
): MaskLine[] {
  const behind = facesOf(ground.geometry, closedOff);
  const isReached = ({ rows }: FitItem): boolean =>
    rows.length === 0 || rows.some((row) => behind[row] === 0);
  const done = new Set([...behind.keys()].filter((row) => behind[row] === 1));
  for (const row of items.flatMap(({ rows }) => rows)) done.add(row);
  const features = [
    ...items.filter((item) => needsMask(item) && isReached(item)).map((item) => itemFeature(item, part)),
    ...otherMasked(part, ground, done, masked),
  ];
  return maskList(
    features,
    features.map(({ id }) => id),
  );
}

/** What is masked, or has to be and lies on no face that could show it. */
function needsMask(item: FitItem): boolean {
  return item.widthM > 0 && (item.masked || item.verdict === 'bare' || item.verdict === 'mask');
}

/** Per face row 1 where all of it is among these. */
function facesOf({ faces, triangleCount }: PartGeometry, triangles: Uint32Array): Uint8Array {
  if (triangles.length === 0) return new Uint8Array(faces.count);
  const among = new Uint8Array(triangleCount);
  for (const triangle of triangles) among[triangle] = 1;
  return wholeFaces(faces, (t) => among[t] === 1);
}

function itemFeature(item: FitItem, part: Part): MaskFeature {
  const { fit, shape, widthM, reach, slit, rows, rounds } = item;
  const where = rows.length > 0 ? ` (${rows.map(faceId).join(', ')})` : '';
  return {
    id: fit.id,
    label: `${fit.label}${where}`,
    shape,
    widthM,
    reach,
    slit,
    fit: fit.need.as === 'code' ? fit.need.text : null,
    count: part.quantity * (rows.length > 0 ? Math.max(1, rounds.length) : fit.count),
  };
}

/**
 * Faces the user masked without giving a fit: they need plugs, caps and tape all the same.
 *
 * @param done rows that are seen to already
 */
function otherMasked(
  part: Part,
  { geometry, rounds, ...rest }: FitGround,
  done: ReadonlySet<number>,
  masked: Uint8Array,
): MaskFeature[] {
  const taken = new Set(done);
  const features: MaskFeature[] = [];
  for (const round of rounds) {
    const rows = round.faceIds.map((id) => faceRow(id)!);
    if (!rows.every((row) => masked[row] === 1) || rows.some((row) => taken.has(row))) continue;
    for (const row of rows) taken.add(row);
    features.push({
      id: `round-${round.faceIds[0]}`,
      label: round.faceIds.join(', '),
      shape: round.shape,
      widthM: round.diameterM,
      reach: round.reach,
      slit: round.slit,
      fit: null,
      count: part.quantity,
    });
  }
  for (let row = 0; row < geometry.faces.count; row++) {
    if (masked[row] !== 1 || taken.has(row)) continue;
    const widthM = flatWidthM({ geometry, rounds, ...rest }, row);
    if (!(widthM > 0)) continue;
    features.push({
      id: `face-${row}`,
      label: faceId(row),
      shape: 'flat',
      widthM,
      reach: null,
      fit: null,
      count: part.quantity,
    });
  }
  return features;
}
