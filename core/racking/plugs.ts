/** Which bores have a plug in them while the part hangs. A worker takes it as it is. */
export interface Plugs {
  /** Per triangle: its bore's place in `boredVolume`, or one of `NO_BORE`, `OPEN_BORE`. */
  readonly boreOfTriangle: Int32Array;
  /** Per bore with a plug: the volume of its plain cylinder, model units. */
  readonly boredVolume: Float64Array;
  /** Says which bores they are: what was found for other plugs is no longer true. */
  readonly key: string;
}

/** The triangle is no bore's. */
export const NO_BORE = -1;
/** The triangle is of a bore that is left open. */
export const OPEN_BORE = -2;

/** A drill's tip and a thread beside the plain cylinder. */
const MORE_THAN_BORE = 1.2;

/**
 * Whether plugs fill a pocket, so that nothing stands in it: it holds no open bore, and no more than its plugged bores do. A larger
 * hollow that a plugged bore only opens into stays a pocket.
 */
export function isPlugged(
  plugs: Plugs,
  pocket: { readonly volume: number; readonly triangles: ArrayLike<number> },
): boolean {
  const bores = new Set<number>();
  for (let i = 0; i < pocket.triangles.length; i++) {
    const bore = plugs.boreOfTriangle[pocket.triangles[i]!]!;
    if (bore === OPEN_BORE) return false;
    if (bore !== NO_BORE) bores.add(bore);
  }
  let bored = 0;
  for (const bore of bores) bored += plugs.boredVolume[bore]!;
  return pocket.volume <= MORE_THAN_BORE * bored;
}
