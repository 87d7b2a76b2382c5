import type { Part } from '../../core/job/job.ts';
import { setAttitude } from '../../core/job/edit-hanging.ts';
import type { PartHangingPlan } from '../../core/job/hanging-plan.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { PART_AXES } from '../../core/racking/hang-part.ts';
import type { AttitudeScore } from '../../core/racking/search-attitudes.ts';
import { angleBetween, unit, type Vec3 } from '../../core/racking/vec3.ts';
import { formatQuantity, sayQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useDerived, useHanging, useServices } from '../app/services.ts';
import { editJob } from '../state/app-store.ts';
import { plugsOfPart } from '../state/plugs-of-part.ts';
import { SEARCHED_DIRECTIONS, searchAttitudesOf, searchKey } from '../state/search-attitudes.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { AttitudeMap } from './attitude-map.tsx';

const AXIS_WORDS = ['Z up', 'Z down', 'Y up', 'Y down', 'X up', 'X down'];
const MOST_LISTED = 6;

/** Between −180° and 180°, to a millionth of a degree. */
const halfTurns = (rad: number): number => {
  const turned = Math.atan2(Math.sin(rad), Math.cos(rad));
  return Math.abs(turned) < 1e-8 ? 0 : turned;
};

const directionText = (up: Vec3): string =>
  unit(up)
    .map((value) => (Math.abs(value) < 5e-3 ? 0 : value).toFixed(2))
    .join(', ');

/** Which way round the part hangs: what it traps so, and the ways that trap least. */
export function AttitudeSection({ part, plan }: { part: Part; plan: PartHangingPlan }) {
  const { store } = useServices();
  const take = (up: Vec3): void =>
    editJob(store, 'Attitude', (job) =>
      setAttitude(job, part.id, { ...part.attitude, up: [up[0], up[1], up[2]] }),
    );
  const turn = (rad: number): void =>
    editJob(
      store,
      'Turn in the tank',
      (job) => setAttitude(job, part.id, { ...part.attitude, turnRad: halfTurns(rad) }),
      'turn-in-tank',
    );
  const axis = PART_AXES.findIndex((way) => angleBetween(way, part.attitude.up) < 1e-3);
  return (
    <>
      <p>
        Up in the bath: <strong>{axis >= 0 ? AXIS_WORDS[axis] : directionText(part.attitude.up)}</strong>{' '}
        <span className="soft">in the model’s axes; up in the picture as well</span>
      </p>
      <TrapView plan={plan} />
      <div className="choices" role="group" aria-label="Turn it along an axis">
        {PART_AXES.map((way, index) => (
          <ActionButton
            key={AXIS_WORDS[index]}
            look="small"
            aria-pressed={index === axis}
            onPress={() => take(way)}
          >
            {AXIS_WORDS[index]}
          </ActionButton>
        ))}
      </div>
      <QuantityField
        label="Turned about the upright, in the tank"
        kind="angle"
        units={['°', '°']}
        limits={{ low: -Math.PI, high: Math.PI }}
        valueSi={part.attitude.turnRad}
        onChange={(value) => value !== null && turn(value)}
      />
      <div className="choices" role="group" aria-label="Turn it about the upright">
        {[-90, -15, 15, 90].map((step) => (
          <ActionButton
            key={step}
            look="small"
            onPress={() => turn(part.attitude.turnRad + (step * Math.PI) / 180)}
          >
            {step > 0 ? `↺ ${step}°` : `↻ ${-step}°`}
          </ActionButton>
        ))}
      </div>
      <SearchView part={part} take={take} />
    </>
  );
}

