/** The current that a plan holds, A. */
export function plannedCurrentA({
  areaM2,
  currentDensityAPerM2,
}: {
  readonly areaM2: number;
  readonly currentDensityAPerM2: number;
}): number {
  return areaM2 * currentDensityAPerM2;
}
