import { changeFinishSection } from '../../core/job/edit-wet.ts';
import type { Finish } from '../../core/job/job-finish.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { QuantityField } from '../widgets/quantity-field.tsx';

type Section = 'etch' | 'dye' | 'seal' | 'strip';
type NumberIn<T> = { [K in keyof T]: T[K] extends number | null ? K : never }[keyof T] & string;

interface FinishFieldProps<S extends Section> {
  readonly section: S;
  readonly field: NumberIn<Finish[S]>;
  readonly label: string;
  readonly kind: QuantityKind;
  readonly units: readonly [string, string];
  readonly limits: { readonly low: number; readonly high: number };
  /** Only for a field that may be empty. */
  readonly emptyMeans?: string;
  readonly wholeNumber?: boolean;
}

/** One number of preparation, dye, seal or strip, typed. */
export function FinishField<S extends Section>({ section, field, ...spec }: FinishFieldProps<S>) {
  const { store } = useServices();
  const value = useApp((state) => jobOf(state).finish[section][field]) as number | null;
  return (
    <QuantityField
      {...spec}
      valueSi={value}
      onChange={(typed) => {
        if (typed === null && spec.emptyMeans === undefined) return;
        editJob(
          store,
          spec.label,
          (job) => changeFinishSection(job, section, { [field]: typed } as unknown as Partial<Finish[S]>),
          `${section}-${field}`,
        );
      }}
    />
  );
}
