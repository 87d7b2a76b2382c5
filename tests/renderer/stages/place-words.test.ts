import { expect, it } from 'vitest';
import { placeWords } from '../../../renderer/stages/place-words.ts';

it('a place of a model in metres reads in millimetres or inches (1 in = 25.4 mm)', () => {
  expect(placeWords([-0.015, 0, 0.00925], 'm', 'metric')).toBe('-15, 0, 9.25 mm');
  expect(placeWords([-0.0127, 0, 0.0254], 'm', 'us')).toBe('-0.5, 0, 1 in');
  expect(placeWords([0.25, -1e-9, 4], 'in', 'us')).toBe('0.25, 0, 4 in');
});
