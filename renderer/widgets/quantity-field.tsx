import { FieldError, Input, Label, Text, TextField } from 'react-aria-components';
import { formatIn } from '../../core/units/format-quantity.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import type { QuantityKind, UnitSystem } from '../../core/units/unit-table.ts';
import { useApp } from '../app/services.ts';
import { useWholeEntry } from './use-whole-entry.ts';

interface QuantityFieldProps {
  readonly label: string;
  readonly kind: QuantityKind;
  readonly valueSi: number | null;
  /** Units it is shown in: metric and US. */
  readonly units: readonly [metric: string, us: string];
  readonly limits: { readonly low: number; readonly high: number };
  readonly onChange: (valueSi: number | null) => void;
  /** An empty field means "none" and gives null. */
  readonly emptyMeans?: string;
  /** What the plan says about this field; a `stop` marks it wrong. */
  readonly complaint?: {
    readonly level: 'note' | 'check' | 'stop';
    readonly message: string;
    readonly remedy: string;
  };
  readonly wholeNumber?: boolean;
  /** It only feeds a button beside it: taken with every letter, null while it can't be read. */
  readonly isDraft?: boolean;
}

const shown = (kind: QuantityKind, valueSi: number, unit: string): string =>
  formatIn(kind, valueSi, unit, 4).text;

/** Trailing zeros say nothing while typing. */
const plain = (text: string): string =>
  text.replace(/(\.\d*?)0+(?=[ °]|$)/, '$1').replace(/\.(?=[ °]|$)/, '');

/**
 * A number with its unit. Any unit of its kind may be typed ("1 mil", "25 µm"); a bare number takes the unit in the
 * field. It is taken when the field is left, or on Enter. A wrong entry stays in sight, is explained, and changes nothing:
 * the plan goes on with the last good value, and Escape brings it back.
 */
export function QuantityField(props: QuantityFieldProps) {
  const { label, kind, valueSi, units, limits, onChange, emptyMeans, complaint, wholeNumber, isDraft } =
    props;
  const system: UnitSystem = useApp((state) => state.unitSystem);
  const unit = system === 'metric' ? units[0] : units[1];
  const otherUnit = system === 'metric' ? units[1] : units[0];
  const settled = valueSi === null ? '' : plain(shown(kind, valueSi, unit));
  const bound = (limitSi: number): string => plain(formatIn(kind, limitSi, unit, 3).text);
  const range = `${bound(limits.low)} to ${bound(limits.high)}`;

  /** What was typed as a value, or what is wrong with it. */
  const read = (text: string): { valueSi: number | null } | { wrong: string } => {
    if (text.trim() === '' && emptyMeans !== undefined) return { valueSi: null };
    const keeps = valueSi === null ? '' : ` The plan still uses ${settled}.`;
    const parsed = parseQuantity(kind, text, unit);
    if (!parsed.ok) return { wrong: `${parsed.error.message} ${parsed.error.remedy}${keeps}` };
    const slack = 1e-9 * Math.abs(limits.high);
    if (parsed.value < limits.low - slack || parsed.value > limits.high + slack) {
      return { wrong: `That is outside ${range}. Type a value within it.${keeps}` };
    }
    if (wholeNumber && !Number.isInteger(parsed.value)) return { wrong: `Type a whole number.${keeps}` };
    return { valueSi: parsed.value };
  };
  const take = (text: string): string | null => {
    const entered = read(text);
    if ('wrong' in entered) return entered.wrong;
    onChange(entered.valueSi);
    return null;
  };
  const entry = useWholeEntry(settled, take);
  const also = valueSi !== null && otherUnit !== unit ? plain(shown(kind, valueSi, otherUnit)) : '';
  const said =
    entry.wrong ?? (complaint?.level === 'stop' ? `${complaint.message} ${complaint.remedy}` : null);

  return (
    <TextField
      className="field"
      value={entry.text}
      onChange={(text) => {
        entry.type(text);
        if (!isDraft) return;
        const entered = read(text);
        onChange('wrong' in entered ? null : entered.valueSi);
      }}
      onBlur={entry.settle}
      isInvalid={said !== null}
    >
      <Label>{label}</Label>
      <div className="field-line">
        <Input
          inputMode="text"
          autoComplete="off"
          spellCheck="false"
          placeholder={emptyMeans}
          onKeyDown={entry.onKeyDown}
        />
      </div>
      <Text slot="description" className="hint">
        {entry.isOpen && !isDraft ? 'Enter takes it · ' : also ? `= ${also} · ` : ''}
        {range}
        {emptyMeans ? `, or leave empty: ${emptyMeans}` : ''}
      </Text>
      <FieldError className="wrong">{said}</FieldError>
      {said === null && complaint ? (
        <span className="hint">
          {complaint.message} {complaint.remedy}
        </span>
      ) : null}
    </TextField>
  );
}
