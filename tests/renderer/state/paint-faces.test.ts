import { describe, expect, it } from 'vitest';
import { editJob, isUnsaved, jobOf, undoEdit, type AppStore } from '../../../renderer/state/app-store.ts';
import { deriveFrom } from '../../../renderer/state/derived.ts';
import {
  maskClosedOff,
  paintFaces,
  pickFace,
  selectAlike,
  selectGrown,
  selectNone,
} from '../../../renderer/state/paint-faces.ts';
import { box } from '../../fixtures/shapes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';
import { placePin, placePinOnFace } from '../../../renderer/state/place-pin.ts';

const benchWithBox = (): AppStore => storeWithPart('box', box(40, 30, 20));

describe('painting faces', () => {
  it('is one step of undo, leaves the other faces, and marks the job unsaved', () => {
    const store = benchWithBox();
    const derived = deriveFrom(store);
    pickFace(store, 0, 'replace');
    pickFace(store, 3, 'add');
    paintFaces(store, 'mask');
    expect(derived.getState().measures['p']!.treatmentOfFace).toEqual([
      'mask',
      'coat',
      'coat',
      'mask',
      'coat',
      'coat',
    ]);
    expect(derived.getState().measures['p']!.maskedM2).toBeCloseTo((1200 + 600) * 1e-6, 12);
    expect(isUnsaved(store.getState())).toBe(true);
    undoEdit(store);
    expect(derived.getState().measures['p']!.maskedM2).toBe(0);
    expect(isUnsaved(store.getState())).toBe(false);
  });

  it('turns the show mark on and off without touching the treatment', () => {
    const store = benchWithBox();
    const derived = deriveFrom(store);
    pickFace(store, 1, 'replace');
    paintFaces(store, 'mask');
    paintFaces(store, 'show');
    expect(derived.getState().measures['p']!.showOfFace[1]).toBe(true);
    expect(derived.getState().measures['p']!.treatmentOfFace[1]).toBe('mask');
    paintFaces(store, 'coat');
    expect(derived.getState().measures['p']!.showOfFace[1]).toBe(true);
    paintFaces(store, 'show');
    expect(derived.getState().measures['p']!.showOfFace[1]).toBe(false);
  });

  it('masks what plugs shut off without the selection, keeps a show mark, and is one step of undo', () => {
    const store = benchWithBox();
    const derived = deriveFrom(store);
    pickFace(store, 1, 'replace');
    paintFaces(store, 'show');
    const { faceOfTriangle } = store.getState().meshes['p']!.geometry.faces;
    const triangles = [...faceOfTriangle.keys()].filter((t) => faceOfTriangle[t]! < 2);
    maskClosedOff(store, 'p', { areaM2: 2400e-6, faces: 'f1 and f2', triangles });
    const { treatmentOfFace, showOfFace, maskedM2 } = derived.getState().measures['p']!;
    expect(treatmentOfFace).toEqual(['mask', 'mask', 'coat', 'coat', 'coat', 'coat']);
    expect(showOfFace[1]).toBe(true);
    expect(maskedM2).toBeCloseTo(2400e-6, 12);
    expect([...store.getState().selectedFaces]).toEqual([1]);
    undoEdit(store);
    expect(derived.getState().measures['p']!.maskedM2).toBe(0);
    expect(derived.getState().measures['p']!.showOfFace[1]).toBe(true);
  });

  it('selects by click, shape and smooth neighbours', () => {
    const store = benchWithBox();
    const rows = (): number[] => [...store.getState().selectedFaces].sort();
    pickFace(store, 0, 'replace');
    selectAlike(store);
    expect(rows()).toEqual([0, 1]);
    pickFace(store, 1, 'subtract');
    expect(rows()).toEqual([0]);
    selectGrown(store); // a box has no smooth edge
    expect(rows()).toEqual([0]);
    pickFace(store, 0, 'replace');
    expect(rows()).toEqual([]);
    selectNone(store);
    expect(rows()).toEqual([]);
  });
});

describe('pins', () => {
  it('stand in the middle of a face, take after the last one, and go with undo', () => {
    const store = benchWithBox();
    pickFace(store, 1, 'replace');
    placePinOnFace(store);
    const [first] = jobOf(store.getState()).parts[0]!.contacts;
    expect(first!.at.map((value) => Math.round(value * 1e6) / 1e6)).toEqual([20, 15, 20]);
    expect(store.getState().selectedPinId).toBe(first!.id);
    editJob(store, 'wider', (job) => ({
      ...job,
      parts: job.parts.map((part) => ({ ...part, contacts: [{ ...first!, patchDiameterM: 0.007 }] })),
    }));
    placePin(store, 0, [1, 1, 0]);
    expect(jobOf(store.getState()).parts[0]!.contacts[1]!.patchDiameterM).toBe(0.007);
    undoEdit(store);
    expect(jobOf(store.getState()).parts[0]!.contacts).toHaveLength(1);
    expect(store.getState().selectedPinId).toBeNull();
  });
});
