import { useEffect, useRef } from 'react';
import type { Part } from '../../core/job/job.ts';
import { setTypedArea } from '../../core/job/edit-surface.ts';
import { editJob } from '../state/app-store.ts';
import { addTypedPart } from '../state/new-part.ts';
import { useServices } from '../app/services.ts';
import { QuantityField } from '../widgets/quantity-field.tsx';

const AREA = { kind: 'area', units: ['cm²', 'in²'], limits: { low: 1e-6, high: 100 } } as const;

/** Asks for the area first: no part comes into the job with one that nobody typed. */
export function NewTypedPart({ onAdded }: { onAdded: () => void }) {
  const services = useServices();
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => box.current?.querySelector('input')?.focus(), []);
  return (
    <div ref={box}>
      <QuantityField
        {...AREA}
        label="Coated area of one piece of the new part"
        valueSi={null}
        onChange={(areaM2) => {
          if (areaM2 === null) return;
          addTypedPart(services, areaM2);
          onAdded();
        }}
      />
    </div>
  );
}

/** A part of which only the area is known. */
export function PartTyped({ part, areaM2 }: { part: Part; areaM2: number }) {
  const { store } = useServices();
  return (
    <section className="stack" aria-label="Typed area">
      <QuantityField
        {...AREA}
        label="Area of one piece that is coated"
        valueSi={areaM2}
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
