import { failure, success, type Result } from '../result.ts';

declare const checked: unique symbol;
/** Text that can only ask: nothing else is ever sent to a supply. */
export type ReadQuery = string & { readonly [checked]: true };

const LONGEST = 60;
/** One header that asks: “*IDN?”, “MEAS:VOLT?”, “VOUT1?”, with a channel or range word after it at most. */
const ASKS = /^[*:]?[A-Za-z][A-Za-z0-9_:]*\?(\s*(\(@\d+(,\d+)*\)|CH\d|\d|MIN|MAX|DEF|DC))?$/i;
/** Words that only read, for supplies that know no question mark; nothing may follow them. */
const READS = /^(GET|READ|RD)[A-Z]{0,8}\d?$/i;
/** These ask and act at once: self test, calibration, reset on query. */
const ACTS = /(\*TST|\*CAL|(^|:)CAL(IBRATE|IBRATION)?\b|(^|:)TEST\b|\*RST|INIT)/i;

/**
 * Accepts a query text and nothing that could set, switch or reset: one command, asking (ending in a question mark), or one
 * bare reading word. Failure: `query-not-reading`.
 */
export function readQuery(text: string): Result<ReadQuery> {
  const trimmed = text.trim();
  const allowed =
    trimmed.length <= LONGEST && !ACTS.test(trimmed) && (ASKS.test(trimmed) || READS.test(trimmed));
  if (!allowed) {
    return failure(
      'query-not-reading',
      `“${trimmed.slice(0, LONGEST)}” might change the supply’s settings, so it is never sent.`,
      'Use a query that ends in a question mark, or a reading word such as GETD.',
    );
  }
  return success(trimmed as ReadQuery);
}
