import type { JobTank } from '../../core/job/job-tank.ts';
import type { TankRules } from '../../core/racking/tank.ts';
import type { QuantityKind } from '../../core/units/unit-table.ts';
import { useApp, useServices } from '../app/services.ts';
import { editTank } from '../state/edit-tank.ts';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

const FIELDS: readonly {
  readonly field: keyof TankRules;
  readonly label: string;
  readonly kind: QuantityKind;
  readonly high: number;
}[] = [
  { field: 'partToCathodeM', label: 'Part to cathode', kind: 'length', high: 2 },
  { field: 'partToWallM', label: 'Part to wall', kind: 'length', high: 1 },
  { field: 'partToFloorM', label: 'Part to floor', kind: 'length', high: 1 },
  { field: 'partToSurfaceM', label: 'Liquid over the part', kind: 'length', high: 1 },
  { field: 'partToPartM', label: 'Part to part', kind: 'length', high: 1 },
];

/** Clearances the shop keeps, and how much cathode a load wants. */
export function RulesSection({ tank }: { tank: JobTank }) {
  const services = useServices();
  const system = useApp((state) => state.unitSystem);
  const { rules } = tank;
  const change = (field: keyof TankRules, label: string, value: number): void =>
    editTank(
      services,
      label,
      (now) => ({ ...now, rules: { ...now.rules, [field]: value } }),
      `tank-rule-${field}`,
    );
  return (
    <DisclosureSection title="Clearances you keep">
      <div className="two">
        {FIELDS.map(({ field, label, kind, high }) => (
          <QuantityField
            key={field}
            label={label}
            kind={kind}
            valueSi={rules[field]}
            units={['mm', 'in']}
            limits={{ low: 0, high }}
            onChange={(value) => value !== null && change(field, label, value)}
          />
        ))}
        <QuantityField
          label="Cathode area over part area, at least"
          kind="count"
          valueSi={rules.cathodeRatioLow}
          units={['', '']}
          limits={{ low: 0.01, high: rules.cathodeRatioHigh }}
          onChange={(value) => value !== null && change('cathodeRatioLow', 'Least cathode', value)}
        />
        <QuantityField
          label="Cathode area over part area, at most"
          kind="count"
          valueSi={rules.cathodeRatioHigh}
          units={['', '']}
          limits={{ low: rules.cathodeRatioLow, high: 100 }}
          onChange={(value) => value !== null && change('cathodeRatioHigh', 'Most cathode', value)}
        />
      </div>
      <p className="soft">
        {system === 'metric' ? '150-300 mm' : '6-12 in'} to the cathode and one part of cathode to three of
        work are usual for sulfuric acid; 1 : 5 to 1 : 1 are met.
      </p>
    </DisclosureSection>
  );
}
