import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { runCommand } from '../../../main/terminal/run-command.ts';
import type { Verb } from '../../../main/terminal/verb.ts';
import { VERBS } from '../../../main/terminal/verbs.ts';
import { runTankside } from './run-tankside.ts';

async function run(args: string[], verbs: readonly Verb[] = VERBS) {
  let out = '';
  let err = '';
  const code = await runCommand(args, verbs, '1.2.3', {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err };
}

describe('the command', () => {
  it('lists its verbs, each with help of its own', async () => {
    const help = await run(['--help']);
    expect(help).toMatchObject({ code: 0, err: '' });
    for (const verb of VERBS) {
      expect(help.out).toContain(verb.summary);
      expect(await run([verb.name, '--help'])).toEqual({ code: 0, out: verb.help, err: '' });
    }
  });

  it('names a verb or option it does not know, on standard error, code 2', async () => {
    expect(await run(['paint'])).toMatchObject({ code: 2, out: '' });
    expect((await run(['paint'])).err).toContain('“paint” is not a verb of tankside');
    expect((await run(['--paint'])).err).toContain('“--paint” is not an option of tankside');
    expect(await run([])).toMatchObject({ code: 2, out: '' });
  });

  it('ends a fault of the program with code 1, one line and no stack trace', async () => {
    const faulty: Verb = {
      name: 'break',
      summary: '',
      help: '',
      run: () => Promise.reject(new Error('first line\n    at somewhere')),
    };
    const ended = await run(['break'], [faulty]);
    expect(ended).toEqual({ code: 1, out: '', err: 'tankside break: a fault in the program: first line\n' });
  });

  it('runs as built, and knows the version of package.json', () => {
    const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
    expect(runTankside('--version')).toEqual({ code: 0, out: `${version}\n`, err: '' });
    expect(runTankside('plan', '--help').code).toBe(0);
    expect(runTankside('nothing').code).toBe(2);
  });
});
