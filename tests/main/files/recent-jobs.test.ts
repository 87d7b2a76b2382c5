import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { RecentJobs } from '../../../main/files/recent-jobs.ts';
import { temporaryFolder } from '../temporary-folder.ts';

function clock(): () => number {
  let now = 1_700_000_000_000;
  return () => now++;
}

test('keeps the newest ten, newest first, over a restart, without telling the page a path', async () => {
  const file = join(temporaryFolder(), 'new-folder', 'recent.json');
  const recent = new RecentJobs(file, clock());
  for (let i = 0; i < 13; i++) await recent.add(`/jobs/${i}.tankside`);
  await recent.add('/jobs/5.tankside');

  const list = await new RecentJobs(file, clock()).list();
  expect(list.map((job) => job.name)).toEqual([5, 12, 11, 10, 9, 8, 7, 6, 4, 3].map((i) => `${i}.tankside`));
  for (const job of list) expect(Object.keys(job).sort()).toEqual(['id', 'name', 'openedAtMs']);
  expect(await recent.pathOf(list[0]?.id ?? '')).toBe('/jobs/5.tankside');
  expect(await recent.pathOf('/jobs/5.tankside')).toBeNull();
});

test('jobs opened at the same moment are all kept', async () => {
  const recent = new RecentJobs(join(temporaryFolder(), 'recent.json'), clock());
  await Promise.all([1, 2, 3, 4, 5].map((i) => recent.add(`/jobs/${i}.tankside`)));
  expect((await recent.list()).length).toBe(5);
});

test.each(['', '{', '[]', '{"version":1,"jobs":[{"id":3}]}', '{"version":9,"jobs":[]}', '\u0000\u0000'])(
  'a damaged list (%j) is an empty one, and is written anew',
  async (text) => {
    const file = join(temporaryFolder(), 'recent.json');
    writeFileSync(file, text);
    const recent = new RecentJobs(file, clock());
    expect(await recent.list()).toEqual([]);
    await recent.add('/jobs/a.tankside');
    expect((await recent.list()).map((job) => job.name)).toEqual(['a.tankside']);
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({ version: 1 });
  },
);

test('a list that cannot be written stops nothing', async () => {
  const file = join(temporaryFolder(), 'recent.json');
  mkdirSync(file);
  const recent = new RecentJobs(file, clock());
  await recent.add('/jobs/a.tankside');
  expect(await recent.list()).toEqual([]);
  expect(existsSync(file)).toBe(true);
});
