import { faceId } from '../../core/faces/face-table.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { colourRamp, rampColour } from '../viewport/colour-ramp.ts';
import type { ScaleRange } from '../state/thickness-map.ts';
import { useApp, useField } from '../app/services.ts';

const TABLE = colourRamp();
const BARS = 48;
const MARKS = 5;

interface ThicknessScaleProps {
  readonly range: ScaleRange;
  readonly limitM?: number;
  readonly isPreview?: boolean;
  readonly isStale?: boolean;
  /** Without the pointer's reading. */
  readonly plain?: boolean;
}

/** What the colours of the map mean, and what lies under the pointer. */
export function ThicknessScale({ range, limitM, isPreview, isStale, plain }: ThicknessScaleProps) {
  const system = useApp((state) => state.unitSystem);
  const cursor = useField((state) => state.cursor);
  const unit = system === 'metric' ? 'µm' : 'mil';
  const { low, high } = range;
  const at = (valueM: number): number => 100 * (1 - (valueM - low) / (high - low));
  const marks = Array.from({ length: MARKS }, (_, i) => low + ((high - low) * i) / (MARKS - 1));
  const showsLimit = limitM !== undefined && limitM > low && limitM < high;
  return (
    <div className="thickness-scale" role="group" aria-label="Scale of the map">
      <div className="thickness-scale-title">Thickness, {unit}</div>
      <div className="thickness-scale-body">
        <svg viewBox="0 0 20 100" preserveAspectRatio="none" aria-hidden="true">
          {Array.from({ length: BARS }, (_, i) => (
            <rect
              key={i}
              x="0"
              width="20"
              y={(100 * i) / BARS}
              height={100 / BARS + 0.3}
              fill={rampColour(TABLE, 1 - (i + 0.5) / BARS)}
            />
          ))}
        </svg>
        <ul>
          {marks.map((valueM) => (
            <li key={valueM} style={{ top: `${at(valueM)}%` }}>
              {formatIn('length', valueM, unit).number}
            </li>
          ))}
        </ul>
      </div>
      {limitM !== undefined ? (
        <div className="soft">
          {showsLimit || limitM >= high ? 'hatched' : 'nothing'} below {formatIn('length', limitM, unit).text}
        </div>
      ) : null}
      {isPreview ? <div className="soft">coarse grid, first look</div> : null}
      {isStale ? <div className="thickness-stale">of an earlier setting</div> : null}
      {plain || isPreview ? null : (
        <output className="thickness-cursor" aria-label="Under the pointer">
          {cursor === null
            ? 'Point at the part'
            : cursor.thicknessM === null
              ? `${faceId(cursor.row)}: not coated`
              : `${faceId(cursor.row)}: ${formatIn('length', cursor.thicknessM, unit).text}`}
        </output>
      )}
    </div>
  );
}
