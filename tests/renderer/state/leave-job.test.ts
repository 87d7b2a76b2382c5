import { expect, it } from 'vitest';
import type { Bridge } from '../../../core/bridge/bridge.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { newPart } from '../../../core/job/default-job.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { failure, success } from '../../../core/result.ts';
import type { Services } from '../../../renderer/app/services.ts';
import { createAppStore, editJob, jobOf } from '../../../renderer/state/app-store.ts';
import { mayLeaveJob, type LeaveChoice } from '../../../renderer/state/leave-job.ts';

function withUnsavedPart(saveJob: Bridge['saveJob']): Services {
  const store = createAppStore();
  editJob(store, 'Add', (job) => addPart(job, newPart('p', 'plate.stl', 84, 'mm', true)));
  store.setState({
    models: new Map(jobOf(store.getState()).parts.map((part) => [fileOf(part)!.entry, new Uint8Array(84)])),
  });
  return { store, bridge: { saveJob } } as unknown as Services;
}

const answered = (services: Services, choice: LeaveChoice): Promise<boolean> => {
  const may = mayLeaveJob(services, 'start a new one');
  services.store.getState().leaveQuestion!.answer(choice);
  return may;
};

const saves = async () => success({ id: 'f', name: 'plate.tankside' });

it('asks nothing of a job that stands in its file or has no part', async () => {
  const services = { store: createAppStore() } as unknown as Services;
  expect(await mayLeaveJob(services, 'start a new one')).toBe(true);
});

it('stays, leaves, or leaves once it is saved', async () => {
  expect(await answered(withUnsavedPart(saves), 'stay')).toBe(false);
  expect(await answered(withUnsavedPart(saves), 'leave')).toBe(true);
  const services = withUnsavedPart(saves);
  expect(await answered(services, 'save')).toBe(true);
  expect(services.store.getState().target?.name).toBe('plate.tankside');
  expect(services.store.getState().leaveQuestion).toBeNull();
});

it('stays when the file was not written: a full disk, or no file chosen', async () => {
  const full = withUnsavedPart(async () => failure('disk-full', 'The disk is full.', 'Make room.'));
  expect(await answered(full, 'save')).toBe(false);
  expect(full.store.getState().notices.map((notice) => notice.failure.code)).toEqual(['disk-full']);
  expect(
    await answered(
      withUnsavedPart(async () => success(null)),
      'save',
    ),
  ).toBe(false);
});

it('a second question takes the first one back', async () => {
  const services = withUnsavedPart(saves);
  const first = mayLeaveJob(services, 'start a new one');
  const second = mayLeaveJob(services, 'open the other job');
  expect(await first).toBe(false);
  services.store.getState().leaveQuestion!.answer('leave');
  expect(await second).toBe(true);
});
