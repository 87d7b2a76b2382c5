import { changeBath } from '../../core/job/edit-job.ts';
import type { Bath } from '../../core/job/job-bath.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { bathLimitK } from '../../core/job/bath-start.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** Those fields of the bath that are one number. */
type BathNumber = {
  [K in keyof Bath]: Bath[K] extends number | null ? K : never;
}[keyof Bath];

interface BathFieldSpec {
  readonly label: string;
  readonly kind: QuantityKind;
  readonly units: readonly [string, string];
  readonly limits: { readonly low: number; readonly high: number };
  readonly emptyMeans?: string;
}

const TEMPERATURE = { kind: 'temperature', units: ['°C', '°F'] } as const;

const FIELDS: Readonly<Record<BathNumber, BathFieldSpec>> = {
  temperatureK: { ...TEMPERATURE, label: 'Bath temperature', limits: { low: 263.15, high: 323.15 } },
  acidKgPerM3: {
    label: 'Sulfuric acid in the bath',
    kind: 'massConcentration',
    units: ['g/L', 'g/L'],
    limits: { low: 50, high: 400 },
  },
  volumeM3: {
    label: 'Bath volume',
    kind: 'volume',
    units: ['L', 'US gal'],
    limits: { low: 0.0005, high: 10 },
    emptyMeans: 'the tank’s',
  },
  aluminiumKgPerM3: {
    label: 'Dissolved aluminium',
    kind: 'massConcentration',
    units: ['g/L', 'g/L'],
    limits: { low: 0, high: 50 },
    emptyMeans: 'not known',
  },
  stirringW: {
    label: 'Stirring power that ends in the bath',
    kind: 'power',
    units: ['W', 'W'],
    limits: { low: 0, high: 5000 },
  },
  airK: { ...TEMPERATURE, label: 'Air in the shop', limits: { low: 263.15, high: 318.15 } },
  relativeHumidity: {
    label: 'Humidity of the air',
    kind: 'fraction',
    units: ['%', '%'],
    limits: { low: 0, high: 1 },
  },
  surfaceM2: {
    label: 'Open surface of the bath',
    kind: 'area',
    units: ['cm²', 'in²'],
    limits: { low: 0, high: 100 },
    emptyMeans: 'the tank’s or a cube’s; 0 with a lid',
  },
  wallM2: {
    label: 'Walls and floor that are wet',
    kind: 'area',
    units: ['cm²', 'in²'],
    limits: { low: 0, high: 1000 },
    emptyMeans: 'the tank’s or a cube’s',
  },
  wallWPerM2K: {
    label: 'Heat through the wall, W per m² and K',
    kind: 'count',
    units: ['', ''],
    limits: { low: 0, high: 50 },
  },
  limitK: {
    ...TEMPERATURE,
    label: 'The bath must stay below',
    limits: { low: 263.15, high: 323.15 },
    emptyMeans: 'by the bath',
  },
  iceKg: {
    label: 'Ice put in before the start',
    kind: 'mass',
    units: ['kg', 'lb'],
    limits: { low: 0, high: 1000 },
  },
  chillerW: {
    label: 'Chiller’s cooling power',
    kind: 'power',
    units: ['W', 'W'],
    limits: { low: 0, high: 1e5 },
  },
  chillerSetK: { ...TEMPERATURE, label: 'Chiller set to', limits: { low: 263.15, high: 318.15 } },
  pauseS: {
    label: 'Pause between two runs',
    kind: 'time',
    units: ['min', 'min'],
    limits: { low: 0, high: 86_400 },
  },
};

const NEEDED: ReadonlySet<BathNumber> = new Set(
  (Object.keys(FIELDS) as BathNumber[]).filter((field) => FIELDS[field].emptyMeans === undefined),
);

/** One number of the job's bath, typed. */
export function BathField({ field }: { field: BathNumber }) {
  const { store } = useServices();
  const value = useApp((state) => jobOf(state).bath[field]);
  const ownK = useApp((state) => bathLimitK(changeBath(jobOf(state), { limitK: null })));
  const system = useApp((state) => state.unitSystem);
  const spec =
    field === 'limitK'
      ? {
          ...FIELDS.limitK,
          emptyMeans: `by the bath, ${formatQuantity('temperature', ownK, system, 3).text}`,
        }
      : FIELDS[field];
  return (
    <QuantityField
      {...spec}
      valueSi={value}
      onChange={(typed) => {
        if (typed === null && NEEDED.has(field)) return;
        editJob(store, spec.label, (job) => changeBath(job, { [field]: typed }), `bath-${field}`);
      }}
    />
  );
}
