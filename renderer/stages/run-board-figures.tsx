import { liveSpans } from '../../core/run/live-spans.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useSupplyDesk } from '../app/services.ts';
import { newestReading } from '../state/newest-reading.ts';
import { powerKnown } from '../state/run-power.ts';
import type { RunView } from '../state/run-view.ts';
import { standsStill, STILL_WORDS } from '../state/step-left.ts';
import { currentToHave } from '../state/run-words.ts';
import { clockText, timeSeenFrom } from './spoken-time.ts';

/** Volts and amps beside the clock; nothing stands there that the supply does not say now. With the power off nobody reads them. */
export function RunBoardSupply({ view }: { readonly view: RunView }) {
  const desk = useSupplyDesk((state) => state);
  const { record, powerS, powerIsOn } = view;
  if (!record || (!powerIsOn && powerKnown(view) !== 'still-on')) return null;
  const fromSupply = record.origin === 'supply' || desk.status === 'live' || desk.status === 'gap';
  const last = newestReading(view);
  const ageS = last && powerS !== null ? Math.max(0, powerS - last.tS) : 0;
  const lost = fromSupply && powerIsOn && desk.status !== 'live';
  const now = lost ? null : desk.status === 'live' ? desk.last : last;
  const age = lost ? 'no readings now' : powerIsOn && ageS >= 60 ? `${clockText(ageS * 1000)} ago` : '';
  return (
    <dl className="board-figures board-supply" aria-label="The supply now">
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
        under={powerIsOn ? currentToHave(view) : 'none is to flow'}
        warn={!powerIsOn}
      />
    </dl>
  );
}

/** Bath, film so far, and when the power can go off. */
export function RunBoardFigures({ view }: { readonly view: RunView }) {
  const system = useApp((state) => state.unitSystem);
  const { record, readings, progress, events, powerOnMs, powerIsOn } = view;
  if (!record) return null;
  const isStillOn = powerKnown(view) === 'still-on';
  const kelvin = readings.bathTemperatureK?.findLast((each) => !Number.isNaN(each)) ?? NaN;
  // A tenth of a micrometre is less than anybody can know of a film that grows.
  const micro = (valueM: number): string =>
    system === 'us' ? (valueM / 25.4e-6).toFixed(2) : (valueM * 1e6).toFixed(1);
  const film = progress?.thicknessM;
  const filmUnit = system === 'us' ? 'mil' : 'µm';
  // A range narrower than the digits shown says nothing.
  const filmRange =
    film?.lowSi !== undefined && film.highSi !== undefined && micro(film.lowSi) !== micro(film.highSi)
      ? `${micro(film.lowSi)} to ${micro(film.highSi)}, `
      : '';
  const live = liveSpans(events).findLast(({ short }) => !short);
  const ofWhat = live?.open ? ', whole area' : live && live.likely < 0.999 ? ', part with contact' : '';
  const still = standsStill(view);
  const end = still === null ? progress?.endS : null;
  const at = (seconds: number): string => timeSeenFrom((powerOnMs ?? 0) + seconds * 1000, powerOnMs ?? 0);
  const sinceS = progress?.wantedSinceS ?? null;
  const past = sinceS === null ? null : `past ${micro(record.plan.thicknessM)} since ${at(sinceS)}`;
  return (
    <dl className="board-figures">
      {powerIsOn || isStillOn ? (
        <BoardFigure
          label="Bath"
          value={Number.isNaN(kelvin) ? '–' : formatQuantity('temperature', kelvin, system, 3).number}
          unit={system === 'us' ? '°F' : '°C'}
          under=""
          warn={false}
        />
      ) : null}
      <BoardFigure
        label={`${powerIsOn || isStillOn ? 'Film so far' : 'Film by charge'}${ofWhat}`}
        value={film ? micro(film.valueSi) : '–'}
        unit={filmUnit}
        under={`${filmRange}${past ?? `wanted ${micro(record.plan.thicknessM)}${film ? '' : ` ${filmUnit}`}`}`}
        warn={past !== null && (powerIsOn || isStillOn)}
      />
      {powerIsOn ? (
        <BoardFigure
          label={`Power off at${record.practise ? ', practise time' : ''}`}
          value={end && powerOnMs !== null ? at(end.valueSi) : '–'}
          unit=""
          under={
            end?.lowSi !== undefined && end.highSi !== undefined
              ? `${at(end.lowSi)} to ${at(end.highSi)}`
              : progress
                ? still
                  ? `stands still: ${STILL_WORDS[still]}`
                  : 'no current that could finish it'
                : ''
          }
          warn={progress !== null && !end}
        />
      ) : null}
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
