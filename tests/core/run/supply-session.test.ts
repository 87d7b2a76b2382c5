import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileAnswer, LONGEST_ANSWER, SCPI_NUMBER } from '../../../core/run/answer-pattern.ts';
import { readQuery } from '../../../core/run/read-query.ts';
import {
  SCPI_PROTOCOL,
  supplyProtocol,
  type SupplyProtocolSettings,
} from '../../../core/run/supply-protocol.ts';
import {
  newSupplySession,
  stepSupplySession,
  type SessionInput,
  type SessionNews,
  type SupplySession,
} from '../../../core/run/supply-session.ts';

function session(settings: Partial<SupplyProtocolSettings> = {}): SupplySession {
  const protocol = supplyProtocol({ ...SCPI_PROTOCOL, ...settings });
  if (!protocol.ok) throw new Error(protocol.error.message);
  return newSupplySession(protocol.value);
}

/** Feeds inputs and gathers everything that comes out. */
function play(start: SupplySession, inputs: readonly SessionInput[]) {
  let now = start;
  const sent: string[] = [];
  const news: SessionNews[] = [];
  for (const input of inputs) {
    const step = stepSupplySession(now, input);
    now = step.session;
    sent.push(...step.send);
    news.push(...step.news);
  }
  return { session: now, sent, news };
}
const opened = (atS: number): SessionInput => ({ kind: 'opened', atS });
const text = (atS: number, line: string): SessionInput => ({ kind: 'text', atS, text: line });
const tick = (atS: number): SessionInput => ({ kind: 'tick', atS });

