import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exportLog } from '../../../core/run/export-log.ts';
import { COMMA_CSV } from '../../../core/units/csv-style.ts';
import { importLog, type ImportOptions } from '../../../core/run/import-log.ts';
import { readingsFrom } from '../../../core/run/readings.ts';

function read(text: string, options?: ImportOptions) {
  const result = importLog(text, options);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  const { readings, problems } = result.value;
  return {
    t: [...readings.tS],
    v: [...readings.voltageV],
    i: [...readings.currentA],
    k: readings.bathTemperatureK && [...readings.bathTemperatureK],
    problems,
    origin: readings.origin,
  };
}
const code = (text: string, options?: ImportOptions): string => {
  const result = importLog(text, options);
  return result.ok ? 'ok' : result.error.code;
};

describe('importLog', () => {
  it('reads the program’s own columns', () => {
    const log = read('t_s,volt,amp,degC\n0,14.9,4.52,20\n5,15.1,4.53,20.3\n');
    expect(log).toMatchObject({
      t: [0, 5],
      v: [14.9, 15.1],
      i: [4.52, 4.53],
      k: [293.15, 293.45],
      origin: 'log',
    });
  });

  it('finds semicolons with a decimal comma, a byte order mark and CR LF', () => {
    const log = read('\uFEFFZeit [s];Spannung [V];Strom [A]\r\n0,5;14,9;4,52\r\n1,0;15;4,5\r\n');
    expect(log).toMatchObject({ t: [0.5, 1], v: [14.9, 15], i: [4.52, 4.5] });
  });

  it.each([
    ['tabs', 'time\tU/V\tI/A\n0\t15\t4\n1\t15\t4\n'],
    ['blanks', 'time volt amp\n0   15 4\n1   15   4\n'],
    ['bars', 'time|volt|amp\n0|15|4\n1|15|4\n'],
    ['quotes', '"time","volt","amp"\n"0","15","4"\n"1","15","4"\n'],
    ['a delimiter at the end', 'time,volt,amp,\n0,15,4,\n1,15,4,\n'],
    ['no header', '0,15,4\n1,15,4\n'],
    ['a preamble', 'Logger 7\nSerial 0042, port 3\n\ntime,volt,amp\n0,15,4\n1,15,4\n'],
    ['remarks', '# a remark, with a comma, and more\ntime,volt,amp\n0,15,4\n// another\n1,15,4\n'],
    ['another order', 'amp,extra,time,volt\n4,x,0,15\n4,y,1,15\n'],
    ['units behind the numbers', 'time,voltage,current\n0,15 V,4A\n1,15V,4 A\n'],
  ])('reads %s', (_, text) => {
    expect(read(text)).toMatchObject({ t: [0, 1], v: [15, 15], i: [4, 4], problems: [] });
  });

  it('takes units from the headings', () => {
    const log = read('time (min),Voltage [mV],I (mA),Temp (°F)\n0,15000,4500,68\n0.5,15100,4400,70\n');
    expect(log.t).toEqual([0, 30]);
    expect(log.v).toEqual([15, 15.1]);
    expect(log.i).toEqual([4.5, 4.4]);
    // 68 °F = 20 °C; 70 °F = 21.111 °C.
    expect(log.k![0]).toBeCloseTo(293.15, 9);
    expect(log.k![1]).toBeCloseTo(294.261, 3);
  });

  it.each([
    ['a clock, over midnight', ['23:59:50', '00:00:00', '00:00:10'], [0, 10, 20]],
    ['a stopwatch', ['00:00:05', '0:01:00', '1:00:00'], [5, 60, 3600]],
    ['minutes only, over midnight', ['23:58', '23:59', '0:01'], [0, 60, 180]],
    ['AM and PM', ['11:59:30 AM', '12:00:00 PM', '1:00:00 PM'], [0, 30, 3630]],
    ['dates', ['2026-02-28 23:59:59', '2026-03-01T00:00:01', '2026-03-02 00:00:01.5'], [0, 2, 86_402.5]],
  ])('reads %s', (_, times, seconds) => {
    expect(read(`time,volt,amp\n${times.map((time) => `${time},15,4`).join('\n')}`).t).toEqual(seconds);
  });

  it('takes the columns the user chose', () => {
    const log = read('a;b;c\n1;2;3\n4;5;6\n', {
      columns: {
        time: { column: 2, unit: 'min' },
        voltage: { column: 0, unit: 'mV' },
        current: { column: 1, unit: 'A' },
        temperature: null,
      },
    });
    expect(log).toMatchObject({ t: [180, 360], v: [0.001, 0.004], i: [2, 5] });
  });

  it('leaves out lines it can’t read and names them', () => {
    const rows = Array.from({ length: 20 }, (_, i) => `${i},15,4`);
    rows[3] = '3,#ERR,4';
    rows[7] = '7,15';
    rows[9] = '2,15,4';
    const log = read(`time,volt,amp\n${rows.join('\n')}`);
    expect(log.t).toHaveLength(17);
    expect(log.problems).toEqual([
      { line: 5, message: '“#ERR” is not a voltage' },
      { line: 9, message: 'not 3 columns' },
      { line: 11, message: 'the time goes back, from 8 s to 2 s' },
    ]);
  });

  it('leaves out readings that no bath and no supply has, and one against the run’s direction', () => {
    const rows = Array.from({ length: 40 }, (_, i) => `${i},15,4`);
    rows[3] = '3,1e30,4';
    rows[7] = '7,15,1e30';
    rows[9] = '9,15,-4';
    rows[12] = '12,15,Infinity';
    rows[14] = '14,NaN,4';
    // A meter's offset stays: 0.05 A of 4 A.
    rows[0] = '0,0,-0.05';
    const log = read(`time,volt,amp\n${rows.join('\n')}`);
    expect(log.problems.map(({ line }) => line)).toEqual([5, 9, 11, 14, 16]);
    expect(log.i[0]).toBe(-0.05);
    expect(log.t).toHaveLength(35);
  });

  it.each([
    ['seconds since 1970', 1_764_450_000, 1],
    ['milliseconds since 1970', 1_764_450_000_000, 1000],
  ])('counts %s from the first reading', (_, from, perS) => {
    const rows = [0, 5, 10].map((t) => `${from + t * perS},15,4`);
    expect(read(`time,volt,amp\n${rows.join('\n')}`).t).toEqual([0, 5, 10]);
  });

  it('says what is wrong with a log as a whole', () => {
    expect(code('')).toBe('log-empty');
    expect(code('a\nb\nc')).toBe('log-no-columns');
    expect(code('x\0y')).toBe('log-not-text');
    expect(code('when,what\n1,2\n')).toBe('log-columns-unknown');
    expect(code('time,volt,amp\n')).toBe('log-no-readings');
    expect(code('time,volt,amp\n0,15,4\n')).toBe('log-no-span');
    expect(code('time,volt,amp\n5,15,4\n5,15,4\n')).toBe('log-no-span');
    expect(code('time,volt,amp\n0,15,-4\n5,15,-4\n')).toBe('log-current-negative');
    expect(code('time,volt,amp\n0,-15,4\n5,-15,4\n')).toBe('log-voltage-negative');
    expect(code('time,volt,amp\n0,15,4\n900000,15,4\n')).toBe('log-too-long-run');
    const newestFirst = importLog('time,volt,amp\n20,15,4\n10,15,4\n0,15,4\n');
    expect(newestFirst.ok ? '' : newestFirst.error.remedy).toContain('oldest reading first');
    const wrong = importLog('time,volt,amp\n0,15,4\n1,x,4\n2,y,4\n');
    expect(wrong.ok ? '' : wrong.error.message).toContain('line 3: “x” is not a voltage');
    expect(
      code('0,15,4\n', {
        columns: {
          time: { column: 9, unit: 's' },
          voltage: { column: 1, unit: 'V' },
          current: { column: 2, unit: 'A' },
          temperature: null,
        },
      }),
    ).toBe('log-columns-unknown');
  });

  it('never throws on any text', () => {
    const piece = fc.constantFrom(
      '1',
      '2.5',
      ',',
      ';',
      '\t',
      '\n',
      '"',
      ':',
      'volt',
      'amp',
      't',
      '-',
      'e9',
      ' ',
      '#',
    );
    fc.assert(fc.property(fc.array(piece, { maxLength: 60 }), (pieces) => void importLog(pieces.join(''))));
  });
});

describe('exportLog', () => {
  it('is read back as it was, simulated runs as simulated', () => {
    const readings = readingsFrom(
      [
        { tS: 0, voltageV: 0, currentA: -0.001, bathTemperatureK: 293.15 },
        { tS: 5.25, voltageV: 15.123456, currentA: 4.5 },
        { tS: 10, voltageV: 100, currentA: 1e-6, bathTemperatureK: 273.05 },
      ],
      'simulated',
    );
    const text = exportLog(readings, 'seed 7');
    expect(text.split('\n')[0]).toBe('t_s,volt,amp,degC');
    expect(text.trimEnd().split('\n').at(-1)).toBe('# simulated: seed 7');
    const back = importLog(text);
    expect(back.ok && back.value.readings).toEqual(readings);
    // As a spreadsheet with a decimal comma opens it, and from that back again.
    const comma = exportLog(readings, 'Größe; 2', COMMA_CSV);
    expect(comma.split('\n')[2]).toBe('5,25;15,123456;4,5;');
    const again = importLog(comma);
    expect(again.ok && again.value.readings).toEqual(readings);
  });
});
