import { QuantityField } from '../widgets/quantity-field.tsx';

interface LengthProps {
  readonly label: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly onChange: (value: number) => void;
}

/** A length of the tank, m. */
export function Length({ label, value, low, high, onChange }: LengthProps) {
  return (
    <QuantityField
      label={label}
      kind="length"
      valueSi={value}
      units={['mm', 'in']}
      limits={{ low, high }}
      onChange={(next) => next !== null && onChange(next)}
    />
  );
}
