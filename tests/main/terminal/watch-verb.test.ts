import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseFault } from '../../../main/terminal/parse-fault.ts';
import { simulateVerb } from '../../../main/terminal/simulate-verb.ts';
import type { Verb } from '../../../main/terminal/verb.ts';
import { watchVerb } from '../../../main/terminal/watch-verb.ts';
import { temporaryFolder } from '../temporary-folder.ts';

async function run(verb: Verb, line: string) {
  let out = '';
  let err = '';
  const code = await verb.run(line.split(' ').filter(Boolean), {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err };
}

interface Watched {
  simulated: boolean;
  chargeAh: number;
  chargeAhRange: [number, number];
  thicknessUm: number;
  thicknessUmRange: [number, number];
  endS?: number;
  wantedSinceS?: number;
  timeUnit: string;
  doubts: unknown[];
  gaps: unknown[];
  leftOut: unknown[];
  events: {
    atS: number;
    sinceS: number;
    kind: string;
    level: string;
    areaLeft: [number, number];
    remedy: string;
  }[];
}

const file = (text: string): string => {
  const path = join(temporaryFolder(), 'readings.csv');
  writeFileSync(path, text);
  return path;
};
const PART = '--area 88in2 --density 6A/ft2';

async function watch(csv: string, options: string): Promise<Watched> {
  const { code, out, err } = await run(watchVerb, `${file(csv)} ${options} --json`);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return JSON.parse(out) as Watched;
}

describe('tankside watch', () => {
  it('gives 7.333 A·h and one mil for 88 in² at 6 A/ft² over 120 min', async () => {
    // The 720 rule, trade journal.
    const rows = Array.from({ length: 721 }, (_, i) => `${10 * i},12,${(6 * 88) / 144}`);
    const watched = await watch(
      `t_s,volt,amp\n${rows.join('\n')}\n`,
      `${PART} --mode current --thickness 1mil`,
    );
    expect(watched.chargeAh).toBeCloseTo(22 / 3, 5);
    expect(watched.thicknessUm).toBeCloseTo(25.4, 4);
    expect(watched.events).toEqual([]);
    expect(watched.simulated).toBe(false);
    expect(watched.endS).toBe(7200);
  });

  it('past the wanted film it says since when: half a mil at half of the 120 min', async () => {
    // The 720 rule, trade journal.
    const rows = Array.from({ length: 721 }, (_, i) => `${10 * i},12,${(6 * 88) / 144}`).join('\n');
    const csv = `t_s,volt,amp\n${rows}\n`;
    const options = `${PART} --mode current --thickness 0.5mil`;
    expect((await watch(csv, options)).wantedSinceS).toBeCloseTo(3600, 3);
    expect((await run(watchVerb, `${file(csv)} ${options}`)).out).toMatch(
      /the wanted 12\.7 µm = 0\.500 mil since (60:00|59:59)/,
    );
    expect((await watch(csv, `${PART} --mode current --thickness 2mil`)).wantedSinceS).toBeUndefined();
  });

  it.each(['current', 'voltage'])(
    'finds 40 %% lost at minute 30 within a minute, the supply holding the %s',
    async (mode) => {
      const made = await run(simulateVerb, `${PART} --mode ${mode} --fault contact@30min:40% --seed 7`);
      expect(made.code).toBe(0);
      const watched = await watch(made.out, `${PART} --mode ${mode}`);
      expect(watched.simulated).toBe(true);
      const [event, ...more] = watched.events.filter(({ level }) => level === 'alarm');
      expect(more).toEqual([]);
      expect(event!.kind).toBe('contact-lost');
      expect(event!.atS).toBeGreaterThanOrEqual(1800);
      expect(event!.atS).toBeLessThanOrEqual(1860);
      expect(event!.areaLeft[0]).toBeLessThanOrEqual(0.6);
      expect(event!.areaLeft[1]).toBeGreaterThanOrEqual(0.6);
      // Some four micrometres of film by then: no new clamp gets through.
      expect(event!.remedy).toMatch(/stripped and done again/);
    },
  );

  it('advises a new clamp while there is hardly any film', async () => {
    const made = await run(simulateVerb, '--ramp 0 --fault total@110s --duration 5min');
    const watched = await watch(made.out, '--area 568cm2 --density 6A/ft2 --mode current');
    expect(watched.events[0]).toMatchObject({ kind: 'contact-total' });
    expect(watched.events[0]!.remedy).toMatch(/clamp it again/);
  });

  it('bounds a gap and lists lines it left out', async () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${10 * i},12,3`).filter(
      (_, i) => i < 100 || i >= 160,
    );
    rows[20] = '200,oops,3';
    const path = file(`t_s,volt,amp\n${rows.join('\n')}\n`);
    const { code, out, err } = await run(watchVerb, `${path} ${PART} --mode current --supply 4A --json`);
    const watched = JSON.parse(out) as Watched;
    expect(code).toBe(0);
    expect(err).toContain('line 22 left out: “oops” is not a voltage');
    expect(watched.gaps).toEqual([{ fromS: 990, toS: 1600 }]);
    expect(watched.chargeAh * 3600).toBeCloseTo(3 * (2990 - 610), 4);
    expect(watched.chargeAhRange[1] * 3600).toBeCloseTo(3 * (2990 - 610) + 4 * 610, 4);
    expect(watched.leftOut).toHaveLength(1);
  });

  it('holds readings minutes apart one against the other', async () => {
    // 40 % lost at minute 32, read every five minutes: V = E + U / 0.6, which one wrong number
    // would explain at minute 35, and no two alike at minute 40.
    const made = await run(simulateVerb, `${PART} --every 5min --fault contact@32min:40% --seed 7`);
    const { events } = await watch(made.out, `${PART} --mode current --ramp 5min`);
    expect(events.map(({ kind, atS }) => [kind, atS])).toEqual([
      ['reading-doubtful', 2100],
      ['contact-lost', 2400],
    ]);
    expect(events[1]!.areaLeft[0]).toBeLessThanOrEqual(0.6);
    expect(events[1]!.areaLeft[1]).toBeGreaterThanOrEqual(0.6);
  });

  it('says in words what it found', async () => {
    const made = await run(simulateVerb, `${PART} --fault short@20min --duration 25min`);
    const { out } = await run(watchVerb, `${file(made.out)} ${PART} --mode current`);
    expect(out).toContain('SIMULATED');
    expect(out).toMatch(/20:0\d {2}ALARM {2}short/);
    expect(out).toContain('Switch the power off at once');
  });

  it('says degrees in the reader’s units: metric, with --us or what is typed in US units °F first', async () => {
    const rows = Array.from({ length: 200 }, (_, i) => `${5 * i},15,6.75,${(20 + 0.04 * i).toFixed(1)}`);
    const csv = file(`t_s,volt,amp,degC\n${rows.join('\n')}\n`);
    const said = async (options: string): Promise<string> =>
      (await run(watchVerb, `${csv} --mode current ${options}`)).out;
    const metric = await said('--area 450cm2 --density 1.5A/dm2');
    expect(metric).toMatch(/The bath is at 2\d\.\d °C and gets warmer/);
    expect(metric).not.toContain('°F');
    // 450 cm² is 69.75 in², 1.5 A/dm² 13.94 A/ft².
    for (const options of ['--area 450cm2 --density 1.5A/dm2 --us', '--area 69.75in2 --density 13.94A/ft2'])
      expect(await said(options)).toMatch(/The bath is at 7\d\.\d °F \(2\d\.\d °C\) and gets warmer/);
  });

  it('takes min:s from the heading, from --time, or asks; hours that no run has are a finding', async () => {
    const rows = ['0:00', '5:00', '10:00', '15:00', '20:00', '20:30'];
    const csv = (heading: string): string =>
      `${heading},volt,amp\n${rows.map((time, i) => `${time},${i < 5 ? '15,6.75' : '12.6,4'}`).join('\n')}\n`;
    const options = '--area 450cm2 --density 1.5A/dm2 --mode current';
    // 20 min at 6.75 A, half a minute that ends at 4 A: 137.7 A·min; the rest of 20 µm at 4 A by the 720 rule (trade journal).
    const leftS = ((3.051 * 4.5 * 20 - 137.6875) / 4) * 60;
    for (const heading of ['time (mm:ss)', 'Min:s', 't']) {
      const watched = await watch(csv(heading), `${options} --thickness 20um`);
      expect(watched).toMatchObject({ timeUnit: 'min:s', doubts: [] });
      expect(watched.chargeAh).toBeCloseTo(137.6875 / 60, 6);
      expect(watched.endS! / (1230 + leftS)).toBeCloseTo(1, 3);
    }
    const asHours = await run(watchVerb, `${file(csv('t'))} ${options} --thickness 20um --time h:min`);
    expect(asHours.code).toBe(0);
    expect(asHours.out).toContain('CHECK  film-far-past');
    expect(asHours.out).toContain('5 h lie between two readings');
    expect(asHours.out).not.toContain('Nothing to report');
    // Ten minutes, or ten hours, and no film to tell by.
    rows.splice(3);
    const unsure = await run(watchVerb, `${file(csv('t'))} ${options}`);
    expect(unsure).toMatchObject({ code: 2, out: '' });
    expect(unsure.err).toContain('5 min 0 s or 5 h 0 min');
    expect(unsure.err).toContain('Add --time min:s or --time h:min');
    expect((await watch(csv('t'), `${options} --time min:s`)).chargeAh).toBeCloseTo(67.5 / 60, 6);
  });

  it('tells the end at the current that flows after a step', async () => {
    const rows = Array.from({ length: 241 }, (_, i) => `${5 * i},15.6,6.75`);
    const csv = `t_s,volt,amp\n${rows.join('\n')}\n1230,15.6,4\n`;
    const { out } = await run(
      watchVerb,
      `${file(csv)} --area 450cm2 --density 1.5A/dm2 --mode current --thickness 20um`,
    );
    // 1230 s and (274.6 − 137.7) A·min at 4 A, 34:13.
    expect(out).toMatch(/Power off {2}at 54:4\d .* at 4\.00 A/);
  });

  it.each([
    ['', 'Name one file'],
    [`x.csv ${PART}`, '--mode'],
    ['x.csv --density 6A/ft2 --mode current', '--area'],
    ['x.csv --area 88 --density 6A/ft2 --mode current', 'has no unit'],
    ['x.csv --area 88in2 --density 6A/ft2 --mode both', '--mode'],
    ['x.csv --area 88in2 --density 9000A/ft2 --mode current', 'out of range'],
    [`x.csv ${PART} --mode current --speed 3`, 'speed'],
    [`x.csv ${PART} --mode current --time days`, 'no form of a time'],
    [`no-such.csv ${PART} --mode current`, 'no such file'],
  ])('refuses “%s” with code 2', async (line, says) => {
    const { code, out, err } = await run(watchVerb, line);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(says);
  });

  it('names the line of a log it can’t use', async () => {
    const { code, err } = await run(
      watchVerb,
      `${file('t_s,volt,amp\n0,a,1\n1,b,1\n')} ${PART} --mode current`,
    );
    expect(code).toBe(2);
    expect(err).toContain('line 2');
  });
});

describe('tankside simulate', () => {
  it('makes the columns watch reads, the same for a seed, and says that they are simulated', async () => {
    const first = await run(simulateVerb, '--duration 10min --every 5s --seed 7');
    const lines = first.out.trimEnd().split('\n');
    expect(lines[0]).toBe('t_s,volt,amp,degC');
    expect(lines).toHaveLength(1 + 121 + 1);
    expect(lines.at(-1)).toMatch(/^# simulated/);
    expect(await run(simulateVerb, '--duration 10min --every 5s --seed 7')).toEqual(first);
    expect((await run(simulateVerb, '--duration 10min --every 5s --seed 8')).out).not.toBe(first.out);
  });

  it('passes the planned charge', async () => {
    const { out } = await run(simulateVerb, `${PART} --noise 0 --duration 65min --ramp 10min`);
    const watched = await watch(out, `${PART} --mode current`);
    // 3.667 A for 65 min less half of the 10 min ramp = one hour; the display's 0.1 mA and steps of 5 s.
    expect(watched.chargeAh).toBeCloseTo(11 / 3, 3);
  });

  it.each([
    ['--fault contact@30:40%', 'time with its unit'],
    ['--fault contact@30min:140%', 'share'],
    ['--fault flood@30min', 'is not a fault'],
    ['--seed -1', 'seed'],
    ['--seed 1.5', 'seed'],
    ['--every 0s', 'out of range'],
    ['--duration 24h --every 0.1s --fault total', 'time'],
    ['stray', 'belongs to no option'],
    ['--mode both', 'not a mode'],
  ])('refuses “%s” with code 2', async (line, says) => {
    const { code, out, err } = await run(simulateVerb, line);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(says);
  });
});

describe('parseFault', () => {
  it.each([
    ['contact@30min:40%', { at: { kind: 'contact', atS: 1800, lostShare: 0.4, overS: 2 } }],
    ['drift@10min:50%', { at: { kind: 'contact', atS: 600, lostShare: 0.5, overS: 600 } }],
    ['loose@90s', { at: { kind: 'loose', atS: 90, lostShare: 0.4, dwellS: 8 } }],
    ['resistance@1h:50mohm', { at: { kind: 'resistance', atS: 3600, addedOhm: 0.05 } }],
    ['total@5min', { at: { kind: 'total', atS: 300 } }],
    ['slow-ramp:2', { slowRamp: 2 }],
    ['limit:14V', { voltageLimitV: 14 }],
    ['wrong-mode', { otherMode: true }],
  ])('reads %s', (text, fault) => {
    expect(parseFault(text)).toEqual({ ok: true, value: fault });
  });
});
