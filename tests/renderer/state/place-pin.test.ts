import { expect, it } from 'vitest';
import { jobMessages } from '../../../core/job/job-messages.ts';
import { jobOf, undoEdit } from '../../../renderer/state/app-store.ts';
import { deriveFrom } from '../../../renderer/state/derived.ts';
import { acceptProposals, pinThere, placePin } from '../../../renderer/state/place-pin.ts';
import { box } from '../../fixtures/shapes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';

const LEFT = { at: [10, 10, 20], triangle: 2 } as const;
const RIGHT = { at: [30, 10, 20], triangle: 2 } as const;

it('two places are accepted once, however often the button is pressed', () => {
  const store = storeWithPart('box', box(40, 30, 20));
  const pins = () => jobOf(store.getState()).parts[0]!.contacts;
  acceptProposals(store, [LEFT, RIGHT]);
  acceptProposals(store, [LEFT, RIGHT]);
  expect(pins()).toHaveLength(2);
  // One of them was set by hand before: the other alone comes.
  undoEdit(store);
  placePin(store, RIGHT.triangle, [30.5, 10, 20]);
  acceptProposals(store, [LEFT, RIGHT]);
  expect(pins().map(({ at }) => at[0])).toEqual([30.5, 10]);
  const [part] = jobOf(store.getState()).parts;
  expect(part!.contacts.indexOf(pinThere(part!, RIGHT.at)!)).toBe(0);
  // A patch of 3 mm reaches 1.5 mm.
  expect(pinThere(part!, [32.1, 10, 20])).toBeUndefined();
});

it('a pin set by hand on the spot of another is said to be no second contact', () => {
  const store = storeWithPart('box', box(40, 30, 20));
  const derived = deriveFrom(store);
  const twice = () => derived.getState().messages.filter(({ code }) => code === 'pin-twice');
  placePin(store, LEFT.triangle, LEFT.at);
  placePin(store, RIGHT.triangle, RIGHT.at);
  expect(twice()).toEqual([]);
  placePin(store, LEFT.triangle, [11, 10, 20]);
  expect(twice().map(({ message }) => message)).toEqual([
    'Pins 1 and 3 of “box” sit on the same spot: that is one contact, not two.',
  ]);
});

it('a part that nothing clamps is said before what is carried out of the bath', () => {
  const store = storeWithPart('box', box(40, 30, 20));
  const { measures } = deriveFrom(store).getState();
  const carried = { level: 'check', code: 'carried-out', stage: 'hanging', message: '', remedy: '' } as const;
  const codes = jobMessages(jobOf(store.getState()), measures, null, undefined, [carried]).map(
    ({ code }) => code,
  );
  expect(codes.indexOf('no-contact')).toBeLessThan(codes.indexOf('carried-out'));
  expect(codes).toContain('no-contact');
});
