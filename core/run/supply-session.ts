import type { Reading } from './readings.ts';
import type { SupplyProtocol } from './supply-protocol.ts';

/**
 * The talk with a supply, without any port or clock: text and moments go in, queries and news come out. One query is
 * under way at a time. What it sends comes from the protocol's checked queries alone, so it can ask and never set.
 */
export type SessionInput =
  | { readonly kind: 'opened'; readonly atS: number }
  /** As it came, in pieces of any size. */
  | { readonly kind: 'text'; readonly atS: number; readonly text: string }
  /** Several times a second; timeouts and the next query hang on it. */
  | { readonly kind: 'tick'; readonly atS: number }
  | { readonly kind: 'closed'; readonly atS: number };

export type SessionNews =
  | { readonly kind: 'identified'; readonly text: string }
  | { readonly kind: 'reading'; readonly reading: Reading }
  | { readonly kind: 'garbled'; readonly line: string }
  | { readonly kind: 'supply-error'; readonly text: string }
  /** From the last good reading on; said once, ends with `back`. */
  | { readonly kind: 'gap'; readonly sinceS: number; readonly why: 'unplugged' | 'silent' | 'garbled' }
  | { readonly kind: 'back'; readonly sinceS: number; readonly atS: number };

type Asking = 'identify' | 'voltage' | 'current' | 'errors';

/** Plain data apart from the protocol. */
export interface SupplySession {
  readonly protocol: SupplyProtocol;
  readonly state: 'closed' | 'idle' | 'asking';
  readonly asking: Asking | null;
  readonly askedAtS: number;
  readonly nextAtS: number;
  readonly pending: string;
  readonly identified: boolean;
  readonly voltageV: number | null;
  readonly voltageAtS: number;
  /** Tries without a good reading since the last one. */
  readonly failures: number;
  readonly errorsAsked: number;
  readonly lastGoodS: number | null;
  readonly gapSinceS: number | null;
  /** Until here whatever comes is an answer that was given up. */
  readonly deafUntilS: number;
}

export interface SessionStep {
  readonly session: SupplySession;
  /** Lines to write, line end included. */
  readonly send: readonly string[];
  readonly news: readonly SessionNews[];
}

/** Two tries may fail before it is called a gap: said within a few seconds, not at every hiccup. */
const TRIES = 2;
const MOST_PENDING = 4096;
const MOST_ERRORS_READ = 10;
const SHOWN = 60;

export function newSupplySession(protocol: SupplyProtocol): SupplySession {
  return {
    protocol,
    state: 'closed',
    asking: null,
    askedAtS: 0,
    nextAtS: 0,
    pending: '',
    identified: false,
    voltageV: null,
    voltageAtS: 0,
    failures: 0,
    errorsAsked: 0,
    lastGoodS: null,
    gapSinceS: null,
    deafUntilS: -Infinity,
  };
}

export function stepSupplySession(session: SupplySession, input: SessionInput): SessionStep {
  if (!Number.isFinite(input.atS)) throw new RangeError(`stepSupplySession: atS is ${input.atS}`);
  switch (input.kind) {
    case 'opened':
      return onOpened(session, input.atS);
    case 'closed':
      return onClosed(session, input.atS);
    case 'tick':
      return onTick(session, input.atS);
    case 'text':
      return onText(session, input.atS, input.text);
  }
}

function onOpened(session: SupplySession, atS: number): SessionStep {
  const { protocol, lastGoodS, gapSinceS } = session;
  const fresh = { ...newSupplySession(protocol), lastGoodS, gapSinceS, state: 'idle' as const, nextAtS: atS };
  return protocol.identify ? ask(fresh, 'identify', atS) : ask(fresh, 'voltage', atS);
}

function onClosed(session: SupplySession, atS: number): SessionStep {
  const closed = { ...session, state: 'closed' as const, asking: null, pending: '', voltageV: null };
  return openGap(closed, atS, 'unplugged', []);
}

function onTick(session: SupplySession, atS: number): SessionStep {
  if (session.state === 'closed') return { session, send: [], news: [] };
  if (session.state === 'asking') {
    if (atS - session.askedAtS < session.protocol.settings.timeoutS) return { session, send: [], news: [] };
    // A supply may be slow rather than dead: what still comes belongs to no later query.
    const deaf = { ...session, deafUntilS: atS + 0.2 };
    return failed(deaf, atS, 'silent', []);
  }
  return atS >= session.nextAtS ? ask(session, 'voltage', atS) : { session, send: [], news: [] };
}

function onText(session: SupplySession, atS: number, text: string): SessionStep {
  if (session.state === 'closed') return { session, send: [], news: [] };
  const joined = session.pending + text;
  const lines = joined.split(/[\r\n]+/);
  const rest = lines.pop()!;
  let now: SupplySession = { ...session, pending: rest.slice(-MOST_PENDING) };
  const send: string[] = [];
  const news: SessionNews[] = [];
  if (rest.length > MOST_PENDING) {
    // A stream without line ends is the wrong speed or the wrong device.
    const step = failed({ ...now, pending: '' }, atS, 'garbled', [
      { kind: 'garbled', line: rest.slice(0, SHOWN) },
    ]);
    return step;
  }
  for (const line of lines) {
    if (line.trim() === '') continue;
    const step = onLine(now, atS, line.trim());
    now = step.session;
    send.push(...step.send);
    news.push(...step.news);
  }
  return { session: now, send, news };
}

