import type { Lab } from '../../core/finish/colour.ts';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { parseColour } from '../../core/finish/parse-colour.ts';
import { success } from '../../core/result.ts';
import { TextEntry } from '../widgets/text-entry.tsx';
import { hexOfLab } from '../state/dye-accent.ts';

const CHANNELS = [
  { key: 'l', label: 'L* light', low: 0, high: 100 },
  { key: 'a', label: 'a* red', low: -150, high: 150 },
  { key: 'b', label: 'b* yellow', low: -150, high: 150 },
] as const;

interface LabFieldsProps {
  readonly value: Lab | null;
  readonly onChange: (lab: Lab) => void;
}

/** A colour in CIELAB (D65), as a colorimeter or a phone's app reads it. */
export function LabFields({ value, onChange }: LabFieldsProps) {
  const start: Lab = value ?? { l: 50, a: 0, b: 0 };
  return (
    <>
      <TextEntry
        label="Colour as it is written"
        value={value ? hexOfLab(value) : ''}
        placeholder="#a01828"
        hint="#a01828, rgb(160, 24, 40) or L 38 a 52 b 24; as a screen shows it"
        check={(text) => (text.trim() === '' ? success(null) : parseColour(text))}
        onChange={(text) => {
          const read = parseColour(text);
          if (read.ok) onChange(read.value);
        }}
      />
      <div className="lab-fields">
        <span
          className="swatch wide"
          style={{ background: value ? hexOfLab(value) : 'transparent' }}
          role="img"
          aria-label={
            value
              ? `Colour L* ${value.l.toFixed(0)}, a* ${value.a.toFixed(0)}, b* ${value.b.toFixed(0)}`
              : 'No colour yet'
          }
        >
          {value ? null : <span className="swatch-none">none yet</span>}
        </span>
        {CHANNELS.map(({ key, label, low, high }) => (
          <QuantityField
            key={key}
            label={label}
            kind="count"
            valueSi={value ? Number(value[key].toFixed(1)) : null}
            units={['', '']}
            limits={{ low, high }}
            onChange={(typed) => typed !== null && onChange({ ...start, [key]: typed })}
          />
        ))}
      </div>
    </>
  );
}
