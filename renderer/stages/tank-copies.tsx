import { useState } from 'react';
import { putPlacement, removePlacement, setPlacements } from '../../core/job/edit-hanging.ts';
import { depthText } from '../../core/job/hung-depth.ts';
import { hungLoad } from '../../core/job/hung-load.ts';
import type { Part } from '../../core/job/job.ts';
import type { PlacementSwing } from '../../core/racking/swing-check.ts';
import type { Clearance } from '../../core/racking/tank-clearance.ts';
import type { Placement } from '../../core/racking/tank.ts';
import { add, subtract, type Vec3 } from '../../core/racking/vec3.ts';
import type { Failure } from '../../core/result.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { useApp, useDerived, useHanging, useServices } from '../app/services.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { hangCopies, movePlacement, turnedPlacement } from '../state/edit-tank.ts';
import {
  levelOfClearance,
  levelOfCopy,
  liveCheck,
  middleInPart,
  middleOfCopy,
} from '../state/tank-view-data.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

const LEVEL_WORDS = { ok: 'clear', check: 'look here', stop: 'stop' } as const;
const NEIGHBOUR_WORDS: Readonly<Record<Clearance['to'], string>> = {
  cathode: 'Cathode',
  wall: 'Wall',
  floor: 'Floor',
  surface: 'Surface',
  part: 'Next part',
};

/** What hangs in the tank: several copies with one action, each to be placed by numbers too. */
export function CopySection() {
  const { store, hanging } = useServices();
  const job = useApp(jobOf);
  const settled = useHanging((state) => state.tankCheck);
  const dragged = useHanging((state) => state.dragCheck);
  const selectedId = useHanging((state) => state.selectedPlacementId);
  const { findings } = liveCheck(settled, dragged, selectedId);
  const copies = useDerived((derived) => derived.tank.copies);
  const sizes = useDerived((derived) => derived.tank.sizes);
  const plan = useDerived((derived) => derived.plan);
  const hung = plan?.ok && copies.length > 0 ? hungLoad(job, plan.value.loads) : { of: '', notHung: '' };
  const isOnly = plan?.ok === true && plan.value.loads.length === 1;
  const selected = copies.find(({ id }) => id === selectedId);
  const keepsLevel = copies.some(({ partId }) => sizes[partId]?.depthM !== undefined);
  const nameOf = (placement: Placement): string =>
    job.parts.find(({ id }) => id === placement.partId)?.name ?? '';
  return (
    <section className="stack" aria-label="In the tank">
      <h3>In the tank</h3>
      {job.parts.map((part) => (
        // What hangs of it is offered as its number, also where a load was hung meanwhile.
        <HangCopies
          key={`${part.id} ${job.placements.filter(({ partId }) => partId === part.id).length}`}
          part={part}
          alone={job.parts.length === 1}
        />
      ))}
      {copies.length > 0 ? (
        <>
          <div className="copies" role="group" aria-label="Copies in the tank">
            {copies.map((placement, index) => {
              const level = levelOfCopy(findings, placement.id);
              return (
                <ActionButton
                  key={placement.id}
                  look="small"
                  aria-pressed={placement.id === selectedId}
                  aria-label={`Copy ${index + 1}, ${nameOf(placement)}: ${LEVEL_WORDS[level]}`}
                  onPress={() =>
                    hanging.setState({
                      selectedPlacementId: placement.id === selectedId ? null : placement.id,
                      dragCheck: null,
                    })
                  }
                >
                  <span className={`copy-level ${level}`}>{level === 'ok' ? '✓' : '!'}</span> {index + 1}
                </ActionButton>
              );
            })}
          </div>
          <p className="soft">
            Drag a copy or its number in the picture: it snaps to the bars. Seen from the front or side it
            moves up and down too
            {keepsLevel ? ', but for what hangs to a mark: its level is the liquid’s' : ''}.
          </p>
        </>
      ) : (
        <p className="soft">Nothing hangs here yet: hang a load, or some copies.</p>
      )}
      {selected ? (
        <SelectedCopy key={selected.id} placement={selected} number={copies.indexOf(selected) + 1} />
      ) : null}
      {hung.notHung === '' ? null : isOnly ? (
        <p>Not hung yet, so neither its distances nor the map know of it: {hung.notHung}.</p>
      ) : (
        <p>
          Distances and map are of {hung.of}. Not in the tank now: {hung.notHung}.
        </p>
      )}
      {copies.length > 0 ? (
        <ActionButton
          look="quiet"
          onPress={() => editJob(store, 'Empty the tank', (now) => setPlacements(now, []))}
        >
          Take everything out
        </ActionButton>
      ) : null}
    </section>
  );
}

function HangCopies({ part, alone }: { part: Part; alone: boolean }) {
  const services = useServices();
  const hung = useApp((state) => jobOf(state).placements.filter(({ partId }) => partId === part.id).length);
  const [count, setCount] = useState(Math.max(1, hung || part.quantity));
  const [refused, setRefused] = useState<{ failure: Failure; of: readonly unknown[] } | null>(null);
  const job = useApp(jobOf);
  /** What the refusal rests on: changed, it is no longer true. */
  const of = [job.tank, job.hanging, job.parts, job.placements, count];
  const failure = refused?.of.every((value, i) => value === of[i]) ? refused.failure : null;
  const what = alone ? '' : ` of ${part.name}`;
  const tryTo = (anyway: boolean): void => {
    const found = hangCopies(services, part.id, count, anyway);
    setRefused(found && { failure: found, of });
  };
  return (
    <>
      <div className="hang-copies">
        <QuantityField
          label={`Copies${what} to hang`}
          kind="count"
          valueSi={count}
          units={['', '']}
          limits={{ low: 1, high: 200 }}
          wholeNumber
          onChange={(value) => value !== null && setCount(value)}
        />
        <ActionButton onPress={() => tryTo(false)}>
          Hang {count}
          <span className="visually-hidden">{what} at once</span>
        </ActionButton>
      </div>
      {failure ? (
        <MessageCard level="check" message={failure.message} remedy={failure.remedy}>
          {failure.code === 'no-room' ? (
            <ActionButton look="small" onPress={() => tryTo(true)}>
              Hang {count === 1 ? 'it' : 'them'} anyway and see the distances
            </ActionButton>
          ) : null}
        </MessageCard>
      ) : null}
    </>
  );
}

