import { useState } from 'react';
import { FieldError, Input, Label, Text, TextField } from 'react-aria-components';
import { formatIn } from '../../core/units/format-quantity.ts';
import { parseQuantity } from '../../core/units/parse-quantity.ts';
import type { QuantityKind, UnitSystem } from '../../core/units/unit-table.ts';
import { useApp } from '../app/services.ts';

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
}

const shown = (kind: QuantityKind, valueSi: number, unit: string): string =>
  formatIn(kind, valueSi, unit, 4).text;

/** Trailing zeros say nothing while typing. */
const plain = (text: string): string =>
  text.replace(/(\.\d*?)0+(?=[ °]|$)/, '$1').replace(/\.(?=[ °]|$)/, '');

/**
 * A number with its unit. Any unit of its kind may be typed ("1 mil", "25 µm"); a bare number takes the unit in the
 * field. A wrong entry stays in sight, is explained, and changes nothing: the plan goes on with the last good value,
 * and Escape brings it back.
 */
export function QuantityField(props: QuantityFieldProps) {
  const { label, kind, valueSi, units, limits, onChange, emptyMeans, complaint, wholeNumber } = props;
  const system: UnitSystem = useApp((state) => state.unitSystem);
  const unit = system === 'metric' ? units[0] : units[1];
  const otherUnit = system === 'metric' ? units[1] : units[0];
  const settled = valueSi === null ? '' : plain(shown(kind, valueSi, unit));
  const [typed, setTyped] = useState<string | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);

  const bound = (limitSi: number): string => plain(formatIn(kind, limitSi, unit, 2).text);
  const range = `${bound(limits.low)} to ${bound(limits.high)}`;

  const take = (text: string): void => {
    setTyped(text);
    if (text.trim() === '' && emptyMeans !== undefined) {
      setWrong(null);
      onChange(null);
      return;
    }
    const parsed = parseQuantity(kind, text, unit);
    const keeps = valueSi === null ? '' : ` The plan still uses ${plain(shown(kind, valueSi, unit))}.`;
    if (!parsed.ok) {
      setWrong(`${parsed.error.message} ${parsed.error.remedy}${keeps}`);
      return;
    }
    const value = parsed.value;
    const slack = 1e-9 * Math.abs(limits.high);
    if (value < limits.low - slack || value > limits.high + slack) {
      setWrong(`That is outside ${range}. Type a value within it.${keeps}`);
    } else if (wholeNumber && !Number.isInteger(value)) {
      setWrong(`Type a whole number.${keeps}`);
    } else {
      setWrong(null);
      onChange(value);
    }
  };
  const leave = (): void => {
    if (wrong === null) setTyped(null);
  };
  /** Takes a wrong entry back; a good one stands already. */
  const giveUp = (): void => {
    setTyped(null);
    setWrong(null);
  };
  const also = valueSi !== null && otherUnit !== unit ? plain(shown(kind, valueSi, otherUnit)) : '';
  const said = wrong ?? (complaint?.level === 'stop' ? `${complaint.message} ${complaint.remedy}` : null);

  return (
    <TextField
      className="field"
      value={typed ?? settled}
      onChange={take}
      onBlur={leave}
      isInvalid={said !== null}
    >
      <Label>{label}</Label>
      <div className="field-line">
        <Input
          inputMode="text"
          autoComplete="off"
          spellCheck="false"
          placeholder={emptyMeans}
          onKeyDown={(event) => {
            if (event.key === 'Escape') giveUp();
          }}
        />
      </div>
      <Text slot="description" className="hint">
        {also ? `= ${also} · ` : ''}
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
