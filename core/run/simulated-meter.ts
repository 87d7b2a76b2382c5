import type { Reading } from './readings.ts';
import type { SeededRandom } from './seeded-random.ts';
import type { SimulatedSetup } from './simulated-run.ts';

/** The meter between the truth and a reading: noise that jumps and noise that wanders, rubbish now and then, the display's steps. */
export function createMeter(setup: SimulatedSetup, random: SeededRandom) {
  const { noise } = setup;
  const white = noise.relative * Math.sqrt(1 - noise.colouredShare);
  const coloured = noise.relative * Math.sqrt(noise.colouredShare);
  const keep = Math.exp(-setup.sampleS / noise.colourS);
  let slowV = coloured * random.normal();
  let slowI = coloured * random.normal();
  const round = (value: number, step: number): number =>
    step > 0 ? Number((Math.round(value / step) * step).toFixed(6)) : value;
  return (tS: number, voltageV: number, currentA: number, temperatureK: number, jitter: number): Reading => {
    slowV = slowV * keep + coloured * Math.sqrt(1 - keep * keep) * random.normal();
    slowI = slowI * keep + coloured * Math.sqrt(1 - keep * keep) * random.normal();
    const glitchV = random.unit() < noise.glitchChance ? random.between(-0.3, 0.3) : 0;
    const glitchI = random.unit() < noise.glitchChance ? random.between(-0.3, 0.3) : 0;
    const factorV = 1 + slowV + (white + jitter) * random.normal() + glitchV;
    const factorI = 1 + slowI + (white + jitter) * random.normal() + glitchI;
    const celsius = round(
      temperatureK - 273.15 + noise.temperatureStepK * 0.5 * random.normal(),
      noise.temperatureStepK,
    );
    return {
      tS: Number(tS.toFixed(6)),
      voltageV: round(voltageV * factorV, noise.voltageStepV),
      currentA: round(currentA * factorI, noise.currentStepA),
      ...(setup.readTemperature ? { bathTemperatureK: Number((celsius + 273.15).toFixed(6)) } : {}),
    };
  };
}