describe('the talk with a supply', () => {
  it('identifies and measures as SCPI-1999 has it', () => {
    const { sent, news } = play(session(), [
      opened(0),
      text(0.1, 'SHOP,PSU 30-10,0042,1.0\n'),
      text(0.2, '+1.5012E+01\r\n'),
      text(0.4, '4.529\n'),
      tick(1),
      tick(2.1),
    ]);
    expect(sent).toEqual(['*IDN?\n', 'MEAS:VOLT?\n', 'MEAS:CURR?\n', 'MEAS:VOLT?\n']);
    expect(news).toEqual([
      { kind: 'identified', text: 'SHOP,PSU 30-10,0042,1.0' },
      { kind: 'reading', reading: { tS: expect.closeTo(0.3, 9), voltageV: 15.012, currentA: 4.529 } },
    ]);
  });

  it('puts answers together that come in pieces', () => {
    const letters = [...'x,y,z,1\n15.0\n4.5\n'].map((letter, i) => text(0.01 * i, letter));
    const { news } = play(session(), [opened(0), ...letters]);
    expect(news.map(({ kind }) => kind)).toEqual(['identified', 'reading']);
  });

  it('passes over its own query sent back', () => {
    const { news } = play(session({ identifyQuery: null }), [
      opened(0),
      text(0.1, 'MEAS:VOLT?\n15\n'),
      text(0.2, 'MEAS:CURR?\n4\n'),
    ]);
    expect(news).toMatchObject([{ kind: 'reading', reading: { voltageV: 15, currentA: 4 } }]);
  });

  it('says a silent supply within seconds, once, and when it is back', () => {
    const ticks = Array.from({ length: 100 }, (_, i) => tick(2.5 + i * 0.25));
    const {
      news,
      sent,
      session: after,
    } = play(session({ identifyQuery: null }), [opened(0), text(0.1, '15\n'), text(0.2, '4\n'), ...ticks]);
    const gaps = news.filter(({ kind }) => kind === 'gap');
    expect(gaps).toEqual([{ kind: 'gap', sinceS: expect.closeTo(0.15, 9), why: 'silent' }]);
    // It goes on asking.
    expect(sent.length).toBeGreaterThan(8);
    const back = play({ ...after, state: 'idle', asking: null, deafUntilS: 0, nextAtS: 28 }, [
      tick(28),
      text(28.1, '15\n'),
      text(28.2, '4\n'),
    ]);
    expect(back.news).toMatchObject([{ kind: 'back', sinceS: expect.closeTo(0.15, 9) }, { kind: 'reading' }]);
  });

  it('takes an answer that comes too late for no other query', () => {
    const { news } = play(session({ identifyQuery: null }), [
      opened(0),
      tick(1.6),
      text(1.7, '15\n'),
      tick(2),
      text(2.1, '14\n'),
      text(2.2, '4\n'),
    ]);
    expect(news).toMatchObject([{ kind: 'reading', reading: { voltageV: 14, currentA: 4 } }]);
  });

  it('calls garbage garbage, never a number, and asks the error queue to its end', () => {
    const { news, sent } = play(session({ identifyQuery: null }), [
      opened(0),
      text(0.1, '1\x005,,.?\n'),
      tick(2.5),
      text(2.6, 'ERR\n'),
      text(2.7, '-113,"Undefined header"\n'),
      text(2.8, '-350,"Queue overflow"\n'),
      text(2.9, '0,"No error"\n'),
      tick(6),
      text(6.1, '15\n'),
    ]);
    expect(news.map(({ kind }) => kind)).toEqual([
      'garbled',
      'garbled',
      'gap',
      'supply-error',
      'supply-error',
    ]);
    expect(sent.slice(-4)).toEqual(['SYST:ERR?\n', 'SYST:ERR?\n', 'MEAS:VOLT?\n', 'MEAS:CURR?\n']);
    expect(news).toContainEqual({ kind: 'gap', sinceS: expect.any(Number), why: 'garbled' });
  });

  it('says an unplugged supply at once and starts anew when it is back', () => {
    const { news, sent } = play(session(), [
      opened(0),
      text(0.1, 'A\n15\n'),
      text(0.2, '4\n'),
      { kind: 'closed', atS: 1 },
      tick(3),
      text(3, '99\n'),
      opened(10),
      text(10.1, 'A\n15\n'),
      text(10.2, '4\n'),
    ]);
    expect(news.map(({ kind }) => kind)).toEqual([
      'identified',
      'reading',
      'gap',
      'identified',
      'back',
      'reading',
    ]);
    expect(sent.filter((line) => line === '*IDN?\n')).toHaveLength(2);
  });

  it('measures a supply that does not say who it is', () => {
    const { news } = play(session(), [opened(0), tick(1.6), tick(1.9), text(2, '15\n'), text(2.1, '4\n')]);
    expect(news.map(({ kind }) => kind)).toEqual(['reading']);
  });

  it('does not fill memory from a stream without lines', () => {
    const { session: after, news } = play(session({ identifyQuery: null }), [
      opened(0),
      ...Array.from({ length: 50 }, (_, i) => text(0.01 * i, 'x'.repeat(1000))),
    ]);
    expect(after.pending.length).toBeLessThanOrEqual(4096);
    expect(news.some(({ kind }) => kind === 'gap')).toBe(true);
  });

  it('reads another line protocol by query and pattern', () => {
    const { sent, news } = play(
      session({
        identifyQuery: null,
        errorQuery: null,
        voltageQuery: 'GETD',
        voltageAnswer: { pattern: '^(\\d{4})\\d{4}[01]$', factor: 0.01 },
        currentQuery: null,
        currentAnswer: { pattern: '^\\d{4}(\\d{4})[01]$', factor: 0.001 },
        lineEnd: '\r',
      }),
      [opened(0), text(0.1, '150245290\r')],
    );
    expect(sent).toEqual(['GETD\r']);
    expect(news).toMatchObject([{ kind: 'reading', reading: { voltageV: 15.02, currentA: 4.529 } }]);
  });
});

