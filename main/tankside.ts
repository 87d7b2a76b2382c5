#!/usr/bin/env node
/** The terminal command `tankside VERB …`, on plain Node. */
import { readFileSync } from 'node:fs';
import { runCommand } from './terminal/run-command.ts';
import { VERBS } from './terminal/verbs.ts';

// Built into dist/main, two folders below package.json.
const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

// A reader that closes early (head, less) is no fault. What could not be written is said; a file left short must not pass for whole.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (cause: NodeJS.ErrnoException) => {
    if (cause.code === 'EPIPE') return;
    if (stream === process.stdout) {
      const full = cause.code === 'ENOSPC' || cause.code === 'EDQUOT';
      process.stderr.write(
        `The output could not be written: ${full ? 'there is no room left on the disk' : cause.message}. What stands in the file is cut short.\n` +
          `  ${full ? 'Free some space' : 'Look at the disk'} or write to another place, then run this again.\n`,
      );
    }
    process.exit(1);
  });
}

process.exitCode = await runCommand(process.argv.slice(2), VERBS, version, {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
});
