import { partById, putContact } from '../../core/job/edit-job.ts';
import type { Contact } from '../../core/job/job.ts';
import { pointOnFace } from '../../core/racking/point-on-face.ts';
import { editJob, jobOf, type AppStore } from './app-store.ts';
import { FIRST_HANGER } from '../../core/job/job-hanging.ts';

type Point = readonly [number, number, number];

/** A new pin is like the last one of the part, else a 3 mm patch under one 2 mm titanium wire. */
const FIRST_PIN: Pick<Contact, 'patchDiameterM' | 'hanger'> = {
  patchDiameterM: 0.003,
  hanger: FIRST_HANGER,
};

export function newPinLike(store: AppStore): Pick<Contact, 'patchDiameterM' | 'hanger'> {
  const state = store.getState();
  const part = jobOf(state).parts.find((candidate) => candidate.id === state.activePartId);
  return part?.contacts.at(-1) ?? FIRST_PIN;
}

/** Sets a pin on the active part where the surface was clicked. */
export function placePin(store: AppStore, triangle: number, at: Point): void {
  const state = store.getState();
  const partId = state.activePartId;
  if (partId === null) return;
  const { patchDiameterM, hanger } = newPinLike(store);
  const contact: Contact = { id: crypto.randomUUID(), at: [...at], triangle, patchDiameterM, hanger };
  const number = partById(jobOf(state), partId).contacts.length + 1;
  editJob(store, `Pin ${number}`, (job) => putContact(job, partId, contact));
  store.setState({ selectedPinId: contact.id, placingPin: false });
}

export function movePin(store: AppStore, contactId: string, triangle: number, at: Point): void {
  const state = store.getState();
  const partId = state.activePartId;
  if (partId === null) return;
  const contact = partById(jobOf(state), partId).contacts.find((pin) => pin.id === contactId);
  if (!contact) return;
  editJob(store, 'Move pin', (job) => putContact(job, partId, { ...contact, triangle, at: [...at] }));
}

/** Sets a pin in the middle of the one selected face. */
export function placePinOnFace(store: AppStore): void {
  const state = store.getState();
  const [row] = state.selectedFaces;
  const geometry = state.activePartId === null ? undefined : state.meshes[state.activePartId]?.geometry;
  if (row === undefined || !geometry) return;
  const { triangle, at } = pointOnFace(geometry, row);
  placePin(store, triangle, at);
}