function TrapView({ plan }: { plan: PartHangingPlan }) {
  const system = useApp((state) => state.unitSystem);
  const { traps } = plan;
  if (!traps) return <p className="soft">Gas and liquid are being looked for…</p>;
  const rows = [
    ...traps.gas.map((pocket) => ({ what: 'gas', pocket })),
    ...traps.liquid.map((pocket) => ({ what: 'liquid', pocket })),
  ];
  return (
    <>
      <div className="figure-pair">
        <FigureView figure={traps.gasVolumeM3} size="small" />
        <FigureView figure={traps.gasAreaM2} size="small" />
        <FigureView figure={traps.liquidVolumeM3} size="small" />
        {plan.lift ? <FigureView figure={plan.lift.shareOfWeight} size="small" /> : null}
      </div>
      {rows.length === 0 ? (
        <p className="good">✓ Nothing is trapped this way round.</p>
      ) : (
        <table className="plain tight" aria-label="Pockets">
          <thead>
            <tr>
              <th scope="col">Holds</th>
              <th scope="col">Volume</th>
              <th scope="col">Surface</th>
              <th scope="col">Deep</th>
            </tr>
          </thead>
          <tbody>
            {rows.slice(0, MOST_LISTED).map(({ what, pocket }, index) => (
              <tr key={index}>
                <th scope="row">{what}</th>
                <td>{sayQuantity('volume', pocket.volumeM3.valueSi, system, 'in³', 2)}</td>
                <td>{formatQuantity('area', pocket.areaM2.valueSi, system, 2).text}</td>
                <td>{formatQuantity('length', pocket.depthM.valueSi, system, 2).text}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {plan.plugCount > 0 ? (
        <p className="soft">
          {plan.plugCount === 1 ? 'Its masked bore is' : `Its ${plan.plugCount} masked bores are`} taken as
          plugged: nothing stands in there, and nothing gets out that way.
        </p>
      ) : null}
      {rows.length > MOST_LISTED ? (
        <p className="soft">and {rows.length - MOST_LISTED} smaller ones, marked in the picture</p>
      ) : null}
    </>
  );
}

function SearchView({ part, take }: { part: Part; take: (up: Vec3) => void }) {
  const services = useServices();
  const search = useHanging((state) => state.searches[part.id]);
  const system = useApp((state) => state.unitSystem);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const key = useDerived((derived) =>
    search?.state === 'done' && geometry
      ? searchKey(part, geometry, plugsOfPart(derived, part, geometry))
      : null,
  );
  const scale = metresPerUnit(part.unit);
  const describe = (attitude: AttitudeScore): string => {
    const gas = sayQuantity('volume', attitude.gasVolume * scale ** 3, system, 'in³', 2);
    const liquid = sayQuantity('volume', attitude.liquidVolume * scale ** 3, system, 'in³', 2);
    return `Score ${attitude.score.toFixed(0)}: gas ${gas}, liquid ${liquid}; up ${directionText(attitude.up)}. ${attitude.reasons.join(' ')}`;
  };
  if (search?.state === 'running') {
    return (
      <div className="stack">
        <progress
          aria-label="Looking at attitudes"
          max={1}
          {...(search.fraction === null ? {} : { value: search.fraction })}
        />
        <ActionButton onPress={search.cancel}>Stop looking</ActionButton>
      </div>
    );
  }
  const done = search?.state === 'done' && search.key === key ? search.search : null;
  return (
    <>
      {search?.state === 'failed' ? (
        <MessageCard level="check" message={search.failure.message} remedy={search.failure.remedy} />
      ) : null}
      <ActionButton look={done ? 'plain' : 'main'} onPress={() => void searchAttitudesOf(services, part.id)}>
        {done ? 'Look again' : `Look at ${SEARCHED_DIRECTIONS} attitudes…`}
      </ActionButton>
      {done ? (
        <>
          {done.distinct.length > 0 ? (
            <ol className="attitude-list" aria-label="Attitudes that trap least">
              {done.distinct.slice(0, 4).map((attitude) => (
                <li key={attitude.up.join()}>
                  <ActionButton look="small" onPress={() => take(attitude.up)}>
                    Take
                    <span className="visually-hidden">
                      {' '}
                      the attitude with up {directionText(attitude.up)}
                    </span>
                  </ActionButton>
                  <span>
                    <strong>{attitude.score.toFixed(0)}</strong> of 100, up {directionText(attitude.up)}.{' '}
                    {attitude.reasons.join(' ')}
                  </span>
                </li>
              ))}
            </ol>
          ) : (
            <MessageCard
              level="check"
              message="No attitude suits all pins: their hangers would have to leave in opposite directions."
              remedy="Move or remove a pin, then look again."
            />
          )}
          <AttitudeMap search={done} now={part.attitude.up} describe={describe} onTake={take} />
        </>
      ) : null}
    </>
  );
}
