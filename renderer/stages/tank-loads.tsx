import type { HangingLoad } from '../../core/racking/pack-hanging-loads.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { hangLoad } from '../state/edit-tank.ts';
import { ActionButton } from '../widgets/action-button.tsx';

/** The loads that fit, what limits each, and a button that hangs one. */
export function LoadSection() {
  const services = useServices();
  const plan = useDerived((derived) => derived.tank.plan);
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  if (plan === null) return <p className="soft">Open a part first; the loads follow from it.</p>;
  // What keeps a plan from being made is said with the messages.
  if (!plan.ok) return null;
  const { loads, provenFewest, fewestPossible } = plan.value.hanging;
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
          {provenFewest
            ? 'fewer are not possible'
            : `at least ${fewestPossible} needed, fewer than ${loads.length} not found`}
        </span>
      </h3>
      <ol className="loads">
        {loads.map((load, index) => (
          <li key={index}>
            <div className="row">
              <strong className="grow">
                {index + 1}: {pieces(load)}
              </strong>
              <ActionButton look="small" onPress={() => hangLoad(services, index)}>
                Hang load {index + 1}
              </ActionButton>
            </div>
            <div className="soft">
              {formatQuantity('area', load.areaM2, system).text},{' '}
              {formatIn('current', load.currentA, 'A').text}. {load.text}
            </div>
          </li>
        ))}
      </ol>
    </section>
  );
}
