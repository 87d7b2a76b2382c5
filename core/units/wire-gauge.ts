const GAUGE = /^(?:(?:#|no\.?\s*)?(\d{1,2}|[1-4]\/0|0{2,4})\s*AWG|AWG\s*#?(\d{1,2}|[1-4]\/0|0{2,4}))$/i;
/** The finest gauge of the standard's table. */
const FINEST = 40;

/**
 * Diameter of a bare wire given as American wire gauge ("12 AWG", "AWG 4/0"), m; null for any other text and for gauges beyond
 * 4/0 to 40. ASTM B258: d = 0.127 mm · 92^((36 − n)/39), with 0 for 1/0, −1 for 2/0 to −3 for 4/0.
 */
export function wireGaugeM(text: string): number | null {
  const match = GAUGE.exec(text.trim());
  if (!match) return null;
  const size = match[1] ?? match[2]!;
  const aught = size.includes('/') ? Number(size[0]) : /^0{2,}$/.test(size) ? size.length : null;
  const gauge = aught === null ? Number(size) : 1 - aught;
  return gauge > FINEST ? null : 0.127e-3 * 92 ** ((36 - gauge) / 39);
}
