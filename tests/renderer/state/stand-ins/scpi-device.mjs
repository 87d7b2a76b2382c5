/**
 * A power supply at the far end of a line, as a program of its own: SCPI-1999 with IEEE 488.2 identification. It writes down all
 * it is sent, and misbehaves on request.
 *
 *   node scpi-device.mjs LOG [split] [noise] [slow] [reset-after=N]
 */
import { appendFileSync } from 'node:fs';

const [log, ...ways] = process.argv.slice(2);
const has = (way) => ways.includes(way);
const resetAfter = Number(ways.find((way) => way.startsWith('reset-after='))?.slice(12) ?? Infinity);
// Raw: neither echo nor line editing, as a serial port has none.
if (process.stdin.isTTY) process.stdin.setRawMode(true);

let asked = 0;
let deaf = false;
let errors = [];
let pending = '';

const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
let line = Promise.resolve();
const say = (text) => {
  line = line.then(async () => {
    if (has('slow')) await pause(120);
    if (has('noise') && asked % 5 === 3) process.stdout.write('\u0007\u007f~{9\n');
    if (!has('split')) return process.stdout.write(`${text}\n`);
    for (const letter of `${text}\n`) {
      process.stdout.write(letter);
      await pause(3);
    }
  });
};

function hear(query) {
  appendFileSync(log, `${query}\n`);
  if (deaf) return;
  asked++;
  if (asked === resetAfter) {
    // Power blinked: half an answer, then nothing for a while, then as new.
    process.stdout.write('1');
    deaf = true;
    setTimeout(() => (deaf = false), 2500);
    return;
  }
  if (query === '*IDN?') return say('TEST BENCH,PS-1,0,1.0');
  if (query === 'MEAS:VOLT?') return say((15 + asked / 1000).toFixed(3));
  if (query === 'MEAS:CURR?') return say(`+${(4.2).toExponential(3).toUpperCase()}`);
  if (query === 'SYST:ERR?') return say(errors.shift() ?? '0,"No error"');
  errors.push('-113,"Undefined header"');
}

process.stdin.on('data', (bytes) => {
  pending += bytes.toString('latin1');
  const lines = pending.split(/[\r\n]+/);
  pending = lines.pop();
  for (const query of lines) if (query !== '') hear(query);
});
process.stdout.write('\n');
