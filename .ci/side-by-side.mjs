/**
 * Runs scripts of package.json side by side, as many at once as the machine has cores, and prints what each said when
 * it ends, in one piece. Ends with 1 when any failed; all are run whatever one says.
 *
 *   node .ci/side-by-side.mjs check:types check:lint
 */
import { spawn } from 'node:child_process';
import { availableParallelism } from 'node:os';

const waiting = process.argv.slice(2);
if (waiting.length === 0) throw new Error('side-by-side: name the scripts to run');
const failed = [];

function run(name) {
  return new Promise((done) => {
    const npm = spawn('npm', ['run', '-s', name], {
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: process.platform === 'win32',
    });
    const said = [];
    npm.stdout.on('data', (bytes) => said.push(bytes));
    npm.stderr.on('data', (bytes) => said.push(bytes));
    npm.on('error', (cause) => said.push(Buffer.from(`${cause.message}\n`)));
    npm.on('close', (code) => {
      process.stdout.write(Buffer.concat(said));
      if (code !== 0) failed.push(name);
      done();
    });
  });
}

async function takeOneAfterAnother() {
  for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) await run(name);
}

await Promise.all(Array.from({ length: Math.max(1, availableParallelism()) }, takeOneAfterAnother));
if (failed.length > 0) process.stdout.write(`failed: ${failed.join(', ')}\n`);
process.exitCode = failed.length > 0 ? 1 : 0;
