import { expect, it } from 'vitest';
import { partBefore } from '../../../core/job/part-before.ts';

const PARTS = [
  { id: 'a', name: 'plate' },
  { id: 'b', name: 'ring' },
];

it('names the part before a message once: only among others, and not where the message does', () => {
  const said = { partId: 'b', message: '25H7 (f3): no part would still be inside its limits.' };
  expect(partBefore(PARTS, said)).toBe('ring: ');
  expect(partBefore(PARTS.slice(1), said)).toBe('');
  expect(partBefore(PARTS, { ...said, message: 'The unit of “ring” is a guess (mm).' })).toBe('');
  // Another part's name in it does not say whose it is.
  expect(partBefore(PARTS, { ...said, message: 'It touches “plate”.' })).toBe('ring: ');
  expect(partBefore(PARTS, { message: 'The bath is warm.' })).toBe('');
  expect(partBefore(PARTS, { ...said, partId: 'gone' })).toBe('');
});
