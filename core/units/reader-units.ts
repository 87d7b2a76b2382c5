import { fromUnit, toUnit, unitBySymbol } from './find-unit.ts';
import { formatNumber } from './format-quantity.ts';
import type { QuantityKind, UnitSystem } from './unit-table.ts';

interface Pair {
  readonly kind: QuantityKind;
  readonly metric: string;
  readonly us: string;
  readonly words: (us: number, metric: string) => string;
}

/** Two digits: the program's sentences hold round numbers. */
const rounded = (us: number): string => formatNumber(us, 2);
/** Whole degrees; a tenth where the Celsius had one. */
const degrees = (us: number, celsius: string): string =>
  celsius.includes('.') ? us.toFixed(1) : String(Math.round(us));

const PAIRS: readonly Pair[] = [
  { kind: 'temperature', metric: '°C', us: '°F', words: degrees },
  { kind: 'currentDensity', metric: 'A/dm²', us: 'A/ft²', words: rounded },
  { kind: 'length', metric: 'µm', us: 'mil', words: rounded },
];

const NUMBER = '[−-]?\\d+(?:\\.\\d+)?';
const JOINT = '(?:-| to | or |, | and )';

/** "24 °C", "20-22 °C", "1.25, 1.5, 2.0 A/dm²", with or without the other unit behind; not one that stands behind it already. */
const inText = ({ metric, us }: Pair): RegExp =>
  new RegExp(
    `(?<!${us} \\()(?<![\\d.])(${NUMBER}(?:${JOINT}${NUMBER})*) ${metric}(?![/\\w])(?: \\((${NUMBER} ${us})\\))?`,
    'g',
  );

/** A size that is said both ways already; one said in millimetres alone stays so, as a drill or a drawing has it. */
const BOTH_SIZES = new RegExp(`(?<![\\d.])(${NUMBER}) mm \\((${NUMBER}) in\\)`, 'g');

/**
 * A sentence of the program's as a reader with US instruments wants it: "75 °F (24 °C)", "12 A/ft² (1.3 A/dm²)", "0.5 in (12.7 mm)".
 */
export function inReaderUnits(text: string, system: UnitSystem): string {
  if (system === 'metric') return text;
  return PAIRS.reduce(
    (said, pair) =>
      said.replace(inText(pair), (_, numbers: string, known?: string) => {
        const own = numbers.replace(/(?<!\d)[−-]?\d+(?:\.\d+)?/g, (one) => converted(one, pair));
        return `${known ?? `${own} ${pair.us}`} (${numbers} ${pair.metric})`;
      }),
    text.replace(BOTH_SIZES, '$2 in ($1 mm)'),
  );
}

function converted(metric: string, { kind, metric: from, us, words }: Pair): string {
  const valueSi = fromUnit(Number(metric.replace('−', '-')), unitBySymbol(kind, from));
  return words(toUnit(valueSi, unitBySymbol(kind, us)), metric).replace('-', '−');
}
