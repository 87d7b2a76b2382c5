import { describe, expect, it } from 'vitest';
import { mappedParts, rememberMapped } from '../../../renderer/state/mapped-parts.ts';

function shelf(text: string | null = null) {
  let kept = text;
  return { getItem: () => kept, setItem: (_: string, value: string) => void (kept = value) };
}

describe('parts that had a map', () => {
  it('are remembered, each once, the newest last', () => {
    const kept = shelf();
    for (const id of ['a', 'b', 'a']) rememberMapped(id, kept);
    expect(mappedParts(kept)).toEqual(['b', 'a']);
  });

  it('are forgotten from the oldest on when there are very many', () => {
    const kept = shelf();
    for (let i = 0; i < 505; i++) rememberMapped(`part ${i}`, kept);
    expect(mappedParts(kept)).toHaveLength(500);
    expect(mappedParts(kept)[0]).toBe('part 5');
  });

  it.each([null, '', '{', '7', '[1,"a"]'])('a damaged record (%s) stops nothing', (text) => {
    const kept = shelf(text);
    expect(mappedParts(kept).every((id) => typeof id === 'string')).toBe(true);
    rememberMapped('b', kept);
    expect(mappedParts(kept).at(-1)).toBe('b');
  });

  it('nothing is kept where the browser keeps nothing', () => {
    expect(mappedParts(null)).toEqual([]);
    const full = {
      getItem: () => null,
      setItem: () => {
        throw new Error('QuotaExceededError');
      },
    };
    expect(() => rememberMapped('a', full)).not.toThrow();
  });
});
