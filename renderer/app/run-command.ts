import type { MenuCommand } from '../../core/bridge/bridge.ts';
import { takeOpenEntry } from '../state/open-entry.ts';
import { redoEdit, undoEdit } from '../state/app-store.ts';
import { chooseJob, chooseModels, startNewJob } from '../state/open-files.ts';
import { saveJob } from '../state/save-file.ts';
import type { Services } from './services.ts';

/** What the file menu, the shell's menu and the keys do alike. */
export function runCommand(services: Services, command: MenuCommand): void {
  takeOpenEntry();
  switch (command) {
    case 'new':
      return void startNewJob(services);
    case 'model':
      return void chooseModels(services);
    case 'open':
      return void chooseJob(services);
    case 'save':
      return void saveJob(services, false);
    case 'save-as':
      return void saveJob(services, true);
    case 'undo':
      return undoEdit(services.store);
    case 'redo':
      return redoEdit(services.store);
  }
}