describe('reading only', () => {
  it.each([
    ...[
      'VOLT 12',
      'VOLT 12;VOLT?',
      '*RST',
      '*RST;*IDN?',
      'OUTP ON',
      'OUT1',
      'VSET1:12.00',
      'MEAS:VOLT?;OUTP ON',
    ],
    ...[
      'MEAS:VOLT?\nOUTP ON',
      'MEAS:VOLT?\rX',
      '*TST?',
      'CAL:ALL?',
      '*CAL?',
      'INIT:IMM?',
      'SOUT1',
      'GET 12',
      'V?=3',
      '',
    ],
    ...['VOLT? 12;*RST', 'VOLT 5?', 'READ;OUTP ON', 'SYST:REM', 'MEAS:VOLT?'.padEnd(80, 'A')],
  ])('refuses “%s”', (query) => {
    expect(readQuery(query).ok).toBe(false);
  });

  it.each([
    '*IDN?',
    'MEAS:VOLT?',
    ':MEASure:CURRent?',
    'MEAS:VOLT? (@1)',
    'VOUT1?',
    'SYST:ERR?',
    'GETD',
    'READ',
    'V?',
  ])('allows “%s”', (query) => {
    expect(readQuery(query).ok).toBe(true);
  });

  it('sends nothing but its own checked queries, whatever comes in', () => {
    const allowed = ['*IDN?\n', 'MEAS:VOLT?\n', 'MEAS:CURR?\n', 'SYST:ERR?\n'];
    const input = fc.oneof(
      fc.record({ kind: fc.constant('opened' as const), wait: fc.nat(30) }),
      fc.record({ kind: fc.constant('closed' as const), wait: fc.nat(30) }),
      fc.record({ kind: fc.constant('tick' as const), wait: fc.nat(30) }),
      fc.record({
        kind: fc.constant('text' as const),
        wait: fc.nat(30),
        text: fc.oneof(
          fc.string({ maxLength: 30 }),
          fc.constantFrom('15.0\n', '4\n', 'OUTP ON\n', '*RST\n', '-1,"x"\n', '0,"No error"\n', '9.91E37\n'),
        ),
      }),
    );
    fc.assert(
      fc.property(fc.array(input, { maxLength: 60 }), (inputs) => {
        let atS = 0;
        const timed = inputs.map(
          ({ wait, ...rest }): SessionInput => ({ ...rest, atS: (atS += wait / 10) }) as SessionInput,
        );
        const { sent, news } = play(session(), timed);
        expect(sent.every((line) => allowed.includes(line))).toBe(true);
        for (const item of news) {
          if (item.kind === 'reading') expect(Math.abs(item.reading.voltageV)).toBeLessThan(9e36);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('builds no protocol on a query that sets, from any text', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 40 }), (query) => {
        const protocol = supplyProtocol({ ...SCPI_PROTOCOL, voltageQuery: query });
        if (!protocol.ok) return;
        // What is accepted has one word, nothing to set with, and asks or reads by name.
        expect(protocol.value.voltage).toMatch(/^[^;\r\n=]*$/);
        expect(protocol.value.voltage).toMatch(/\?|^(GET|READ|RD)/i);
      }),
      { numRuns: 500 },
    );
  });
});

describe('patterns for answers', () => {
  it('reads every form of number IEEE 488.2 has, and not its infinities', () => {
    const read = compileAnswer(SCPI_NUMBER);
    if (!read.ok) throw new Error(read.error.message);
    const cases: [string, number | undefined][] = [
      ['15', 15],
      ['+15.', 15],
      ['-0.25', -0.25],
      ['.5', 0.5],
      ['1.5012E+01', 15.012],
      ['15.0V', 15],
      ['4.5 A', 4.5],
      ['9.9E37', undefined],
      ['9.91E37', undefined],
      ['NAN', undefined],
      ['1.2.3', undefined],
      ['15 16', undefined],
      ['', undefined],
    ];
    for (const [line, value] of cases) expect(read.value(line), line).toBe(value);
  });

  it.each([
    ['(a+)+$', 'pattern-risky'],
    ['(\\d+)*x', 'pattern-risky'],
    ['(\\d*)\\d*\\d*\\d*x', 'pattern-risky'],
    ['(\\d{1,99}\\d{1,99}\\d{1,99})x', 'pattern-risky'],
    ['(\\d)\\1', 'pattern-risky'],
    ['(?=x)(\\d)', 'pattern-risky'],
    ['\\d+', 'pattern-no-group'],
    ['([', 'pattern-invalid'],
    ['('.padEnd(130, 'a') + ')', 'pattern-too-long'],
  ])('refuses %s', (pattern, code) => {
    const result = compileAnswer({ pattern, factor: 1 });
    expect(result.ok ? 'ok' : result.error.code).toBe(code);
  });

  it('takes milliseconds for the worst accepted pattern on the longest answer', () => {
    const read = compileAnswer({ pattern: '^\\s*(\\d+)\\d{1,9}x', factor: 1 });
    if (!read.ok) throw new Error(read.error.message);
    const from = performance.now();
    expect(read.value('1'.repeat(LONGEST_ANSWER))).toBeUndefined();
    expect(read.value('1'.repeat(LONGEST_ANSWER + 1))).toBeUndefined();
    // Some 1e3 ways; half a second is for a busy machine.
    expect(performance.now() - from).toBeLessThan(500);
  });
});
