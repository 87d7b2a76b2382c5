/** A number as loggers write it; undefined for anything else. */
export function plainNumber(text: string, decimalComma: boolean): number | undefined {
  const point = decimalComma ? text.replace(',', '.') : text;
  if (!/^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?$/.test(point)) return undefined;
  const value = Number(point);
  return Number.isFinite(value) ? value : undefined;
}
