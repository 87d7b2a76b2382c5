import { describe, expect, it } from 'vitest';
import { changeBath } from '../../../core/job/edit-job.ts';
import { editJob, jobOf, undoEdit, type AppStore } from '../../../renderer/state/app-store.ts';
import { bathFromBook } from '../../../renderer/state/bath-book.ts';
import { deriveFrom } from '../../../renderer/state/derived.ts';
import { dropFit, fitFaces, markedThread, paintRows, rowsOfRound } from '../../../renderer/state/mark-fit.ts';
import { tube } from '../../fixtures/shapes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';

/** A ring 40 across, bore 25, 30 long. */
const benchWithRing = (): AppStore => storeWithPart('ring', tube(20, 12.5, 30, 96));

describe('fits on the part', () => {
  it('a bore’s fit warns until its faces are masked, which is one step of undo and takes its amps away', () => {
    const store = benchWithRing();
    const derived = deriveFrom(store);
    const wet = () => derived.getState().wet.fits['p']!;
    const lost = () => derived.getState().messages.filter(({ code }) => code === 'fit-lost').length;
    const bore = wet().rounds.find(({ shape }) => shape === 'hole')!;
    const rows = rowsOfRound(bore);
    fitFaces(store, 'p', rows, '25H7', { as: 'code', text: '25H7' });
    expect(wet().items[0]!.rows).toEqual([...rows]);
    expect(lost()).toBe(1);
    const whole = derived.getState().measures['p']!.coatedM2;

    paintRows(store, [...rows], 'mask');
    expect(lost()).toBe(0);
    expect(wet().items[0]!.verdict).toBe('keeps');
    // 2π · 12.5 · 30 mm²; 96 chords are 0.02 % short of it.
    const bored = whole - derived.getState().measures['p']!.coatedM2;
    expect(Math.abs(bored / (2 * Math.PI * 12.5 * 30 * 1e-6) - 1)).toBeLessThan(1e-3);

    undoEdit(store);
    expect(lost()).toBe(1);
    expect(derived.getState().measures['p']!.coatedM2).toBe(whole);
  });

  it('a thread given as a fit counts on its face, one marked on a face is offered as a fit; undo takes both', () => {
    // A ring with a bore of 5, the tap drill of M6 (D − P).
    const store = storeWithPart('nut', tube(6, 2.5, 12, 96));
    const derived = deriveFrom(store);
    const wet = () => derived.getState().wet.fits['p']!;
    const coated = () => derived.getState().measures['p']!.coatedM2;
    const rows = rowsOfRound(wet().rounds.find(({ shape }) => shape === 'hole')!);
    const { geometry } = store.getState().meshes['p']!;
    const marked = () => markedThread(jobOf(store.getState()).parts[0]!, geometry, rows);
    const plain = coated();
    expect(marked()).toBeNull();
    fitFaces(store, 'p', rows, 'M6', { as: 'code', text: 'M6' });
    expect(marked()).toBe('M6x1-6H');
    expect(wet().items[0]!.text).toContain('so 6H is taken');
    // Basic profile: 1.625 times the plain cylinder at the pitch diameter of 5.35 (closed form, helix left out: 3 %).
    const more = (coated() - plain) / (Math.PI * 5 * 12e-6);
    expect(Math.abs(more / ((1.625 * 5.35) / 5 - 1) - 1)).toBeLessThan(0.05);
    undoEdit(store);
    expect([marked(), wet().items.length, coated()]).toEqual([null, 0, plain]);

    // One that the model does not show is a fit all the same, but not counted.
    fitFaces(store, 'p', rows, 'M10', { as: 'code', text: 'M10' });
    expect(marked()).toBeNull();
    expect(coated()).toBe(plain);
    expect(wet().items[0]!.text).toContain('none of this thread’s diameters');
    undoEdit(store);

    // The thread goes with its fit: with another fit in its place, and taken off.
    fitFaces(store, 'p', rows, 'M6', { as: 'code', text: 'M6' });
    const { fit } = wet().items[0]!;
    fitFaces(store, 'p', rows, '5H7', { as: 'code', text: '5H7' }, fit);
    expect([marked(), coated()]).toEqual([null, plain]);
    fitFaces(store, 'p', rows, 'M6', { as: 'code', text: 'M6' }, fit);
    expect(marked()).toBe('M6x1-6H');
    dropFit(store, 'p', rows, wet().items[0]!.fit);
    expect([marked(), wet().items.length, coated()]).toEqual([null, 0, plain]);
  });

  it('works heat out only when what it rests on changed', () => {
    const store = benchWithRing();
    const derived = deriveFrom(store);
    expect(derived.getState().wet.heat).toBeNull();
    editJob(store, 'volume', (job) => changeBath(job, { volumeM3: 0.02 }));
    const first = derived.getState().wet.heat;
    expect(first?.ok).toBe(true);
    editJob(store, 'note', (job) => ({ ...job, note: 'blue' }));
    expect(derived.getState().wet.heat).toBe(first);
    editJob(store, 'volume', (job) => changeBath(job, { volumeM3: 0.04 }));
    expect(derived.getState().wet.heat).not.toBe(first);
  });

  it('takes a bath of the book as it stands by its history', () => {
    const store = benchWithRing();
    const record = { id: 'b', name: 'Blue tub', entries: [], note: '' };
    const state = {
      volumeM3: 0.0199,
      freeAcidKgPerM3: 171.234567,
      aluminiumKgPerM3: 3.4567891,
      chargeC: 0,
      runs: 0,
      reckonedChargeC: 0,
      lastTitratedAt: null,
    };
    const { bath } = bathFromBook(jobOf(store.getState()), record, state);
    expect(bath).toMatchObject({
      shopBathId: 'b',
      volumeM3: 0.0199,
      acidKgPerM3: 171.23,
      aluminiumKgPerM3: 3.457,
    });
  });
});
