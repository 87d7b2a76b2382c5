import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { SCPI_PROTOCOL, supplyProtocol } from '../../../core/run/supply-protocol.ts';
import type { SessionNews } from '../../../core/run/supply-session.ts';
import { supplyLinkSchema } from '../../../core/shop/supply-record.ts';
import { openSupplyLink, type SupplyLink } from '../../../renderer/state/supply-link.ts';
import { PtyPort, ptyMaker } from './stand-ins/pty-port.ts';

const make = ptyMaker();
if (!make)
  process.stderr.write(
    'No pseudo-terminal here (neither script nor python3): the supply at a real line is left out.\n',
  );

const settings = supplyLinkSchema.parse({});
const protocol = (() => {
  const made = supplyProtocol({ ...SCPI_PROTOCOL, intervalS: 0.2, timeoutS: 0.5 });
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
})();

let folder: string;
let link: SupplyLink | null = null;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankside-line-'));
});
afterEach(async () => {
  await link?.close();
  link = null;
  rmSync(folder, { recursive: true, force: true });
});

function talk(...ways: string[]) {
  const log = join(folder, 'heard.txt');
  const port = new PtyPort(make!, log, ways);
  const news: SessionNews[] = [];
  const states: string[] = [];
  link = openSupplyLink({
    serial: { requestPort: async () => port, getPorts: async () => [port] },
    port,
    settings,
    protocol,
    nowS: () => performance.now() / 1000,
    onNews: (item) => news.push(item),
    onState: (state) => states.push(state),
    wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
  });
  const of = <K extends SessionNews['kind']>(kind: K) =>
    news.filter((item): item is Extract<SessionNews, { kind: K }> => item.kind === kind);
  const heard = (): string[] =>
    [...new Set(readFileSync(log, 'utf8').split('\n'))].filter((line) => line !== '');
  return { port, news, of, states, heard };
}

const until = (what: () => boolean): Promise<unknown> =>
  vi.waitFor(() => expect(what()).toBe(true), { timeout: 12_000, interval: 30 });

/** Against a device in its own process at the other end of a real pseudo-terminal. */
describe.skipIf(make === null)('a supply at a real line', { timeout: 20_000 }, () => {
  it('says its name and is read; nothing but questions reaches it', async () => {
    const { of, heard } = talk();
    await until(() => of('reading').length >= 4);
    expect(of('identified')).toEqual([{ kind: 'identified', text: 'TEST BENCH,PS-1,0,1.0' }]);
    const { voltageV, currentA } = of('reading')[0]!.reading;
    expect(voltageV).toBeGreaterThan(15);
    expect(voltageV).toBeLessThan(15.1);
    expect(currentA).toBe(4.2);
    for (const line of heard()) expect(line).toMatch(/\?$/);
    expect(of('gap')).toEqual([]);
  });

  it('answers that come letter by letter and late are put together', async () => {
    const { of } = talk('split', 'slow');
    await until(() => of('reading').length >= 4);
    expect(of('reading').every(({ reading }) => reading.currentA === 4.2)).toBe(true);
    expect(of('garbled')).toEqual([]);
  });

  it('noise on the line is said and never becomes a number', async () => {
    const { of } = talk('noise');
    await until(() => of('garbled').length >= 2 && of('reading').length >= 4);
    for (const { reading } of of('reading')) {
      expect(reading.currentA).toBe(4.2);
      expect(reading.voltageV).toBeGreaterThan(15);
      expect(reading.voltageV).toBeLessThan(15.2);
    }
  });

  it('a supply that resets is a gap, and comes back by itself', async () => {
    const { of } = talk('reset-after=7');
    await until(() => of('back').length === 1);
    expect(of('gap')).toHaveLength(1);
    expect(of('gap')[0]!.why).toBe('silent');
    const before = of('reading').length;
    await until(() => of('reading').length > before + 2);
  });

  it('an unplugged cable is said at once, and reading goes on when it is back', async () => {
    const { port, of, states } = talk();
    await until(() => of('reading').length >= 2);
    const pulledMs = performance.now();
    port.unplug();
    await until(() => of('gap').length === 1);
    expect(performance.now() - pulledMs).toBeLessThan(3000);
    expect(of('gap')[0]!.why).toBe('unplugged');
    await until(() => states.filter((state) => state === 'waiting').length >= 2);
    const before = of('reading').length;
    port.plugIn();
    await until(() => of('back').length === 1);
    expect(of('reading').length).toBe(before + 1);
    expect(port.opened).toBe(2);
  });
});
