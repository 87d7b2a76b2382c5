import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { readPiped } from '../../../main/terminal/read-file.ts';

const piped = (chunks: readonly (string | Uint8Array)[], isTTY = false): NodeJS.ReadStream =>
  Object.assign(Readable.from(chunks), { isTTY }) as unknown as NodeJS.ReadStream;

describe('readPiped', () => {
  it('gives what is piped in, whole, however it is cut', async () => {
    const whole = new TextEncoder().encode('Zeit [s];Spannung [V]\n0;15\n');
    const read = await readPiped(piped([whole.slice(0, 3), whole.slice(3, 11), whole.slice(11)]));
    expect(read.ok && [...read.value]).toEqual([...whole]);
  });

  it('says so when nothing is', async () => {
    const read = await readPiped(piped([], true));
    expect(read).toMatchObject({ ok: false, error: { code: 'nothing-piped' } });
  });
});
