import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { describeFile } from '../../../main/files/describe-file.ts';
import { Grants } from '../../../main/files/grants.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const addressOf = (token: string) => `/granted/${token}`;

test('a job file says where it may be written back, a model does not', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'ring.stl'), 'solid');
  writeFileSync(join(folder, 'ring.tankside'), 'zip');
  const grants = new Grants();
  const model = await describeFile(join(folder, 'ring.stl'), grants, addressOf);
  const job = await describeFile(join(folder, 'ring.tankside'), grants, addressOf);
  if (!model.ok || !job.ok) throw new Error('both files exist');
  expect(model.value).toMatchObject({ name: 'ring.stl', byteLength: 5 });
  expect(model.value.target).toBeUndefined();
  expect(job.value.target?.name).toBe('ring.tankside');
  expect(job.value.content).toEqual({ via: 'url', url: addressOf(job.value.target?.id ?? '') });
});

test('what is missing or a folder is refused with a reason, and gets no grant', async () => {
  const folder = temporaryFolder();
  mkdirSync(join(folder, 'parts.stl'));
  const missing = await describeFile(join(folder, 'no.stl'), new Grants(), addressOf);
  const inFile = await describeFile(join(folder, 'parts.stl'), new Grants(), addressOf);
  expect(missing).toMatchObject({ ok: false, error: { code: 'file-missing' } });
  expect(inFile).toMatchObject({ ok: false, error: { code: 'not-a-file' } });
});
