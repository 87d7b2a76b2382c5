import type { UnitSystem } from './unit-table.ts';

const NUMBER = '[−-]?\\d+(?:\\.\\d+)?';
/** "24 °C", "20-22 °C", "−10 to 60 °C"; not where °F stands behind it already. */
const CELSIUS = new RegExp(`(${NUMBER})(?:(-| to )(${NUMBER}))? °C(?! \\()`, 'g');

/** A sentence of the program's as a reader with a Fahrenheit thermometer wants it: "24 °C (75 °F)". */
export function withFahrenheit(text: string, system: UnitSystem): string {
  if (system === 'metric') return text;
  return text.replace(CELSIUS, (celsius: string, low: string, joint?: string, high?: string) =>
    high === undefined
      ? `${celsius} (${fahrenheit(low)} °F)`
      : `${celsius} (${fahrenheit(low)}${joint}${fahrenheit(high)} °F)`,
  );
}

/** Whole degrees; a tenth where the Celsius had one. */
function fahrenheit(celsius: string): string {
  const degrees = Number(celsius.replace('−', '-')) * 1.8 + 32;
  const rounded = celsius.includes('.') ? degrees.toFixed(1) : String(Math.round(degrees));
  return rounded.replace('-', '−');
}
