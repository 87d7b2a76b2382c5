import { jobOf, showPart } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';

/** Which of several parts the stage and the view show; nothing for one part alone. */
export function PartChooser() {
  const { store } = useServices();
  const { parts } = useApp(jobOf);
  const activeId = useApp((state) => state.activePartId);
  if (parts.length < 2) return null;
  return (
    <ChoiceRow
      label="Parts of this job"
      choices={parts.map((part) => ({ id: part.id, label: `${part.name} × ${part.quantity}` }))}
      chosen={activeId}
      onChoose={(id) => showPart(store, id)}
    />
  );
}
