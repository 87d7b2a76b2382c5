import { describe, expect, it } from 'vitest';
import { moveByKey, type ViewMoves } from '../../../renderer/viewport/view-keys.ts';

function press(
  key: string,
  held: Partial<Record<'shiftKey' | 'ctrlKey' | 'metaKey' | 'altKey', boolean>> = {},
) {
  const calls: unknown[][] = [];
  const note =
    (name: string) =>
    (...values: unknown[]): void =>
      void calls.push([name, ...values]);
  const view: ViewMoves = {
    orbitBy: note('orbit'),
    panBy: note('pan'),
    zoomBy: note('zoom'),
    fit: note('fit'),
    look: note('look'),
  };
  const taken = moveByKey(
    { key, shiftKey: false, ctrlKey: false, metaKey: false, altKey: false, ...held },
    view,
  );
  return { taken, calls };
}

describe('moveByKey', () => {
  it.each([
    ['1', 'front'],
    ['2', 'back'],
    ['3', 'left'],
    ['4', 'right'],
    ['5', 'top'],
    ['6', 'bottom'],
    ['7', 'corner'],
  ])('%s shows the %s', (key, view) => {
    expect(press(key)).toEqual({ taken: true, calls: [['look', view]] });
  });

  it('turns with arrows and moves with Shift and arrows, opposite keys undoing each other', () => {
    const [left] = press('ArrowLeft').calls;
    const [right] = press('ArrowRight').calls;
    expect(left![0]).toBe('orbit');
    expect(left![1]).toBe(-(right![1] as number));
    const [up] = press('ArrowUp', { shiftKey: true }).calls;
    const [down] = press('ArrowDown', { shiftKey: true }).calls;
    expect(up![0]).toBe('pan');
    expect(up![2]).toBe(-(down![2] as number));
  });

  it('zooms in and out by the same factor, also with the key as it is typed with Shift', () => {
    const near = press('+').calls[0]![1] as number;
    expect(near).toBeGreaterThan(1);
    expect((press('-').calls[0]![1] as number) * near).toBeCloseTo(1, 12);
    expect(press('+', { shiftKey: true }).taken).toBe(true);
  });

  it.each(['ctrlKey', 'metaKey', 'altKey'] as const)('leaves keys with %s to others', (held) => {
    expect(press('f', { [held]: true })).toEqual({ taken: false, calls: [] });
    expect(press('ArrowLeft', { [held]: true }).taken).toBe(false);
  });

  it('leaves other keys alone', () => {
    for (const key of ['Tab', 'Enter', 'Escape', 'a', '8']) expect(press(key).taken).toBe(false);
  });
});
