import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { measuredFilm } from '../../core/shop/measured-film.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import type { BathRecord } from '../../core/shop/bath-record.ts';
import { stepTookS } from '../../core/shop/run-finish.ts';
import { timerText, timerUnit } from '../../core/units/timer-text.ts';
import { useApp, useServices, useShelf } from '../app/services.ts';
import { OUTCOME_WORDS } from './outcome-words.ts';

type Line = readonly [
  label: string,
  value: (record: RunRecord, system: UnitSystem, baths: readonly BathRecord[]) => string,
];

const micro = (valueM: number, system: UnitSystem): string =>
  formatIn('length', valueM, system === 'us' ? 'mil' : 'µm', 3).text;
const orDash = <T,>(value: T | null | undefined, print: (value: T) => string): string =>
  value === null || value === undefined ? '–' : print(value);

const minutes = (seconds: number): string => `${timerText(seconds)} ${timerUnit(seconds)}`;
const gramsPerLitre = (kgPerM3: number): string => formatIn('massConcentration', kgPerM3, 'g/L', 3).text;
const dyeStrengthText = (kgPerM3: number, system: UnitSystem): string =>
  formatIn('massConcentration', kgPerM3, system === 'us' ? 'oz/US gal' : 'g/L', 3).text;
const bathName = (id: string, baths: readonly BathRecord[]): string =>
  baths.find((bath) => bath.id === id)?.name ?? 'no longer in the book';

/** In words and as measured; of an older book's as the camera saw it that is said. */
function colourText(colour: string, lab: RunRecord['lab'], from: RunRecord['labFrom']): string {
  const read = lab
    ? `L* ${lab.l.toFixed(0)}, a* ${lab.a.toFixed(0)}, b* ${lab.b.toFixed(0)}${from === 'camera' ? ' as the camera saw it' : ''}`
    : '';
  return [colour, read].filter((text) => text !== '').join('; ') || '–';
}

const LINES: readonly Line[] = [
  ['Pieces', ({ plan }) => plan.pieces || '–'],
  ['Area', ({ plan }, system) => formatQuantity('area', plan.areaM2, system, 4).text],
  [
    'Density',
    ({ plan }, system) => formatQuantity('currentDensity', plan.currentDensityAPerM2, system, 3).text,
  ],
  ['Supply holds', ({ plan }) => `the ${plan.mode}`],
  ['Current, planned', ({ plan }) => formatIn('current', plannedCurrentA(plan), 'A', 3).text],
  ['Ramp', ({ plan }) => formatIn('time', plan.rampS, 'min', 3).text],
  ['Hold, planned', ({ plan }) => formatIn('time', plan.holdS, 'min', 3).text],
  ['Read for', ({ facts }) => orDash(facts, ({ durationS }) => formatIn('time', durationS, 'min', 3).text)],
  ['Film wanted', ({ plan }, system) => micro(plan.thicknessM, system)],
  ['Film by charge', ({ film }, system) => orDash(film, ({ valueM }) => micro(valueM, system))],
  [
    'Film measured',
    (record, system) => orDash(measuredFilm(record), ({ valueSi }) => micro(valueSi, system)),
  ],
  ['Charge', ({ facts }) => orDash(facts, ({ chargeC }) => formatIn('charge', chargeC, 'A·h', 3).text)],
  [
    'Charge constant',
    ({ plan }, system) =>
      `${formatQuantity('chargePerVolume', plan.chargePerVolumeCPerM3, system, 3).text} (${plan.chargeSource.standing})`,
  ],
  ['Steady voltage', ({ facts }) => orDash(facts?.steadyVoltageV, (volts) => `${volts.toFixed(2)} V`)],
  ['Steady current', ({ facts }) => orDash(facts?.steadyCurrentA, (amps) => `${amps.toFixed(2)} A`)],
  [
    'Bath, planned',
    ({ plan }, system) =>
      `${formatQuantity('temperature', plan.bathTemperatureK, system, 3).text}, ${formatIn('massConcentration', plan.acidKgPerM3, 'g/L', 3).text}`,
  ],
  [
    'Bath, read',
    ({ facts }, system) =>
      facts?.firstTemperatureK == null || facts.lastTemperatureK === null
        ? '–'
        : `${formatQuantity('temperature', facts.firstTemperatureK, system, 3).number} to ${formatQuantity('temperature', facts.lastTemperatureK, system, 3).text}`,
  ],
  [
    'Without readings',
    ({ facts }) => orDash(facts, ({ gapS }) => (gapS > 0 ? formatIn('time', gapS, 'min', 2).text : 'never')),
  ],
  ['Alarms', ({ events }) => String(events.filter(({ level }) => level === 'alarm').length)],
  ['Bath', ({ finish }, _, baths) => orDash(finish?.shopBathId, (id) => bathName(id, baths))],
  ['Aluminium in the bath', ({ finish }) => orDash(finish?.aluminiumKgPerM3, gramsPerLitre)],
  ['Alloy', ({ finish }) => finish?.alloys.join(', ') || '–'],
  ['Dye', ({ dye }) => dye || '–'],
  ['Time in the dye, planned', ({ finish }) => orDash(finish?.dye?.timeS, minutes)],
  ['Time in the dye, done', (record) => orDash(stepTookS(record, 'dye'), minutes)],
  [
    'Dye at, planned',
    ({ finish }, system) =>
      orDash(finish?.dye, ({ temperatureK }) => formatQuantity('temperature', temperatureK, system, 3).text),
  ],
  [
    'Dye made up with',
    ({ finish }, system) => orDash(finish?.dye?.dyeKgPerM3, (strength) => dyeStrengthText(strength, system)),
  ],
  ['pH of the dye', ({ finish }) => orDash(finish?.dye?.ph, String)],
  [
    'Seal, planned',
    ({ finish }, system) =>
      orDash(
        finish?.seal,
        ({ way, temperatureK, ph, timeS }) =>
          `${way}, ${formatQuantity('temperature', temperatureK, system, 3).text}${ph === null ? '' : `, pH ${ph}`}${timeS === null ? '' : `, ${minutes(timeS)}`}`,
      ),
  ],
  ['Time in the seal, done', (record) => orDash(stepTookS(record, 'seal'), minutes)],
  ['Colour', ({ colour, lab, labFrom }) => colourText(colour, lab, labFrom)],
  ['Outcome', ({ outcome }) => OUTCOME_WORDS[outcome]],
];

/** Settings and results of a run; beside another, what differs is marked. */
export function RunSettings({
  first,
  second,
  names,
}: {
  readonly first: RunRecord;
  readonly second: RunRecord | null;
  /** What the two are called, told apart. */
  readonly names: readonly [string, string];
}) {
  const system = useApp((state) => state.unitSystem);
  const baths = useShelf(useServices().wetShop.baths).records;
  return (
    <table
      className="plain run-settings"
      aria-label={second ? 'Settings side by side' : 'Settings and results'}
    >
      <thead>
        <tr>
          <th scope="col">
            <span className="visually-hidden">What</span>
          </th>
          <th scope="col">{names[0]}</th>
          {second ? <th scope="col">{names[1]}</th> : null}
        </tr>
      </thead>
      <tbody>
        {LINES.map(([label, value]) => {
          const one = value(first, system, baths);
          const other = second ? value(second, system, baths) : one;
          return (
            <tr key={label} className={one === other ? '' : 'differs'}>
              <th scope="row">{label}</th>
              <td>{one}</td>
              {second ? (
                <td>
                  {other}
                  {one === other ? null : <span className="visually-hidden"> (differs)</span>}
                </td>
              ) : null}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
