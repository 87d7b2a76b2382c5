import { useEffect } from 'react';
import type { MenuCommand } from '../../core/bridge/bridge.ts';
import { STAGES, type StageId } from '../state/app-state.ts';
import { paintFaces, selectNone, type Paint } from '../state/paint-faces.ts';
import { runCommand } from './run-command.ts';
import { useServices } from './services.ts';

const PAINT_KEYS: Readonly<Record<string, Paint>> = { c: 'coat', m: 'mask', b: 'contact', s: 'show' };

/** The stage that Alt and this key go to: 1 to 9 and 0 the first ten, Page Up and Page Down the one before and after. */
function stageOf(key: string, now: StageId): StageId | undefined {
  if (/^[0-9]$/.test(key)) return STAGES[(Number(key) + 9) % 10];
  const by = key === 'pageup' ? -1 : key === 'pagedown' ? 1 : 0;
  return by === 0 ? undefined : STAGES[STAGES.indexOf(now) + by];
}

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
      const run = (command: MenuCommand): void => act(() => runCommand(services, command));
      if (command && key === 's') return run(event.shiftKey ? 'save-as' : 'save');
      if (command && key === 'o') return run('model');
      if (inTextField(event.target)) return;
      if (command && key === 'z') return run(event.shiftKey ? 'redo' : 'undo');
      if (command && key === 'y') return run('redo');
      const stage = event.altKey ? stageOf(key, store.getState().stage) : undefined;
      if (stage) return act(() => store.setState({ stage }));
      if (command || event.altKey) return;
      if (key === 'escape') return act(() => (store.setState({ placingPin: false }), selectNone(store)));
      const paint = PAINT_KEYS[key];
      if (paint && store.getState().stage === 'faces' && store.getState().selectedFaces.size > 0) {
        act(() => paintFaces(store, paint));
      }
    };
    window.addEventListener('keydown', onKey);
    const stopHearing = services.bridge.onMenuCommand?.((command) => {
      // The shell's menu knows nothing of the field the caret stands in.
      const ofText = (command === 'undo' || command === 'redo') && inTextField(document.activeElement);
      if (ofText) document.execCommand(command);
      else runCommand(services, command);
    });
    return () => {
      window.removeEventListener('keydown', onKey);
      stopHearing?.();
    };
  }, [services]);
}
