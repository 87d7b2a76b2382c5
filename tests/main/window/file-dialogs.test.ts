import type { BrowserWindow, OpenDialogOptions, SaveDialogOptions } from 'electron';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { fileDialogs, safeFileName } from '../../../main/window/file-dialogs.ts';

interface Answers {
  readonly open?: { canceled: boolean; filePaths: string[] };
  readonly save?: { canceled: boolean; filePath: string };
  readonly replace?: boolean;
  readonly existing?: readonly string[];
}

function withAnswers(answers: Answers) {
  const asked: { open: OpenDialogOptions[]; save: SaveDialogOptions[]; replace: number } = {
    open: [],
    save: [],
    replace: 0,
  };
  const dialog = {
    showOpenDialog: async (_window: unknown, options: OpenDialogOptions) => {
      asked.open.push(options);
      return answers.open ?? { canceled: true, filePaths: [] };
    },
    showSaveDialog: async (_window: unknown, options: SaveDialogOptions) => {
      asked.save.push(options);
      return answers.save ?? { canceled: true, filePath: '' };
    },
    showMessageBox: async (_window: unknown, options: { buttons?: string[] }) => {
      asked.replace++;
      return {
        response: (options.buttons ?? []).indexOf(answers.replace ? 'Replace' : 'Cancel'),
        checkboxChecked: false,
      };
    },
  } as unknown as Parameters<typeof fileDialogs>[0];
  const exists = (path: string): boolean => (answers.existing ?? []).includes(path);
  return { dialogs: fileDialogs(dialog, exists, () => ({}) as BrowserWindow), asked };
}

test('a cancelled dialog is no files and no target', async () => {
  const { dialogs } = withAnswers({});
  expect(await dialogs.chooseFiles('model')).toEqual([]);
  expect(await dialogs.chooseTarget('job', 'ring')).toBeNull();
});

test('models can be chosen together, a job alone', async () => {
  const { dialogs, asked } = withAnswers({ open: { canceled: false, filePaths: ['/a.stl', '/b.obj'] } });
  expect(await dialogs.chooseFiles('model')).toEqual(['/a.stl', '/b.obj']);
  await dialogs.chooseFiles('job');
  expect(asked.open.map((options) => options.properties?.includes('multiSelections'))).toEqual([true, false]);
  expect(asked.open.map((options) => options.filters?.[0]?.extensions)).toEqual([
    ['step', 'stp', 'stl', 'obj', 'ply', '3mf'],
    ['tankside'],
  ]);
});

test('a name typed without its ending gets it', async () => {
  const typed = resolve('/jobs/ring');
  const { dialogs } = withAnswers({ save: { canceled: false, filePath: typed } });
  expect(await dialogs.chooseTarget('job', 'x')).toBe(`${typed}.tankside`);
  expect(await dialogs.chooseTarget('pdf', 'x')).toBe(`${typed}.pdf`);
});

test('a file that the added ending would replace is asked about', async () => {
  const typed = resolve('/jobs/ring');
  const answers = { save: { canceled: false, filePath: typed }, existing: [`${typed}.tankside`] };
  const kept = withAnswers({ ...answers, replace: false });
  expect(await kept.dialogs.chooseTarget('job', 'x')).toBeNull();
  const replaced = withAnswers({ ...answers, replace: true });
  expect(await replaced.dialogs.chooseTarget('job', 'x')).toBe(`${typed}.tankside`);
  // The dialog itself has asked about a name typed whole.
  const whole = withAnswers({
    save: { canceled: false, filePath: `${typed}.TANKSIDE` },
    existing: [`${typed}.TANKSIDE`],
  });
  expect(await whole.dialogs.chooseTarget('job', 'x')).toBe(`${typed}.TANKSIDE`);
  expect(whole.asked.replace).toBe(0);
});

describe('the proposed file name', () => {
  // Microsoft, "Naming Files, Paths, and Namespaces": the reserved characters, and no dot or space at the end.
  test.each([
    ['Ring', 'Ring.tankside'],
    ['Ring.tankside', 'Ring.tankside'],
    ['../../etc/passwd', 'etc passwd.tankside'],
    ['a<b>c:d"e/f\\g|h?i*j', 'a b c d e f g h i j.tankside'],
    ['tab\there\u0000', 'tab here.tankside'],
    ['M42 ring, 1" Ø', 'M42 ring, 1 Ø.tankside'],
    ['. . .', 'untitled.tankside'],
    ['', 'untitled.tankside'],
    ['.tankside', 'untitled.tankside'],
    ['tankside', 'tankside.tankside'],
  ])('%j is saved as %j', (suggested, expected) => {
    expect(safeFileName(suggested, '.tankside')).toBe(expected);
  });

  test('a very long name stays one that disks take', () => {
    expect(safeFileName('n'.repeat(5000), '.tankside').length).toBeLessThan(200);
  });
});
