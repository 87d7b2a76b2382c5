import { useEffect, useRef, useState, type KeyboardEvent } from 'react';
import { holdEntry } from '../state/open-entry.ts';
import { useReportStanding } from './entry-group.tsx';

interface WholeEntry {
  /** What the field shows. */
  readonly text: string;
  /** Why the text was not taken; it stays in sight and changes nothing. */
  readonly wrong: string | null;
  /** A text stands in the field that was neither taken nor refused yet. */
  readonly isOpen: boolean;
  readonly type: (text: string) => void;
  /** Takes what was typed. */
  readonly settle: () => void;
  /** Enter takes the text, Escape brings the settled one back. */
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

/**
 * A text taken as a whole when the field is left, on Enter, or before a command of the window acts.
 * @param settled what stands
 * @param take takes a text, or says why it can't
 */
export function useWholeEntry(settled: string, take: (text: string) => string | null): WholeEntry {
  const [typed, setTyped] = useState<string | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const isOpen = typed !== null && wrong === null && typed !== settled;

  const settle = (): void => {
    if (typed === null) return;
    const complaint = typed === settled ? null : take(typed);
    setWrong(complaint);
    if (complaint === null) setTyped(null);
  };
  const latest = useRef(settle);
  useEffect(() => {
    latest.current = settle;
  });
  useReportStanding(wrong !== null ? 'wrong' : isOpen ? 'open' : 'taken');
  useEffect(() => (isOpen ? holdEntry(() => latest.current()) : undefined), [isOpen]);

  return {
    text: typed ?? settled,
    wrong,
    isOpen,
    type: (text) => {
      setTyped(text);
      setWrong(null);
    },
    settle,
    onKeyDown: ({ key }) => {
      if (key === 'Enter') settle();
      if (key !== 'Escape') return;
      setTyped(null);
      setWrong(null);
    },
  };
}
