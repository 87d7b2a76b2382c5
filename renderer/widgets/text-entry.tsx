import { useState } from 'react';
import { FieldError, Input, Label, Text, TextField } from 'react-aria-components';
import type { Failure, Result } from '../../core/result.ts';

interface TextEntryProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (text: string) => void;
  /** What can not be taken, and why; such a text stays in sight and changes nothing. */
  readonly check?: (text: string) => Result<unknown>;
  readonly hint?: string;
  readonly placeholder?: string;
  /** What the text as it stands leads to, where it can be read but not used. */
  readonly complaint?: Failure | null;
}

/** A line of text that means something: an acid as printed on its can, a fit as on the drawing. */
export function TextEntry(props: TextEntryProps) {
  const { label, value, onChange, check, hint, placeholder, complaint } = props;
  const [typed, setTyped] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Failure | null>(null);
  const take = (text: string): void => {
    setTyped(text);
    const checked = check?.(text);
    if (checked && !checked.ok) return setWrong(checked.error);
    setWrong(null);
    onChange(text);
  };
  const said = wrong ?? complaint ?? null;
  return (
    <TextField
      className="field"
      value={typed ?? value}
      onChange={take}
      onBlur={() => {
        if (wrong === null) setTyped(null);
      }}
      isInvalid={said !== null}
    >
      <Label>{label}</Label>
      <Input autoComplete="off" spellCheck="false" placeholder={placeholder} />
      {hint ? (
        <Text slot="description" className="hint">
          {hint}
        </Text>
      ) : null}
      <FieldError className="wrong">{said ? `${said.message} ${said.remedy}` : null}</FieldError>
    </TextField>
  );
}
