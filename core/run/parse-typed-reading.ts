import { failure, success, type Result } from '../result.ts';
import { parseQuantity } from '../units/parse-quantity.ts';

export interface TypedReading {
  readonly voltageV: number;
  readonly currentA: number;
  readonly bathTemperatureK: number | null;
  /** What was not typed and taken as the display showed it last. */
  readonly asBefore: readonly ('voltage' | 'current')[];
}

export interface TypingContext {
  /** What the supply holds; the other one is what a single number means. */
  readonly mode: 'current' | 'voltage';
  readonly last: { readonly voltageV: number; readonly currentA: number } | null;
  readonly temperatureUnit: '°C' | '°F';
}

const LIMITS = {
  voltage: { low: 0, high: 1000, says: '0 to 1000 V' },
  current: { low: 0, high: 100_000, says: '0 to 100 000 A' },
  temperature: { low: 253.15, high: 373.15, says: { '°C': '−20 to 100 °C', '°F': '−4 to 212 °F' } },
} as const;

/**
 * A line typed at the tank: "15.2 4.1 20.5" is volts, amps and the bath's temperature; "15.2" alone is volts at the same
 * current (amps at the same voltage where the supply holds the voltage). Units may be typed and then the order is free.
 * Failures: `reading-empty`, `reading-unclear`, `reading-incomplete`, `reading-range`.
 */
export function parseTypedReading(text: string, context: TypingContext): Result<TypedReading> {
  const { temperatureUnit } = context;
  const unclear = (part: string): Result<never> =>
    failure(
      'reading-unclear',
      `“${part}” is not clear.`,
      `Type numbers with blanks between: volts, amps, ${temperatureUnit}.`,
    );
  const parts = text
    .trim()
    .replace(/(\d)\s+(?=m?[vack]\b|°|f\b)/gi, '$1')
    .split(/[\s;/]+|,\s+/)
    .filter((part) => part !== '');
  if (parts.length === 0) {
    return failure(
      'reading-empty',
      'Nothing is typed.',
      'Type volts, amps and the bath’s temperature, then Enter.',
    );
  }
  if (parts.length > 3) {
    return failure(
      'reading-unclear',
      'That is more than three numbers.',
      `Type volts, amps, ${temperatureUnit}.`,
    );
  }
  const found: { voltage?: number; current?: number; temperature?: number } = {};
  const order =
    context.mode === 'current'
      ? (['voltage', 'current', 'temperature'] as const)
      : (['current', 'voltage', 'temperature'] as const);
  const usual = parts.length === 1 ? order : (['voltage', 'current', 'temperature'] as const);
  for (const part of parts) {
    const unit = /^[-+]?[\d.,]+\s*(\D*)$/.exec(part)?.[1]?.toLowerCase();
    if (unit === undefined) return unclear(part);
    const kind =
      unit === ''
        ? usual.find((candidate) => found[candidate] === undefined)
        : /^m?v$/.test(unit)
          ? 'voltage'
          : /^m?a$/.test(unit)
            ? 'current'
            : /^°?[cfk]$/.test(unit)
              ? 'temperature'
              : undefined;
    if (kind === undefined || found[kind] !== undefined) return unclear(part);
    const bare = { voltage: 'V', current: 'A', temperature: temperatureUnit }[kind];
    const parsed = parseQuantity(
      kind,
      part.replace(/^([\d.,]+)c$/i, '$1 °C').replace(/^([\d.,]+)f$/i, '$1 °F'),
      bare,
    );
    if (!parsed.ok) return unclear(part);
    const { low, high, says } = LIMITS[kind];
    if (parsed.value < low || parsed.value > high) {
      return failure(
        'reading-range',
        `“${part}” is no ${kind} of this work.`,
        `Type ${typeof says === 'string' ? says : says[temperatureUnit]}.`,
      );
    }
    found[kind] = kind === 'temperature' ? Number(parsed.value.toPrecision(12)) : parsed.value;
  }
  const asBefore: ('voltage' | 'current')[] = [];
  const { last } = context;
  if (found.voltage === undefined) asBefore.push('voltage');
  if (found.current === undefined) asBefore.push('current');
  if ((asBefore.length > 0 && last === null) || asBefore.length === 2) {
    return failure(
      'reading-incomplete',
      'Volts and amps are both needed for the first reading.',
      'Type both, such as 15.2 4.1.',
    );
  }
  return success({
    voltageV: found.voltage ?? last!.voltageV,
    currentA: found.current ?? last!.currentA,
    bathTemperatureK: found.temperature ?? null,
    asBefore,
  });
}
