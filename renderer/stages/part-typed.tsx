import type { Part } from '../../core/job/job.ts';
import { setTypedArea } from '../../core/job/edit-surface.ts';
import { editJob } from '../state/app-store.ts';
import { useServices } from '../app/services.ts';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** A part of which only the area is known. */
export function PartTyped({ part, areaM2 }: { part: Part; areaM2: number }) {
  const { store } = useServices();
  return (
    <section className="stack" aria-label="Typed area">
      <QuantityField
        label="Area of one piece that is coated"
        kind="area"
        valueSi={areaM2}
        units={['cm²', 'in²']}
        limits={{ low: 1e-6, high: 100 }}
        onChange={(area) =>
          area !== null &&
          editJob(store, 'Typed area', (job) => setTypedArea(job, part.id, area), `typed-${part.id}`)
        }
      />
      <p className="soft">
        Every figure that rests on it is marked. Count inner walls and both sides of a sheet; leave out what
        is masked or clamped. Without a model there is no view, no hanging and no thickness map for this part.
      </p>
    </section>
  );
}
