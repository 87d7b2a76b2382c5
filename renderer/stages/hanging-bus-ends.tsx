import { changeHangingRules } from '../../core/job/edit-hanging.ts';
import {
  FIRST_BUS_END,
  HANGER_MATERIALS,
  type BusEnd,
  type HangerMaterial,
} from '../../core/job/job-hanging.ts';
import { wettedBusEnds } from '../../core/racking/bus-ends.ts';
import { formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp, useServices } from '../app/services.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** Bars and spines of the rack that dip into the bath: aluminium takes its share of current in every load. */
export function BusEndsSection() {
  const { store } = useServices();
  const { busEnds } = useApp(jobOf).hanging;
  const system = useApp((state) => state.unitSystem);
  const put = (next: readonly BusEnd[], what: string, mergeKey = ''): void =>
    editJob(store, what, (job) => changeHangingRules(job, { busEnds: [...next] }), mergeKey);
  const areaM2 = wettedBusEnds(busEnds).areaM2;
  return (
    <DisclosureSection
      title="Bus ends in the bath"
      state={busEnds.length === 0 ? 'none' : `${formatQuantity('area', areaM2, system).text} in each load`}
    >
      <p className="soft">
        A bar or spine whose end dips below the level. Aluminium is coated and takes current with every load;
        titanium takes none. Copper and steel must stay above the level: the acid eats them.
      </p>
      {busEnds.map((end, index) => (
        <BusEndFields
          key={index}
          end={end}
          number={index + 1}
          onChange={(change, what) =>
            put(
              busEnds.map((other, i) => (i === index ? { ...other, ...change } : other)),
              `Bus end: ${what}`,
              `bus-end-${index}-${what}`,
            )
          }
          onRemove={() =>
            put(
              busEnds.filter((_, i) => i !== index),
              'Remove a bus end',
            )
          }
        />
      ))}
      {busEnds.length < 10 ? (
        <ActionButton onPress={() => put([...busEnds, FIRST_BUS_END], 'Add a bus end')}>
          Add a bus end
        </ActionButton>
      ) : null}
    </DisclosureSection>
  );
}

interface BusEndFieldsProps {
  readonly end: BusEnd;
  readonly number: number;
  readonly onChange: (change: Partial<BusEnd>, what: string) => void;
  readonly onRemove: () => void;
}

function BusEndFields({ end, number, onChange, onRemove }: BusEndFieldsProps) {
  const isFlat = end.thicknessM !== null;
  return (
    <section className="stack pin-card" aria-label={`Bus end ${number}`}>
      <ChooseFrom
        label={`Bus end ${number}`}
        options={HANGER_MATERIALS.map((material) => ({ id: material, label: material }))}
        chosen={end.material}
        onChoose={(material: HangerMaterial) => onChange({ material }, 'material')}
      />
      <ChoiceRow
        label="Section"
        choices={[
          { id: 'flat', label: 'flat' },
          { id: 'round', label: 'round' },
        ]}
        chosen={isFlat ? 'flat' : 'round'}
        onChoose={(section) =>
          onChange({ thicknessM: section === 'flat' ? FIRST_BUS_END.thicknessM : null }, 'section')
        }
      />
      <div className="two">
        <QuantityField
          label={isFlat ? 'Width' : 'Across'}
          kind="length"
          valueSi={end.widthM}
          units={['mm', 'in']}
          limits={{ low: 1e-3, high: 0.5 }}
          onChange={(value) => value !== null && onChange({ widthM: value }, 'width')}
        />
        {end.thicknessM !== null ? (
          <QuantityField
            label="Thickness"
            kind="length"
            valueSi={end.thicknessM}
            units={['mm', 'in']}
            limits={{ low: 0.5e-3, high: 0.5 }}
            onChange={(value) => value !== null && onChange({ thicknessM: value }, 'thickness')}
          />
        ) : null}
        <QuantityField
          label="Below the level"
          kind="length"
          valueSi={end.lengthBelowM}
          units={['mm', 'in']}
          limits={{ low: 1e-3, high: 3 }}
          onChange={(value) => value !== null && onChange({ lengthBelowM: value }, 'length')}
        />
        <QuantityField
          label="How many"
          kind="count"
          valueSi={end.count}
          units={['', '']}
          limits={{ low: 1, high: 100 }}
          wholeNumber
          onChange={(value) => value !== null && onChange({ count: value }, 'count')}
        />
      </div>
      <ActionButton look="small" onPress={onRemove}>
        Remove bus end {number}
      </ActionButton>
    </section>
  );
}
