#!/usr/bin/env node
/** The terminal command `tankside VERB …`, on plain Node. */
import { readFileSync } from 'node:fs';
import { runCommand } from './terminal/run-command.ts';
import { VERBS } from './terminal/verbs.ts';

// Built into dist/main, two folders below package.json.
const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

// A reader that closes early (head, less) is no fault.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (cause: NodeJS.ErrnoException) => {
    if (cause.code !== 'EPIPE') throw cause;
  });
}

process.exitCode = await runCommand(process.argv.slice(2), VERBS, version, {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
});
