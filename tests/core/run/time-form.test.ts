import { describe, expect, it } from 'vitest';
import { importLog, type ImportOptions } from '../../../core/run/import-log.ts';
import { logDoubts } from '../../../core/run/log-doubts.ts';
import { deliveredCharge } from '../../../core/run/delivered-charge.ts';
import { seededRandom } from '../../../core/run/seeded-random.ts';

/** 450 cm², 20 µm at 3.051 A·min/(dm²·µm), the 720 rule of the trade journal in metric units: 274.6 A·min. */
const WANTED_C = 3.051 * 4.5 * 20 * 60;

const two = (value: number): string => String(value).padStart(2, '0');
const minS = (seconds: number): string => `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
const hMin = (seconds: number): string =>
  `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}`;
const log = (heading: string, times: readonly string[], amps = 6.75): string =>
  `${heading},volt,amp\n${times.map((time) => `${time},15,${amps}`).join('\n')}\n`;

function read(text: string, options?: ImportOptions): { t: number[]; unit: string } | string {
  const result = importLog(text, options);
  if (!result.ok) return result.error.code;
  return { t: [...result.value.readings.tS], unit: result.value.columns.time.unit };
}
const SHOWN = ['0:00', '5:00', '10:00', '15:00', '20:00', '20:30'];
const TRUE_S = [0, 300, 600, 900, 1200, 1230];

describe('times of two numbers and a colon', () => {
  it.each([
    'time (mm:ss)',
    'time [m:ss]',
    't/min:s',
    'Min:s',
    'mm:ss',
    'Zeit (min:sek)',
    'elapsed mm:ss',
    'time (min)',
  ])('are minutes and seconds where the heading says so: %s', (heading) => {
    expect(read(log(heading, SHOWN))).toEqual({ t: TRUE_S, unit: 'min:s' });
    // The same though hours and minutes would be a run's length.
    expect(read(log(heading, ['0:00', '0:05', '0:40']))).toEqual({ t: [0, 5, 40], unit: 'min:s' });
  });

  it.each(['time (hh:mm)', 'clock', 'Uhrzeit', 'time (h)', 'Zeit [h:min]'])(
    'are hours and minutes where the heading says so: %s',
    (heading) => {
      expect(read(log(heading, ['0:00', '0:05', '0:40']))).toEqual({ t: [0, 300, 2400], unit: 'clock' });
    },
  );

  it('h:mm:ss in the heading: three numbers are that, two alone are asked about', () => {
    expect(read(log('time (h:mm:ss)', ['0:00:00', '0:05:00', '1:00:30']))).toEqual({
      t: [0, 300, 3630],
      unit: 'clock',
    });
    expect(read(log('time (h:mm:ss)', ['0:00', '0:05', '0:40']))).toBe('log-time-unsure');
    // Counted on past the hour with a third number, as a stopwatch does.
    expect(read(log('time (h:mm:ss)', ['0:00', '30:00', '59:59', '1:00:30']))).toEqual({
      t: [0, 1800, 3599, 3630],
      unit: 'min:s',
    });
    expect(read(log('mm:ss', ['0:00', '59:59', '1:00:30']))).toEqual({ t: [0, 3599, 3630], unit: 'min:s' });
  });

  it.each(['t', 'Zeit', 'time'])(
    'without a word in the heading “%s” they are read where only one can be',
    (heading) => {
      // 24 and more are no hours, tenths are of seconds.
      expect(read(log(heading, ['0:00', '12:00', '24:00']))).toEqual({ t: [0, 720, 1440], unit: 'min:s' });
      expect(read(log(heading, ['0:00.0', '0:00.5']))).toEqual({ t: [0, 0.5], unit: 'min:s' });
      // From 0:00 on no run lasts 20.5 h; 10 h at 6.75 A are 15 times the film, which is known in one case alone.
      expect(read(log(heading, SHOWN))).toEqual({ t: TRUE_S, unit: 'min:s' });
      const short = ['0:00', '5:00', '10:00'];
      expect(read(log(heading, short))).toBe('log-time-unsure');
      expect(read(log(heading, short), { wantedC: WANTED_C })).toEqual({ t: [0, 300, 600], unit: 'min:s' });
      // A minute of a run by the second, or an hour of one: nobody can tell.
      expect(read(log(heading, ['0:00', '0:20', '0:40']), { wantedC: WANTED_C })).toBe('log-time-unsure');
      // Begun at two in the afternoon and over at a quarter to three, or 45 s late on a stopwatch.
      expect(read(log(heading, ['14:00', '14:20', '14:45']), { wantedC: WANTED_C })).toBe('log-time-unsure');
      expect(read(log(heading, ['5:30', '6:00', '7:10']))).toBe('log-time-unsure');
      expect(read(log(heading, ['10:00', '15:00', '20:00']))).toBe('log-time-unsure');
    },
  );

  it('over midnight is a clock, two runs one after the other are no midnight', () => {
    expect(read(log('t', ['23:40', '23:50', '00:00', '00:10']))).toEqual({
      t: [0, 600, 1200, 1800],
      unit: 'clock',
    });
    expect(read(log('t', ['0:00', '10:00', '20:00', '0:00', '10:00']))).not.toMatchObject({ unit: 'clock' });
    expect(read(log('t', ['0:00', '10:00', '23:00', '0:00', '10:00']))).not.toMatchObject({ unit: 'clock' });
  });

  it('what somebody says holds', () => {
    for (const heading of ['t', 'Min:s', 'time (hh:mm)']) {
      expect(read(log(heading, SHOWN), { timeUnit: 'min:s' })).toEqual({ t: TRUE_S, unit: 'min:s' });
      expect(read(log(heading, SHOWN), { timeUnit: 'clock' })).toEqual({
        t: TRUE_S.map((each) => each * 60),
        unit: 'clock',
      });
    }
    // Plain numbers are no such times, nor seconds over 59.
    expect(read(log('t', ['0', '5', '10']), { timeUnit: 'min:s' })).toBe('log-bad-lines');
    expect(read(log('t', ['0:00', '0:75', '1:80']), { timeUnit: 'min:s' })).toBe('log-bad-lines');
  });

  it('says both readings of a time, and what to do', () => {
    const result = importLog(log('t', ['0:00', '5:30', '10:00']));
    expect(result.ok ? '' : result.error.message).toContain('“5:30” is 5 min 30 s or 5 h 30 min');
    expect(result.ok ? '' : result.error.remedy).toContain('time (mm:ss)');
  });

  it('of any run, either way, it is right or asked about, never wrong', () => {
    const random = seededRandom(50_063);
    let told = 0;
    for (let i = 0; i < 400; i++) {
      // From a minute to twice the planned length, read every 5 s to 10 min; a stopwatch, or a clock of the day.
      const lengthS = random.between(60, 2 * 2440);
      const isHours = random.unit() < 0.5;
      const everyS = isHours ? 60 * Math.ceil(random.between(0, 10)) : Math.ceil(random.between(5, 300));
      // The power went on at some hour of the day, or some minutes after a stopwatch was started.
      const isLate = random.unit() < 0.7;
      const startS = isLate ? (isHours ? 60 : 1) * Math.floor(random.between(300, 1300)) : 0;
      const times = Array.from({ length: Math.floor(lengthS / everyS) + 2 }, (_, n) => startS + n * everyS);
      const shown = times.map((t) => (isHours ? hMin(t % 86_400) : minS(t)));
      const answer = read(log('t', shown), random.unit() < 0.5 ? { wantedC: WANTED_C } : {});
      if (answer === 'log-time-unsure') continue;
      told++;
      // A clock counts from the first reading, a stopwatch from its start.
      expect(answer).toMatchObject({ t: times.map((t) => (isHours ? t - startS : t)) });
    }
    expect(told).toBeGreaterThan(120);
  });
});

describe('the sheet’s own table', () => {
  it('typed off with its headings is read, planned amps left aside, Fahrenheit as such', () => {
    const text =
      'Min:s;Planned;Read A;Read V;Bath °F;Remarks\n0:00;0 A;0;0;68;on\n5:00;6.75 A;6,7;15,2;68;\n20:00;6.75 A;6,8;15,4;70;\n1:05:00;6.75 A;6,75;15,6;70;off\n';
    const result = importLog(text);
    if (!result.ok) throw new Error(result.error.message);
    const { tS, currentA, voltageV, bathTemperatureK } = result.value.readings;
    expect([...tS]).toEqual([0, 300, 1200, 3900]);
    expect([...currentA]).toEqual([0, 6.7, 6.8, 6.75]);
    expect([...voltageV]).toEqual([0, 15.2, 15.4, 15.6]);
    // 70 °F = 21.111 °C.
    expect(bathTemperatureK![3]).toBeCloseTo(294.261, 3);
  });
});

describe('a log that no run has', () => {
  const readings = (text: string, options: ImportOptions) => {
    const result = importLog(text, options);
    if (!result.ok) throw new Error(result.error.message);
    return result.value.readings;
  };

  it('read as hours is found by its film and by its pauses; read right, there is nothing to find', () => {
    const wrong = readings(log('t', SHOWN), { timeUnit: 'clock' });
    expect(deliveredCharge(wrong).chargeC).toBeCloseTo(6.75 * 1230 * 60, 6);
    const found = logDoubts(wrong, WANTED_C);
    expect(found.map(({ code }) => code)).toEqual(['film-far-past', 'readings-far-apart']);
    // 6.75 A · 1230 min of 274.6 A·min.
    expect(found[0]!.message).toContain('30 times');
    expect(found[1]!.message).toContain('5 h lie between two readings');
    expect(logDoubts(wrong, null).map(({ code }) => code)).toEqual(['readings-far-apart']);
    expect(logDoubts(readings(log('t', SHOWN), { timeUnit: 'min:s' }), WANTED_C)).toEqual([]);
  });

  it('a supply that is off for hours is no run unread', () => {
    const text = 't_s,volt,amp\n0,15,4\n600,15,4\n1200,0,0\n20000,0,0\n';
    expect(logDoubts(readings(text, {}), WANTED_C)).toEqual([]);
  });
});
