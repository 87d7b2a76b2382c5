import { overrunWords } from '../../core/shop/overrun-words.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { useApp } from '../app/services.ts';
import { MessageCard } from '../widgets/message-card.tsx';

/** Of a run that is over: its hold went on too long, and what film that made. */
export function Overrun({ record }: { readonly record: RunRecord }) {
  const system = useApp((state) => state.unitSystem);
  const { overrun, plan } = record;
  if (!overrun) return null;
  return <MessageCard level="check" {...overrunWords(overrun, plan.thicknessM, system)} />;
}