function SelectedCopy({ placement, number }: { placement: Placement; number: number }) {
  const services = useServices();
  const { store } = services;
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const sizes = useDerived((derived) => derived.tank.sizes);
  const size = sizes[placement.partId];
  const settled = useHanging((state) => state.tankCheck);
  const dragged = useHanging((state) => state.dragCheck);
  const { clearances, findings, swings } = liveCheck(settled, dragged, placement.id);
  const swing = swings.find(({ placementId }) => placementId === placement.id);
  const own = clearances.filter(({ placementId }) => placementId === placement.id);
  if (!size || !job.tank) return null;
  const { tank } = job.tank;
  const { vessel } = tank;
  const reachM =
    vessel.shape === 'box'
      ? [vessel.lengthM / 2, vessel.widthM / 2]
      : [vessel.diameterM / 2, vessel.diameterM / 2];
  const middle = middleOfCopy(placement, middleInPart(job, size, placement.partId));
  const at: Vec3 = [middle[0], middle[1], middle[2] - size.heightM / 2];
  const axes = [
    { axis: 0, label: 'Middle along the tank (x)' },
    { axis: 1, label: 'Middle across (y)' },
    ...(size.depthM === undefined ? [{ axis: 2, label: 'Lowest point above the floor' } as const] : []),
  ] as const;
  const place = (axis: 0 | 1 | 2, value: number): void => {
    const to: [number, number, number] = [...at];
    to[axis] = value;
    movePlacement(
      services,
      placement,
      add(placement.pose.offsetM, subtract(to, at)),
      `place-${placement.id}-${axis}`,
    );
  };
  const turn = (quarter: number): void =>
    editJob(store, `Turn copy ${number}`, (now) =>
      putPlacement(now, turnedPlacement(placement, middle, (quarter * Math.PI) / 2)),
    );
  return (
    <section className="pin-card selected" aria-label={`Copy ${number}`}>
      <h3>Copy {number}</h3>
      <div className="two">
        {axes.map(({ axis, label }) => (
          <QuantityField
            key={axis}
            label={label}
            kind="length"
            valueSi={at[axis]}
            units={['mm', 'in']}
            limits={axis === 2 ? { low: 0, high: tank.levelM } : { low: -reachM[axis]!, high: reachM[axis]! }}
            onChange={(value) => value !== null && place(axis, value)}
          />
        ))}
      </div>
      {size.depthM === undefined ? null : (
        <p>
          It hangs {depthText(size.depthM, system)} deep, its mark at the level: the lowest point{' '}
          {formatQuantity('length', at[2], system, 3).text} above the floor. Another depth: at Part.
        </p>
      )}
      <div className="choices">
        <ActionButton look="small" onPress={() => turn(1)}>
          Turn left a quarter
        </ActionButton>
        <ActionButton look="small" onPress={() => turn(-1)}>
          Turn right a quarter
        </ActionButton>
        <ActionButton
          look="small"
          onPress={() =>
            editJob(store, `Take out copy ${number}`, (now) => removePlacement(now, placement.id))
          }
        >
          Take it out
        </ActionButton>
      </div>
      <table className="plain tight" aria-label={`Smallest distances of copy ${number}`}>
        <thead>
          <tr>
            <th scope="col">To</th>
            <th scope="col">Distance</th>
            <th scope="col">How it is</th>
          </tr>
        </thead>
        <tbody>
          {own.map((clearance) => {
            const level = levelOfClearance(clearance, findings);
            return (
              <tr key={clearance.to}>
                <th scope="row">{NEIGHBOUR_WORDS[clearance.to]}</th>
                <td>{formatQuantity('length', clearance.distanceM.valueSi, system, 3).text}</td>
                <td className={level === 'ok' ? '' : `level-${level}`}>{LEVEL_WORDS[level]}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="soft">Exact between the surfaces as they hang.</p>
      {swing ? <p>{swingText(swing, swings, own, system)}</p> : null}
    </section>
  );
}

/** Whether a copy can swing into a sheet, a wall or its neighbour, with the room that is left. */
function swingText(
  { reachM, held, hits }: PlacementSwing,
  swings: readonly PlacementSwing[],
  own: readonly Clearance[],
  system: UnitSystem,
): string {
  const length = (metres: number): string => formatQuantity('length', metres, system, 2).text;
  const rooms = own.flatMap(({ to, toId, distanceM }) => {
    if (to !== 'cathode' && to !== 'wall' && to !== 'part') return [];
    const what = to === 'part' ? 'the next part, which swings as well' : `the ${to}`;
    if (hits.some((hit) => hit.to === to)) return `can hit ${what}`;
    const its = to === 'part' ? (swings.find(({ placementId }) => placementId === toId)?.reachM ?? 0) : 0;
    const left = distanceM.valueSi - reachM - its;
    return left > 0 ? `keeps ${length(left)} to ${what}` : `passes ${what}`;
  });
  const ways = held ? 'across its bar, held along it by its wires' : 'every way';
  const text = `Stirred, it swings by up to ${length(reachM)} ${ways}`;
  return rooms.length > 0 ? `${text}; it ${rooms.join(' and ')}.` : `${text}.`;
}
