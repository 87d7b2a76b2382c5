import { useEffect, useRef, useState } from 'react';
import { Input, Label, TextArea, TextField } from 'react-aria-components';
import { useServices } from '../app/services.ts';

interface KeptTextProps {
  readonly label: string;
  readonly value: string;
  /** Names the field among all there are. */
  readonly place: string;
  readonly long?: boolean;
  /** Resolves to whether the book has it. */
  readonly onKeep: (text: string) => Promise<boolean>;
}

/** Kept when the field is left, so that each letter is not a write of its own; what a page that goes away cuts off is taken up again. */
export function KeptText({ label, place, value, long = false, onKeep }: KeptTextProps) {
  const { typedText } = useServices().runs;
  const [typed, setTyped] = useState<string | null>(null);
  const leave = useRef<() => void>(() => {});
  const keep = useRef<(text: string) => void>(() => {});
  useEffect(() => {
    keep.current = (text) =>
      void onKeep(text).then((kept) => {
        if (kept && typedText.look(place) === text) typedText.clear(place);
      });
    leave.current = () => {
      if (typed !== null && typed !== value) keep.current(typed);
    };
  });
  useEffect(() => {
    const left = typedText.look(place);
    if (left !== null) keep.current(left);
    return () => leave.current();
  }, [place, typedText]);
  return (
    <TextField
      className="field"
      value={typed ?? value}
      onChange={(text) => {
        setTyped(text);
        // The book's write may come too late for a page that is being closed; this one is done at once.
        typedText.put(place, text);
      }}
      onBlur={() => leave.current()}
    >
      <Label>{label}</Label>
      {long ? <TextArea rows={3} /> : <Input />}
    </TextField>
  );
}
