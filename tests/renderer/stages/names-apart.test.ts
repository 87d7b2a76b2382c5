import { describe, expect, it } from 'vitest';
import type { RunRecord } from '../../../core/shop/run-record.ts';
import { namesApart, shortNamesApart } from '../../../renderer/stages/names-apart.ts';

const run = (name: string, at: string): RunRecord =>
  ({ name, createdAtMs: Date.parse(at), practise: null, clock: { marks: [] } }) as unknown as RunRecord;

describe('two runs side by side', () => {
  it('are told apart by their names, and of one name by when they began', () => {
    const first = run('plate', '2026-11-30T17:26');
    const repeat = run('plate', '2026-11-29T09:05');
    expect(namesApart(first, run('cup', '2026-11-29T09:05'))).toEqual(['plate', 'cup']);
    const names = namesApart(first, repeat);
    expect(names[0]).not.toBe(names[1]);
    expect(names[0]).toMatch(/^plate, .*2026.*26/);
    expect(names[1]).toMatch(/^plate, .*2026.*05/);
    expect(namesApart(first, null)).toEqual(['plate', '']);
    expect(shortNamesApart(first, run('cup', '2026-11-29T09:05'))).toEqual(['plate', 'cup']);
    expect(shortNamesApart(first, repeat).join()).toMatch(/2026.*2026/);
    const sameDay = shortNamesApart(first, run('plate', '2026-11-30T09:05'));
    expect(sameDay[0]).not.toBe(sameDay[1]);
    expect(sameDay.join()).not.toMatch(/2026|plate/);
  });
});
