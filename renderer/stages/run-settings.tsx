import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { measuredFilm } from '../../core/shop/measured-film.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { useApp } from '../app/services.ts';
import { OUTCOME_WORDS } from './outcome-words.ts';

type Line = readonly [label: string, value: (record: RunRecord, system: UnitSystem) => string];

const micro = (valueM: number, system: UnitSystem): string =>
  formatIn('length', valueM, system === 'us' ? 'mil' : 'µm', 3).text;
const orDash = <T,>(value: T | null | undefined, print: (value: T) => string): string =>
  value === null || value === undefined ? '–' : print(value);

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
        : `${formatQuantity('temperature', facts.firstTemperatureK, system, 3).text} to ${formatQuantity('temperature', facts.lastTemperatureK, system, 3).text}`,
  ],
  [
    'Without readings',
    ({ facts }) => orDash(facts, ({ gapS }) => (gapS > 0 ? formatIn('time', gapS, 'min', 2).text : 'never')),
  ],
  ['Alarms', ({ events }) => String(events.filter(({ level }) => level === 'alarm').length)],
  ['Dye', ({ dye }) => dye || '–'],
  ['Colour', ({ colour }) => colour || '–'],
  ['Outcome', ({ outcome }) => OUTCOME_WORDS[outcome]],
];

/** Settings and results of a run; beside another, what differs is marked. */
export function RunSettings({
  first,
  second,
}: {
  readonly first: RunRecord;
  readonly second: RunRecord | null;
}) {
  const system = useApp((state) => state.unitSystem);
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
          <th scope="col">{first.name}</th>
          {second ? <th scope="col">{second.name}</th> : null}
        </tr>
      </thead>
      <tbody>
        {LINES.map(([label, value]) => {
          const one = value(first, system);
          const other = second ? value(second, system) : one;
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
