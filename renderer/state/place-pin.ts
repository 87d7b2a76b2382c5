import { partById, putContact } from '../../core/job/edit-job.ts';
import type { Contact, Part } from '../../core/job/job.ts';
import { samePlace } from '../../core/job/same-place.ts';
import { sourceOf } from '../../core/mesh/mesh-triangles.ts';
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

/** The file's triangle behind one of the active part's mesh: that is what a job's pins refer to. */
function sourceOfActive(store: AppStore, triangle: number): number | undefined {
  const { activePartId, meshes } = store.getState();
  const geometry = activePartId === null ? undefined : meshes[activePartId]?.geometry;
  return geometry && sourceOf(geometry, triangle);
}

/** Sets a pin on the active part where the surface was clicked. */
export function placePin(store: AppStore, triangle: number, at: Point): void {
  const state = store.getState();
  const partId = state.activePartId;
  const source = sourceOfActive(store, triangle);
  if (partId === null || source === undefined) return;
  const { patchDiameterM, hanger } = newPinLike(store);
  const contact: Contact = {
    id: crypto.randomUUID(),
    at: [...at],
    triangle: source,
    patchDiameterM,
    hanger,
  };
  const number = partById(jobOf(state), partId).contacts.length + 1;
  editJob(store, `Pin ${number}`, (job) => putContact(job, partId, contact));
  store.setState({ selectedPinId: contact.id, placingPin: false });
}

/** The part's pin at a place, if one sits there already. */
export function pinThere(part: Part, at: Point): Contact | undefined {
  return part.contacts.find((pin) =>
    samePlace(part, pin, { at: [...at], patchDiameterM: pin.patchDiameterM }),
  );
}

/** Sets pins where the adviser proposes them and none sits yet; one step of undo. */
export function acceptProposals(
  store: AppStore,
  places: readonly { readonly at: Point; readonly triangle: number }[],
): void {
  const state = store.getState();
  const partId = state.activePartId;
  const geometry = partId === null ? undefined : state.meshes[partId]?.geometry;
  if (partId === null || !geometry) return;
  const { patchDiameterM, hanger } = newPinLike(store);
  const part = partById(jobOf(state), partId);
  const free = places.filter(({ at }) => !pinThere(part, at));
  const contacts = free.map(({ at, triangle }): Contact => ({
    id: crypto.randomUUID(),
    at: [...at],
    triangle: sourceOf(geometry, triangle),
    patchDiameterM,
    hanger,
  }));
  const last = contacts.at(-1);
  if (!last) return;
  editJob(store, contacts.length > 1 ? 'Accept two places' : 'Accept a place', (job) =>
    contacts.reduce((next, contact) => putContact(next, partId, contact), job),
  );
  store.setState({ selectedPinId: last.id, placingPin: false });
}

export function movePin(store: AppStore, contactId: string, triangle: number, at: Point): void {
  const state = store.getState();
  const partId = state.activePartId;
  if (partId === null) return;
  const contact = partById(jobOf(state), partId).contacts.find((pin) => pin.id === contactId);
  const source = sourceOfActive(store, triangle);
  if (!contact || source === undefined) return;
  editJob(store, 'Move pin', (job) => putContact(job, partId, { ...contact, triangle: source, at: [...at] }));
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
