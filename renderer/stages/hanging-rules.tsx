import { changeHangingRules } from '../../core/job/edit-hanging.ts';
import type { HangingRules } from '../../core/job/job-hanging.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { useApp, useServices } from '../app/services.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

const FIELDS: readonly {
  readonly field: Exclude<keyof HangingRules, 'busEnds'>;
  readonly label: string;
  readonly kind: QuantityKind;
  readonly units: readonly [string, string];
  readonly limits: { readonly low: number; readonly high: number };
}[] = [
  {
    field: 'allowedRiseK',
    label: 'Dry wire may get warmer than the room by',
    kind: 'temperatureDifference',
    units: ['K', '°F'],
    limits: { low: 1, high: 200 },
  },
  {
    field: 'allowedDropV',
    label: 'Hangers may lose',
    kind: 'voltage',
    units: ['V', 'V'],
    limits: { low: 0.01, high: 5 },
  },
  {
    field: 'clampForceN',
    label: 'Force of one clamp',
    kind: 'force',
    units: ['N', 'lbf'],
    limits: { low: 1, high: 2000 },
  },
  {
    field: 'swingRad',
    label: 'Parts swing to each side by',
    kind: 'angle',
    units: ['°', '°'],
    limits: { low: 0, high: Math.PI / 4 },
  },
];

/** What is allowed of all hangers; usual values that a shop may know better. */
export function HangingRulesSection() {
  const { store } = useServices();
  const rules = useApp(jobOf).hanging;
  return (
    <DisclosureSection title="What you allow">
      {FIELDS.map(({ field, label, kind, units, limits }) => (
        <QuantityField
          key={field}
          label={label}
          kind={kind}
          units={units}
          limits={limits}
          valueSi={rules[field]}
          onChange={(value) =>
            value !== null &&
            editJob(store, label, (job) => changeHangingRules(job, { [field]: value }), `hanging-${field}`)
          }
        />
      ))}
    </DisclosureSection>
  );
}
