import { treatmentOf } from '../faces/coverage-flags.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { formatNumber, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { rowsText } from './facet-questions.ts';
import type { JobMessage } from './job-messages.ts';
import type { Part } from './job.ts';

/** Share of the coated area behind plugs; less is far within the area's own range. */
const CLOSED_OFF_SHARE = 2e-3;

/** Surface that is counted as coated although plugs keep the bath from it. */
export interface ClosedOff {
  readonly areaM2: number;
  /** "f2 and f7". */
  readonly faces: string;
  /** Of the part's mesh. */
  readonly triangles: readonly number[];
}

/**
 * @param closedOff triangles behind plugs, see racking/plug-mesh.ts
 * @param flags coverage per triangle
 * @returns null where all of it is masked or bare already
 */
export function closedOffBy(
  geometry: Pick<PartGeometry, 'faces' | 'triangleAreas'>,
  closedOff: Uint32Array,
  flags: Uint8Array,
  metresPerUnit: number,
): ClosedOff | null {
  const rows = new Set<number>();
  const triangles: number[] = [];
  let area = 0;
  for (const triangle of closedOff) {
    if (treatmentOf(flags[triangle]!) !== 'coat') continue;
    triangles.push(triangle);
    rows.add(geometry.faces.faceOfTriangle[triangle]!);
    area += geometry.triangleAreas[triangle]!;
  }
  if (rows.size === 0) return null;
  return {
    areaM2: area * metresPerUnit ** 2,
    faces: rowsText([...rows].sort((a, b) => a - b)),
    triangles,
  };
}

/** Of the coated area; 0 where nothing is closed off. */
export const closedOffShare = (closedOff: ClosedOff | null | undefined, coatedM2: number): number =>
  closedOff && coatedM2 > 0 ? closedOff.areaM2 / coatedM2 : 0;

/**
 * Nothing where what is closed off is a trifle.
 * @param share see closedOffShare
 */
export function closedOffMessages(
  { id, name }: Pick<Part, 'id' | 'name'>,
  closedOff: ClosedOff | null,
  share: number,
  system: UnitSystem,
): JobMessage[] {
  if (!closedOff || !(share > CLOSED_OFF_SHARE)) return [];
  const area = formatQuantity('area', closedOff.areaM2, system, 3).text;
  return [
    {
      level: 'check',
      code: 'behind-plugs',
      stage: 'hanging',
      partId: id,
      message: `Plugs in its masked bores keep the bath from ${closedOff.faces} of “${name}”: ${area} count as coated that no acid reaches, ${formatNumber(100 * share, 2)} % of the coated area.`,
      remedy:
        'Mask those faces too, so that the current is right. Where they are to be coated, leave a bore open that lets the air out, and one that lets the acid out.',
    },
  ];
}
