import { FieldError, Input, Label, Text, TextField } from 'react-aria-components';
import type { Failure, Result } from '../../core/result.ts';
import { useWholeEntry } from './use-whole-entry.ts';

interface TextEntryProps {
  readonly label: string;
  readonly value: string;
  /** The text as a whole, when the field is left or Enter pressed. */
  readonly onChange: (text: string) => void;
  /** It only feeds a button beside it: taken with every letter. */
  readonly isDraft?: boolean;
  /** What can not be taken, and why; such a text stays in sight and changes nothing. */
  readonly check?: (text: string) => Result<unknown>;
  readonly hint?: string;
  readonly placeholder?: string;
  /** What the text as it stands leads to, where it can be read but not used. */
  readonly complaint?: Failure | null;
}

const spoken = ({ message, remedy }: Failure): string => `${message} ${remedy}`;

/** A line of text that means something: an acid as printed on its can, a fit as on the drawing. */
export function TextEntry(props: TextEntryProps) {
  const { label, value, onChange, check, hint, placeholder, complaint, isDraft } = props;
  const entry = useWholeEntry(value, (text) => {
    const checked = check?.(text);
    if (checked && !checked.ok) return spoken(checked.error);
    onChange(text);
    return null;
  });
  const said = entry.wrong ?? (complaint ? spoken(complaint) : null);
  return (
    <TextField
      className="field"
      value={entry.text}
      onChange={(text) => {
        entry.type(text);
        if (isDraft) onChange(text);
      }}
      onBlur={entry.settle}
      isInvalid={said !== null}
    >
      <Label>{label}</Label>
      <Input autoComplete="off" spellCheck="false" placeholder={placeholder} onKeyDown={entry.onKeyDown} />
      {hint ? (
        <Text slot="description" className="hint">
          {hint}
        </Text>
      ) : null}
      <FieldError className="wrong">{said}</FieldError>
    </TextField>
  );
}
