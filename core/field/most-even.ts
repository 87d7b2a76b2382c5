/** Less than this of the mean no film gauge tells apart (eddy current: 1 % at best, common practice), nor does a coarse grid. */
const TOLD_APART = { ofMean: 0.005, ofSpread: 0.05 } as const;

/**
 * Which of several ways to set the cathodes give the most even film, those too that differ from the best by less than can be told.
 *
 * @param rows most even first; spread as a share of the mean
 */
export function mostEven<T extends { readonly spread: number }>(rows: readonly T[]): T[] {
  const best = rows[0]?.spread ?? 0;
  const apart = Math.max(TOLD_APART.ofMean, TOLD_APART.ofSpread * best);
  return rows.filter(({ spread }) => spread - best <= apart);
}
