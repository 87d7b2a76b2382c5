import type { SheetMasks } from '../../core/job/run-sheet.ts';
import { describeFaces } from '../../core/job/face-words.ts';
import { hangerText, hangingLines } from '../../core/job/hanging-sheet.ts';
import { saidDepthM } from '../../core/job/hung-depth.ts';
import type { Part } from '../../core/job/job.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { PaperSheetProps } from './paper-props.ts';
import { both } from './paper-words.ts';

type PartBlockProps = PaperSheetProps & { readonly part: Part; readonly masks: SheetMasks | undefined };

/** Plugs, caps and tape to lay out, and sizes machined before. */
function MaskLines({ masks, system }: { masks: SheetMasks; system: UnitSystem }) {
  const size = (metres: number): string => formatQuantity('length', metres, system).text;
  const lines = masks.lines.map(
    ({ item, lowM, highM, count, features }) =>
      `${count} × ${item} ${highM > lowM ? `${size(lowM)} to ${size(highM)}` : size(lowM)} (${features.join(', ')})`,
  );
  return (
    <>
      {lines.length > 0 ? (
        <>
          <dt>Plugs, caps, tape</dt>
          <dd>{lines.join('; ')}</dd>
        </>
      ) : null}
      {masks.machine.length > 0 ? (
        <>
          <dt>Fits</dt>
          <dd>{masks.machine.join('; ')}</dd>
        </>
      ) : null}
    </>
  );
}

/** "Each on 1 × Al 5356, …": pins clamped alike stand in one line. */
function clampLines(part: Part, system: UnitSystem): string[] {
  const pinsOf = new Map<string, number[]>();
  part.contacts.forEach(({ hanger, patchDiameterM }, index) => {
    const patch = formatQuantity('length', patchDiameterM, system).text;
    const how = `${hangerText(hanger, system)}; bare patch ${patch} across`;
    pinsOf.set(how, [...(pinsOf.get(how) ?? []), index + 1]);
  });
  return [...pinsOf].map(
    ([how, pins]) => `${pinsOf.size === 1 ? 'Each' : `Pin ${pins.join(', ')}`} on ${how}`,
  );
}

/** A part's picture, and what to mask, hang and clamp. */
export function PartBlock({
  part,
  measures,
  faces,
  pictures,
  pinPlaces,
  system,
  masks,
  hanging,
}: PartBlockProps) {
  const measure = measures[part.id];
  const table = faces[part.id];
  if (!measure || !table) return null;
  const facesWith = (wanted: (row: number) => boolean): string => {
    const rows = measure.treatmentOfFace.map((_, row) => row).filter(wanted);
    return describeFaces(table, rows, metresPerUnit(part.unit), system).join('; ');
  };
  const masked = facesWith(
    (row) => measure.treatmentOfFace[row] === 'mask' || measure.treatmentOfFace[row] === 'mixed',
  );
  const sheetM = saidSheetM(part);
  const bare = facesWith((row) => measure.treatmentOfFace[row] === 'contact');
  const shown = facesWith((row) => measure.showOfFace[row]!);
  const picture = pictures[part.id];
  const hangs = hangingLines(part, hanging[part.id], system);
  return (
    <section className="paper-part">
      <h2>
        {part.quantity} × {part.name}
      </h2>
      <div className="paper-part-columns">
        {picture ? (
          <img className="paper-picture" src={picture} alt={`${part.name} with its numbered contacts`} />
        ) : null}
        <dl>
          <dt>Coated, each{saidDepthM(part) === null ? '' : ', below the level'}</dt>
          <dd>
            {both('area', measure.coatedM2, ['cm²', 'in²'], system, 4)}
            {measure.unconfirmed ? <span className="paper-mark">{measure.unconfirmed}</span> : null}
          </dd>
          {sheetM === null ? null : (
            <>
              <dt>Counted as a sheet</dt>
              <dd>{both('length', sheetM, ['mm', 'in'], system, 3)} thick, as was said: measure it</dd>
            </>
          )}
          {part.alloy === null && part.filler === null ? null : (
            <>
              <dt>Alloy</dt>
              <dd>
                {part.alloy ?? 'not said'}
                {part.filler === null ? '' : `, welded with ${part.filler}`}
              </dd>
            </>
          )}
          <dt>Mask</dt>
          <dd>
            {masked === ''
              ? 'nothing'
              : `${masked}; in all ${formatQuantity('area', measure.maskedM2, system).text}`}
          </dd>
          {masks ? <MaskLines masks={masks} system={system} /> : null}
          {bare === '' ? null : (
            <>
              <dt>Bare contact</dt>
              <dd>{bare}</dd>
            </>
          )}
          {shown === '' ? null : (
            <>
              <dt>Show faces</dt>
              <dd>{shown}</dd>
            </>
          )}
        </dl>
      </div>
      <dl className="paper-part-hanging">
        {hangs.length > 0 ? (
          <>
            <dt>Hang it</dt>
            <dd>{hangs.join('; ')}</dd>
          </>
        ) : null}
        <dt>Clamp at</dt>
        <dd>
          {part.contacts.length === 0
            ? 'no pin set'
            : [
                ...part.contacts.map(
                  ({ id }, index) =>
                    `Pin ${index + 1}: ${pinPlaces[part.id]?.get(id) ?? 'off the part, set it again'}`,
                ),
                ...clampLines(part, system),
              ].map((text) => <div key={text}>{text}</div>)}
        </dd>
      </dl>
    </section>
  );
}

/** How thick the user said a model drawn without thickness is; null where nothing was said. */
function saidSheetM({ surface, unit }: Part): number | null {
  const said = surface.repairs.find((repair) => repair.kind === 'thicken');
  return said ? said.thickness * metresPerUnit(unit) : null;
}
