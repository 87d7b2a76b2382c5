import { faceId } from '../faces/face-table.ts';
import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { FieldReading } from './field-reading.ts';

/** A part's thickness in one line for the run sheet: mean, least and where, what stays below the limit. Of voltage the sheet has its own line. @param of what of the job the map is of, see map-of-load.ts; empty for all of it */
export function fieldSheetLine(name: string, reading: FieldReading, system: UnitSystem, of = ''): string {
  const film = (valueM: number): string =>
    formatIn('length', valueM, system === 'metric' ? 'µm' : 'mil').text;
  const { map, faces, figures, limitM } = reading;
  const thinnest = faces.reduce(
    (least, row) => (least === undefined || row.leastM < least.leastM ? row : least),
    faces[0],
  );
  const below = figures.areaBelowM2.valueSi / map.areaM2;
  return `${name}, by the thickness map${of === '' ? '' : ` of ${of}`}: mean ${film(map.meanM)}, least ${film(map.leastM)}${
    thinnest ? ` (${faceId(thinnest.face)})` : ''
  }, most ${film(map.mostM)}; ${formatNumber(100 * below, 2)} % of the area below ${film(limitM)}.`;
}
