import { plannedCurrentA } from '../../core/run/planned-current.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useSupplyDesk } from '../app/services.ts';
import type { RunView } from '../state/run-view.ts';
import { loweredCurrentA } from '../state/run-words.ts';
import { clockText, timeOfDay } from './spoken-time.ts';

/** The newest numbers; nothing stands there that the supply does not say now. */
export function RunBoardFigures({ view }: { readonly view: RunView }) {
  const system = useApp((state) => state.unitSystem);
  const desk = useSupplyDesk((state) => state);
  const { record, readings, progress, powerS, powerOnMs, powerIsOn } = view;
  if (!record) return null;
  const amps = (valueA: number): string => formatIn('current', valueA, 'A', 3).text;
  const planned = amps(plannedCurrentA(record.plan));
  const askedA = loweredCurrentA(view);
  const last = readings.tS.length - 1;
  const fromSupply = record.origin === 'supply' || desk.status === 'live' || desk.status === 'gap';
  const stored =
    last >= 0 ? { voltageV: readings.voltageV[last]!, currentA: readings.currentA[last]! } : null;
  const ageS = last >= 0 && powerS !== null ? Math.max(0, powerS - readings.tS[last]!) : null;
  const lost = fromSupply && powerIsOn && desk.status !== 'live';
  const now = lost ? null : desk.status === 'live' ? desk.last : stored;
  let kelvin = NaN;
  for (let i = last; i >= 0 && Number.isNaN(kelvin); i--) kelvin = readings.bathTemperatureK?.[i] ?? NaN;
  // A tenth of a micrometre is less than anybody can know of a film that grows.
  const micro = (valueM: number): string =>
    system === 'us' ? (valueM / 25.4e-6).toFixed(2) : (valueM * 1e6).toFixed(1);
  const filmUnit = system === 'us' ? 'mil' : 'µm';
  const film = progress?.thicknessM;
  const filmRange =
    film?.lowSi !== undefined && film.highSi !== undefined
      ? `${micro(film.lowSi)} to ${micro(film.highSi)}, `
      : '';
  const end = progress?.endS;
  const at = (seconds: number): string => timeOfDay((powerOnMs ?? 0) + seconds * 1000);
  const age = lost
    ? 'no readings now'
    : ageS === null || !powerIsOn
      ? ''
      : ageS < 60
        ? ''
        : `${clockText(ageS * 1000)} ago`;
  const filmFigure = (
    <BoardFigure
      label={powerIsOn ? 'Film so far' : 'Film by charge'}
      value={film ? micro(film.valueSi) : '–'}
      unit={filmUnit}
      under={`${filmRange}wanted ${micro(record.plan.thicknessM)}`}
      warn={false}
    />
  );
  // With the power off no volts stand there that nobody reads.
  if (!powerIsOn) return <dl className="board-figures">{filmFigure}</dl>;
  return (
    <dl className="board-figures">
      <BoardFigure
        label="Volts"
        value={now ? now.voltageV.toFixed(2) : '–'}
        unit="V"
        under={age}
        warn={lost}
      />
      <BoardFigure
        label="Amps"
        value={now ? now.currentA.toFixed(2) : '–'}
        unit="A"
        under={askedA === null ? `plan ${planned}` : `now to ${amps(askedA)}, plan ${planned}`}
        warn={false}
      />
      <BoardFigure
        label="Bath"
        value={Number.isNaN(kelvin) ? '–' : formatQuantity('temperature', kelvin, system, 3).number}
        unit={system === 'us' ? '°F' : '°C'}
        under=""
        warn={false}
      />
      {filmFigure}
      <BoardFigure
        label="Power off at"
        value={end && powerOnMs !== null ? at(end.valueSi) : '–'}
        unit=""
        under={
          end?.lowSi !== undefined && end.highSi !== undefined
            ? `${at(end.lowSi)} to ${at(end.highSi)}`
            : powerIsOn && progress
              ? 'no current that could finish it'
              : ''
        }
        warn={powerIsOn && progress !== null && !end}
      />
    </dl>
  );
}

interface BoardFigureProps {
  readonly label: string;
  readonly value: string;
  readonly unit: string;
  readonly under: string;
  readonly warn: boolean;
}

function BoardFigure({ label, value, unit, under, warn }: BoardFigureProps) {
  return (
    <div className="board-figure">
      <dt>{label}</dt>
      <dd>
        <span className={`board-value ${value.length > 6 ? 'long' : ''}`}>
          {value} {value === '–' ? null : <small>{unit}</small>}
        </span>
        <span className={`board-note ${warn ? 'check' : ''}`}>{under}</span>
      </dd>
    </div>
  );
}
