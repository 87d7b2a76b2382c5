import type { Part } from '../../core/job/job.ts';
import { holds, placesOf } from '../../core/job/load-hanging.ts';
import type { HangingLoad } from '../../core/racking/pack-hanging-loads.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { hangLoad, hangSecondRow, keepCloser, turnInTank } from '../state/edit-tank.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

/** The loads that fit, what limits each, and a button that hangs one. */
export function LoadSection() {
  const services = useServices();
  const plan = useDerived((derived) => derived.tank.plan);
  const isPacking = useDerived((derived) => derived.tank.isPacking === true);
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  if (plan === null && isPacking) {
    return (
      <p className="soft" role="status">
        The loads are being packed…
      </p>
    );
  }
  if (plan === null) return <p className="soft">Open a part first; the loads follow from it.</p>;
  // What keeps a plan from being made is said with the messages.
  if (!plan.ok)
    return (
      <>
        <TurnOffer loadsNow={null} />
        <CloserOffer />
      </>
    );
  const { loads, provenFewest, fewestPossible, fewestHoweverHung } = plan.value.hanging;
  const pieces = (load: HangingLoad): string =>
    job.parts
      .map((part, item) => ({ part, count: load.pieces.reduce((sum, bar) => sum + (bar[item] ?? 0), 0) }))
      .filter(({ count }) => count > 0)
      .map(({ part, count }) => `${count} × ${part.name}`)
      .join(', ');
  return (
    <section className="stack" aria-label="Loads">
      <h3>
        {loads.length === 1 ? 'One load' : `${loads.length} loads`}
        <span className="soft">
          {' '}
          ·{' '}
          {isPacking
            ? 'being packed anew…'
            : loads.length <= fewestHoweverHung
              ? 'fewer are not possible'
              : provenFewest
                ? 'no fewer found, turned as they are'
                : `no fewer found; at least ${fewestPossible} needed`}
        </span>
      </h3>
      <TurnOffer loadsNow={loads.length} />
      <RowsOffer loadsNow={loads.length} />
      <ol className="loads">
        {loads.map((load, index) => {
          const { pieces: counts } = plan.value.loads[index]!;
          const hangs = holds(job, job.placements, counts);
          return (
            <li key={index}>
              <div className="row">
                <strong className="grow">
                  {index + 1}: {pieces(load)}
                </strong>
                <ActionButton look="small" isDisabled={isPacking} onPress={() => hangLoad(services, index)}>
                  Hang load {index + 1}
                  {hangs ? ' anew' : ''}
                </ActionButton>
              </div>
              <div className="soft">
                {formatQuantity('area', load.areaM2, system).text},{' '}
                {formatIn('current', load.currentA, 'A').text}. {load.text}
              </div>
              {hangs ? (
                <div className="soft">✓ Hangs in the tank now. Anew spaces it evenly.</div>
              ) : placesOf(job, counts) ? (
                <div className="soft">Kept as it last hung, and hangs so again.</div>
              ) : null}
            </li>
          );
        })}
      </ol>
    </section>
  );
}

/** A quarter turn about the upright that saves loads, or makes the parts fit: offered, with what it changes. */
function TurnOffer({ loadsNow }: { loadsNow: number | null }) {
  const services = useServices();
  const turn = useDerived((derived) => derived.tank.help.turn);
  const job = useApp(jobOf);
  if (!turn) return null;
  const all = namesOf(job.parts, turn.partIds);
  const loads = turn.loads === 1 ? 'one load' : `${turn.loads} loads`;
  return (
    <MessageCard
      level="note"
      message={
        loadsNow === null
          ? `Turned by 90° about the upright ${all} would fit, in ${loads}.`
          : turn.why === 'points'
            ? `As it hangs, the long way of ${all} points at the cathode: its near end coats thicker. Turned by 90° about the upright it lies along the bar, in ${turn.loads < loadsNow ? loads : 'as many loads'}.`
            : `Turned by 90° about the upright (${all}) ${loads} would do instead of ${loadsNow}.`
      }
      remedy="Other sides then face the cathodes, and in a row broad sides shade each other: look at the thickness map before you settle for it."
    >
      <ActionButton look="small" onPress={() => turnInTank(services, turn.partIds)}>
        Turn by 90°
      </ActionButton>
    </MessageCard>
  );
}

/** "all parts", or their names. */
function namesOf(parts: readonly Part[], partIds: readonly string[]): string {
  const names = parts.filter(({ id }) => partIds.includes(id)).map(({ name }) => `“${name}”`);
  return names.length === parts.length && names.length > 1 ? 'all parts' : names.join(', ');
}

/** A smaller distance to the cathode with which everything hangs, with parts turned where that is needed too. */
function CloserOffer() {
  const services = useServices();
  const closer = useDerived((derived) => derived.tank.help.closer);
  const job = useApp(jobOf);
  const keptM = job.tank?.rules.partToCathodeM;
  const system = useApp((state) => state.unitSystem);
  if (!closer || keptM === undefined) return null;
  const length = (metres: number): string => formatQuantity('length', metres, system, 3).text;
  const kept = `With ${length(closer.toM)} kept to the cathode instead of ${length(keptM)}`;
  const isTurned = closer.turned.length > 0;
  const turned = isTurned
    ? `, and ${namesOf(job.parts, closer.turned)} turned by 90° about the upright,`
    : '';
  return (
    <MessageCard
      level="note"
      message={`${kept}${turned} everything fits, in ${closer.loads === 1 ? 'one load' : `${closer.loads} loads`}.`}
      remedy="Nearer to the sheet, the sides that face it coat thicker than the others, and a part that swings may touch it: look at the thickness map before you settle for it."
    >
      <ActionButton look="small" onPress={() => keepCloser(services, closer)}>
        {`Keep ${length(closer.toM)}${isTurned ? ' and turn by 90°' : ''}`}
      </ActionButton>
    </MessageCard>
  );
}

/** A second bar beside each: offered where it saves loads. */
function RowsOffer({ loadsNow }: { loadsNow: number }) {
  const services = useServices();
  const rows = useDerived((derived) => derived.tank.help.rows);
  const system = useApp((state) => state.unitSystem);
  if (!rows) return null;
  const apart = formatQuantity('length', rows.apartM, system, 3).text;
  return (
    <MessageCard
      level="note"
      message={`In two rows, from two bars ${apart} apart instead of one, ${rows.loads === 1 ? 'one load' : `${rows.loads} loads`} would do instead of ${loadsNow}.`}
      remedy="Only with a second bar, or rods across the tank’s rim, in good contact with the supply: each row then sees the sheet on its own side best. Look at the thickness map before you settle for it."
    >
      <ActionButton look="small" onPress={() => hangSecondRow(services, rows.bars)}>
        Add the second bar
      </ActionButton>
    </MessageCard>
  );
}