function onLine(session: SupplySession, atS: number, line: string): SessionStep {
  // Some supplies repeat the query before the answer.
  if (session.asking && line === queryOf(session, session.asking)) return { session, send: [], news: [] };
  if (session.state !== 'asking' || session.asking === null || atS < session.deafUntilS) {
    return { session, send: [], news: [] };
  }
  const { protocol } = session;
  switch (session.asking) {
    case 'identify': {
      const text = printable(line);
      const step = ask({ ...session, identified: true }, 'voltage', atS);
      return { ...step, news: [{ kind: 'identified', text }, ...step.news] };
    }
    case 'voltage': {
      const voltageV = protocol.readVoltage(line);
      if (voltageV === undefined) return spoiled(session, atS, line);
      if (protocol.current) return ask({ ...session, voltageV, voltageAtS: atS }, 'current', atS);
      const currentA = protocol.readCurrent(line);
      return currentA === undefined ? spoiled(session, atS, line) : good(session, atS, voltageV, currentA);
    }
    case 'current': {
      const currentA = protocol.readCurrent(line);
      if (currentA === undefined || session.voltageV === null) return spoiled(session, atS, line);
      return good(session, (atS + session.voltageAtS) / 2, session.voltageV, currentA, atS);
    }
    case 'errors':
      return onError(session, atS, line);
  }
}

/** “0,"No error"” ends the queue (SCPI-1999, 21.8); it is read to its end, within reason. */
function onError(session: SupplySession, atS: number, line: string): SessionStep {
  const none = /^[+-]?0\s*(,|$)/.test(line);
  const idle = { ...session, state: 'idle' as const, asking: null };
  if (none || session.errorsAsked >= MOST_ERRORS_READ) {
    const news: SessionNews[] = none ? [] : [{ kind: 'supply-error', text: printable(line) }];
    return { session: { ...idle, errorsAsked: 0 }, send: [], news };
  }
  const step = ask({ ...idle, errorsAsked: session.errorsAsked + 1 }, 'errors', atS);
  return { ...step, news: [{ kind: 'supply-error', text: printable(line) }, ...step.news] };
}

function good(session: SupplySession, tS: number, voltageV: number, currentA: number, atS = tS): SessionStep {
  const news: SessionNews[] = [];
  if (session.gapSinceS !== null) news.push({ kind: 'back', sinceS: session.gapSinceS, atS: tS });
  news.push({ kind: 'reading', reading: { tS, voltageV, currentA } });
  const next: SupplySession = {
    ...session,
    state: 'idle',
    asking: null,
    voltageV: null,
    failures: 0,
    lastGoodS: tS,
    gapSinceS: null,
    nextAtS: Math.max(session.nextAtS + session.protocol.settings.intervalS, atS),
  };
  return { session: next, send: [], news };
}

function spoiled(session: SupplySession, atS: number, line: string): SessionStep {
  const garbled: SessionNews = { kind: 'garbled', line: printable(line) };
  const step = failed(session, atS, 'garbled', [garbled]);
  // The supply's own word on what it did not understand.
  return step.session.protocol.errors && step.session.failures === TRIES
    ? merge(step, ask(step.session, 'errors', atS))
    : step;
}

function failed(
  session: SupplySession,
  atS: number,
  why: 'silent' | 'garbled',
  news: readonly SessionNews[],
): SessionStep {
  const next: SupplySession = {
    ...session,
    state: 'idle',
    asking: null,
    pending: '',
    voltageV: null,
    errorsAsked: 0,
    // A supply that keeps its identity to itself may still measure.
    failures:
      session.asking === 'identify' || session.asking === 'errors' ? session.failures : session.failures + 1,
    nextAtS: Math.max(atS + 0.25, session.asking === 'identify' ? atS : session.nextAtS),
  };
  return next.failures >= TRIES ? openGap(next, atS, why, news) : { session: next, send: [], news };
}

function openGap(
  session: SupplySession,
  atS: number,
  why: 'unplugged' | 'silent' | 'garbled',
  news: readonly SessionNews[],
): SessionStep {
  if (session.gapSinceS !== null) return { session, send: [], news };
  const sinceS = session.lastGoodS ?? atS;
  return {
    session: { ...session, gapSinceS: sinceS },
    send: [],
    news: [...news, { kind: 'gap', sinceS, why }],
  };
}

function queryOf(session: SupplySession, asking: Asking): string | null {
  const { protocol } = session;
  return {
    identify: protocol.identify,
    voltage: protocol.voltage,
    current: protocol.current,
    errors: protocol.errors,
  }[asking];
}

/** The only place where anything is sent. */
function ask(session: SupplySession, asking: Asking, atS: number): SessionStep {
  const query = queryOf(session, asking);
  if (query === null) return { session, send: [], news: [] };
  return {
    session: { ...session, state: 'asking', asking, askedAtS: atS },
    send: [query + session.protocol.settings.lineEnd],
    news: [],
  };
}

function merge(first: SessionStep, second: SessionStep): SessionStep {
  return {
    session: second.session,
    send: [...first.send, ...second.send],
    news: [...first.news, ...second.news],
  };
}

function printable(line: string): string {
  return line.replace(/[^\x20-\x7e]/g, '·').slice(0, SHOWN);
}
