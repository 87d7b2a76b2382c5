import { useId, useMemo, useState, type KeyboardEvent } from 'react';
import type { AttitudeScore, AttitudeSearch } from '../../core/racking/search-attitudes.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { nearestTo, neighbourBy, onDisc, scoreColour } from './attitude-scale.ts';

interface AttitudeMapProps {
  readonly search: AttitudeSearch;
  readonly now: Vec3;
  /** In words and numbers, for the one under the cursor. */
  readonly describe: (attitude: AttitudeScore) => string;
  readonly onTake: (up: Vec3) => void;
}

const RADIUS = 86;
const MIDDLE = { upper: 94, lower: 282 } as const;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/**
 * Every attitude that was looked at, as a spot on two discs: which side of the model points up. Brighter traps less.
 * Picked by pointer or with the arrow keys.
 */
export function AttitudeMap({ search, now, describe, onTake }: AttitudeMapProps) {
  const { ranked } = search;
  const [cursor, setCursor] = useState(() => nearestTo(ranked, now));
  const textId = useId();
  const scores = ranked.map(({ score }) => score);
  const low = Math.min(...scores);
  const high = Math.max(...scores);
  const share = (score: number): number => (high > low ? (score - low) / (high - low) : 1);
  const spots = useMemo(
    () =>
      ranked.map((attitude, index) => {
        const { disc, x, y } = onDisc(attitude.up);
        return { attitude, index, x: MIDDLE[disc] + RADIUS * x, y: MIDDLE.upper - RADIUS * y };
      }),
    [ranked],
  );
  const size = Math.max(3.2, RADIUS * Math.sqrt(2 / ranked.length) * 1.15);
  const chosen = ranked[Math.min(cursor, ranked.length - 1)]!;
  const nowAt = onDisc(ranked[nearestTo(ranked, now)]!.up);
  const move = (event: KeyboardEvent): void => {
    const arrow = ARROWS[event.key];
    if (arrow) setCursor((at) => neighbourBy(ranked, at, arrow));
    else if (event.key === 'Home') setCursor(0);
    else if (event.key === 'Enter' || event.key === ' ') onTake(chosen.up);
    else return;
    event.preventDefault();
  };
  const at = spots[ranked.indexOf(chosen)]!;
  return (
    <div className="attitude-map">
      <div
        className="attitude-discs"
        role="application"
        aria-roledescription="map of attitudes"
        aria-label="Which side of the model points up: arrow keys move, Home goes to the best, Enter takes it"
        aria-describedby={textId}
        tabIndex={0}
        onKeyDown={move}
      >
        <svg viewBox="0 0 376 188" aria-hidden="true">
          {(['upper', 'lower'] as const).map((disc) => (
            <circle key={disc} className="attitude-disc" cx={MIDDLE[disc]} cy={MIDDLE.upper} r={RADIUS + 6} />
          ))}
          {spots.map(({ attitude, index, x, y }) => (
            <circle
              key={index}
              className={attitude.contactsAgainst.length > 0 ? 'attitude-spot against' : 'attitude-spot'}
              cx={x}
              cy={y}
              r={size}
              fill={scoreColour(share(attitude.score))}
              onClick={() => setCursor(index)}
            />
          ))}
          <path
            className="attitude-now"
            d={`M${MIDDLE[nowAt.disc] + RADIUS * nowAt.x - 7} ${MIDDLE.upper - RADIUS * nowAt.y}h14m-7 -7v14`}
          />
          <circle className="attitude-cursor" cx={at.x} cy={at.y} r={size + 4} />
        </svg>
        <div className="attitude-sides" aria-hidden="true">
          <span>Z side up</span>
          <span>Z side down</span>
        </div>
      </div>
      <div className="attitude-scale" aria-hidden="true">
        {[0, 0.25, 0.5, 0.75, 1].map((step) => (
          <span key={step}>
            <span className="attitude-chip" style={{ background: scoreColour(step) }} />
            {(low + step * (high - low)).toFixed(0)}
          </span>
        ))}
        <span>of 100</span>
      </div>
      <p id={textId} role="status">
        {describe(chosen)}
      </p>
      <ActionButton look="main" onPress={() => onTake(chosen.up)}>
        Hang it this way
      </ActionButton>
    </div>
  );
}
