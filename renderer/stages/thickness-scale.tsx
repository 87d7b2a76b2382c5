import { faceId } from '../../core/faces/face-table.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import { colourRamp, rampColour } from '../viewport/colour-ramp.ts';
import { markTexts, type ScaleRange } from '../state/thickness-map.ts';
import { useApp, useField } from '../app/services.ts';

const TABLE = colourRamp();
const BARS = 64;
const MARKS = 5;

interface ThicknessScaleProps {
  readonly range: ScaleRange;
  readonly limitM?: number;
  readonly isPreview?: boolean;
  readonly isStale?: boolean;
  /** Without the pointer's reading. */
  readonly plain?: boolean;
}

/** What the colours of the map mean, and what lies under the pointer: a strip below the view. */
export function ThicknessScale({ range, limitM, isPreview, isStale, plain }: ThicknessScaleProps) {
  const system = useApp((state) => state.unitSystem);
  const unit = system === 'metric' ? 'µm' : 'mil';
  const { low, high } = range;
  const marks = Array.from({ length: MARKS }, (_, i) => low + ((high - low) * i) / (MARKS - 1));
  return (
    <div className="thickness-scale" role="group" aria-label="Scale of the map">
      <div className="thickness-scale-bar">
        <div className="thickness-scale-title">
          Thickness, {unit}
          {isPreview ? <span className="soft"> · first look, coarse grid</span> : null}
          {isStale ? <span className="thickness-stale"> · of an earlier setting</span> : null}
        </div>
        <svg viewBox="0 0 100 10" preserveAspectRatio="none" shapeRendering="crispEdges" aria-hidden="true">
          {Array.from({ length: BARS }, (_, i) => (
            <rect
              key={i}
              y="0"
              height="10"
              x={(100 * i) / BARS}
              width={100 / BARS + 0.2}
              fill={rampColour(TABLE, (i + 0.5) / BARS)}
            />
          ))}
        </svg>
        <ul>
          {markTexts(marks, unit).map((text, i) => (
            <li key={i}>{text}</li>
          ))}
        </ul>
      </div>
      <div className="thickness-scale-side">
        {plain || isPreview ? null : <CursorReading unit={unit} />}
        <div className="soft">
          The scale{plain ? ', one for all maps,' : ''} spans{' '}
          {formatNumber((200 * (high - low)) / (high + low), 2)} %.{' '}
          {limitM === undefined
            ? ''
            : limitM > low
              ? `White lines: below ${formatIn('length', limitM, unit).text}. `
              : `Nothing below ${formatIn('length', limitM, unit).text}. `}
          Striped: not coated.
        </div>
      </div>
    </div>
  );
}

function CursorReading({ unit }: { unit: 'µm' | 'mil' }) {
  const cursor = useField((state) => state.cursor);
  return (
    <output className="thickness-cursor" aria-label="Under the pointer">
      {cursor === null
        ? 'Point at the part'
        : cursor.thicknessM === null
          ? `${faceId(cursor.row)}: not coated`
          : `${faceId(cursor.row)}: ${formatIn('length', cursor.thicknessM, unit).text}`}
    </output>
  );
}
