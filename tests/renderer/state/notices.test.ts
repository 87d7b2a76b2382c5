import { expect, it } from 'vitest';
import {
  closeNoticesWithStage,
  DRAFT_RESTORED,
  dropFileStops,
  dropNoticesOfJob,
  notify,
  notifyOfFile,
} from '../../../renderer/state/notices.ts';
import { createAppStore } from '../../../renderer/state/app-store.ts';

const said = (code: string) => ({ code, message: `${code}.`, remedy: 'Do this.' });

it('what was said of a file closes with the stage; what went wrong elsewhere, and what is to be looked at, stays', () => {
  const store = createAppStore();
  closeNoticesWithStage(store);
  notify(store, said('disk-full'));
  notifyOfFile(store, said('not-a-model'));
  notifyOfFile(store, said('parts-add-up'), 'note');
  notifyOfFile(store, said('masks-moved'), 'check');
  const codes = (): string[] => store.getState().notices.map(({ failure }) => failure.code);
  store.setState({ stage: store.getState().stage });
  expect(codes()).toHaveLength(4);
  store.setState({ stage: store.getState().stage === 'bath' ? 'part' : 'bath' });
  expect(codes()).toEqual(['disk-full', 'masks-moved']);
});

it('stops of files read before do not pile up', () => {
  const store = createAppStore();
  notifyOfFile(store, said('not-a-model'));
  notifyOfFile(store, said('masks-moved'), 'check');
  notify(store, said('disk-full'));
  dropFileStops(store);
  expect(store.getState().notices.map(({ failure }) => failure.code)).toEqual(['masks-moved', 'disk-full']);
});

it('that a job is back outlives a change of stage and goes with the job', () => {
  const store = createAppStore();
  closeNoticesWithStage(store);
  notify(store, said(DRAFT_RESTORED), 'note');
  notify(store, said('disk-full'));
  store.setState({ stage: store.getState().stage === 'bath' ? 'part' : 'bath' });
  expect(store.getState().notices).toHaveLength(2);
  dropNoticesOfJob(store);
  expect(store.getState().notices.map(({ failure }) => failure.code)).toEqual(['disk-full']);
});
