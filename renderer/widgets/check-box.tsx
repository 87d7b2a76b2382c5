import type { ReactNode } from 'react';
import { Checkbox } from 'react-aria-components';

interface CheckBoxProps {
  readonly isOn: boolean;
  readonly onChange: (isOn: boolean) => void;
  readonly children: ReactNode;
}

/** Yes or no, with a target as large as a button's. */
export function CheckBox({ isOn, onChange, children }: CheckBoxProps) {
  return (
    <Checkbox className="check-box" isSelected={isOn} onChange={onChange}>
      <span className="check-box-mark" aria-hidden="true">
        {isOn ? '✓' : ''}
      </span>
      <span>{children}</span>
    </Checkbox>
  );
}
