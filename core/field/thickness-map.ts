import type { SurfaceDensity } from './surface-density.ts';

/** What the planned charge puts where. Thickness follows charge: d = j/I · Q/k. */
export interface ThicknessMap {
  /** Per triangle, m; 0 on masked, dry and hidden ones. */
  readonly triangleM: Float32Array;
  readonly meanM: number;
  readonly leastM: number;
  readonly mostM: number;
  /** A twentieth of the area is thinner than `low5M`, a twentieth thicker than `high5M`. */
  readonly low5M: number;
  readonly high5M: number;
  readonly areaM2: number;
}

export interface FaceThickness {
  readonly face: number;
  readonly areaM2: number;
  readonly meanM: number;
  /** Of the face's triangles. */
  readonly leastM: number;
  readonly mostM: number;
  readonly currentA: number;
}

/**
 * @param chargeC planned charge of all anodes together
 * @param totalCurrentA current the densities were solved for
 */
export function thicknessMap(
  density: SurfaceDensity,
  totalCurrentA: number,
  chargeC: number,
  chargePerVolumeCPerM3: number,
): ThicknessMap {
  const perDensity = metresPerDensity(totalCurrentA, chargeC, chargePerVolumeCPerM3);
  return {
    triangleM: density.triangleAPerM2.map((j) => j * perDensity),
    meanM: (density.currentA / density.areaM2) * perDensity,
    leastM: density.leastAPerM2 * perDensity,
    mostM: density.mostAPerM2 * perDensity,
    low5M: densityAtShare(density, 0.05) * perDensity,
    high5M: densityAtShare(density, 0.95) * perDensity,
    areaM2: density.areaM2,
  };
}

/** Thickness per density, m per A/m². Throws RangeError for a quantity that is not positive. */
export function metresPerDensity(
  totalCurrentA: number,
  chargeC: number,
  chargePerVolumeCPerM3: number,
): number {
  for (const [name, value] of Object.entries({ totalCurrentA, chargeC, chargePerVolumeCPerM3 })) {
    if (!(value > 0)) throw new RangeError(`metresPerDensity: ${name} is ${value}`);
  }
  return chargeC / totalCurrentA / chargePerVolumeCPerM3;
}

/** The density that `share` of the area stays at or below. */
export function densityAtShare({ sortedAPerM2, areaShare }: SurfaceDensity, share: number): number {
  const at = areaShare.findIndex((s) => s >= share);
  return at < 0 ? (sortedAPerM2[sortedAPerM2.length - 1] ?? 0) : sortedAPerM2[at];
}

/** Conducting area with less than a density, m². */
export function areaBelow({ sortedAPerM2, areaShare, areaM2 }: SurfaceDensity, limitAPerM2: number): number {
  let low = 0;
  let high = sortedAPerM2.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sortedAPerM2[middle] < limitAPerM2) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? 0 : areaShare[low - 1] * areaM2;
}

/** One row for each face with conducting area, in order of face number. */
export function thicknessOfFaces(
  density: SurfaceDensity,
  faceOfTriangle: Uint32Array,
  perDensityM: number,
): FaceThickness[] {
  if (faceOfTriangle.length !== density.triangleAPerM2.length) {
    throw new RangeError(
      `thicknessOfFaces: faceOfTriangle has ${faceOfTriangle.length} entries for ${density.triangleAPerM2.length} triangles`,
    );
  }
  const faces = new Map<number, { areaM2: number; currentA: number; least: number; most: number }>();
  faceOfTriangle.forEach((face, t) => {
    const area = density.conductingM2[t];
    if (!(area > 0)) return;
    const j = density.triangleAPerM2[t];
    const row = faces.get(face) ?? { areaM2: 0, currentA: 0, least: Infinity, most: 0 };
    row.areaM2 += area;
    row.currentA += area * j;
    row.least = Math.min(row.least, j);
    row.most = Math.max(row.most, j);
    faces.set(face, row);
  });
  return [...faces]
    .sort(([a], [b]) => a - b)
    .map(([face, row]) => ({
      face,
      areaM2: row.areaM2,
      meanM: (row.currentA / row.areaM2) * perDensityM,
      leastM: row.least * perDensityM,
      mostM: row.most * perDensityM,
      currentA: row.currentA,
    }));
}

/**
 * Charge that gives every one of the chosen triangles at least `leastM`: the plan's charge raised by how much the
 * thinnest of them lacks. Undefined when one of them gets no current at all.
 */
export function chargeForLeast(
  map: ThicknessMap,
  triangles: Iterable<number>,
  leastM: number,
  chargeC: number,
): number | undefined {
  let thinnest = Infinity;
  for (const t of triangles) thinnest = Math.min(thinnest, map.triangleM[t]);
  if (!(thinnest > 0) || thinnest === Infinity) return undefined;
  return (chargeC * leastM) / thinnest;
}
