import { useEffect } from 'react';
import { redoEdit, undoEdit } from '../state/app-store.ts';
import { STAGES } from '../state/app-state.ts';
import { chooseModels } from '../state/open-files.ts';
import { paintFaces, selectNone, type Paint } from '../state/paint-faces.ts';
import { saveJob } from '../state/save-file.ts';
import { useServices } from './services.ts';

const PAINT_KEYS: Readonly<Record<string, Paint>> = { c: 'coat', m: 'mask', b: 'contact', s: 'show' };

const inTextField = (target: EventTarget | null): boolean =>
  target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;

/** Keys of the whole window. Inside a text field the field's own undo and letters come first. */
export function useShortcuts(): void {
  const services = useServices();
  useEffect(() => {
    const { store } = services;
    const onKey = (event: KeyboardEvent): void => {
      const command = event.ctrlKey || event.metaKey;
      const key = event.key.toLowerCase();
      const act = (what: () => unknown): void => {
        event.preventDefault();
        what();
      };
      if (command && key === 's') return act(() => saveJob(services, event.shiftKey));
      if (command && key === 'o') return act(() => chooseModels(services));
      if (inTextField(event.target)) return;
      if (command && key === 'z') return act(() => (event.shiftKey ? redoEdit(store) : undoEdit(store)));
      if (command && key === 'y') return act(() => redoEdit(store));
      if (event.altKey && /^[1-9]$/.test(key)) {
        const stage = STAGES[Number(key) - 1];
        if (stage) return act(() => store.setState({ stage }));
      }
      if (command || event.altKey) return;
      if (key === 'escape') return act(() => (store.setState({ placingPin: false }), selectNone(store)));
      const paint = PAINT_KEYS[key];
      if (paint && store.getState().stage === 'faces' && store.getState().selectedFaces.size > 0) {
        act(() => paintFaces(store, paint));
      }
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [services]);
}
