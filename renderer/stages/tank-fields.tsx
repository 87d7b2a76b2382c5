import { Input, Label, TextField } from 'react-aria-components';
import type { JobTank } from '../../core/job/job-tank.ts';
import type { Tank } from '../../core/racking/tank.ts';
import { useApp, useServices } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { editTank } from '../state/edit-tank.ts';
import { firstTank } from '../../core/job/first-tank.ts';
import { resizeTank } from '../../core/job/resize-tank.ts';
import { tankFloorAreaM2 } from '../../core/racking/cathode-shape.ts';
import { fromUnit, unitBySymbol } from '../../core/units/find-unit.ts';
import { formatIn, preferredUnit, readableUnit } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { addBar, addSheet } from '../../core/job/more-in-tank.ts';
import { BarFields } from './tank-bar-fields.tsx';
import { Length } from './tank-length.tsx';
import { SheetFields } from './tank-sheet-fields.tsx';

/** "800 × 500 × 420 mm, 148 L". */
const sizeText = (tank: Tank, system: UnitSystem): string => {
  const { vessel } = tank;
  const unit = preferredUnit('length', system);
  const size = (metres: number): string =>
    unit === 'mm' ? (1000 * metres).toFixed(0) : formatIn('length', metres, unit, 3).number;
  const sizes =
    vessel.shape === 'box'
      ? `${size(vessel.lengthM)} × ${size(vessel.widthM)} × ${size(vessel.heightM)} ${unit}`
      : `⌀ ${size(vessel.diameterM)} × ${size(vessel.heightM)} ${unit}`;
  return `${sizes}, ${fillText(tank, system)}`;
};
const fillText = (tank: Tank, system: UnitSystem): string =>
  bathVolumeText(tankFloorAreaM2(tank) * tank.levelM, system);

/** A level is set to a few millimetres: whole units, and a tenth below ten of them. */
function bathVolumeText(volumeM3: number, system: UnitSystem): string {
  const unit = readableUnit('volume', volumeM3, system);
  const whole = Math.floor(Math.log10(Math.abs(fromUnit(volumeM3, unitBySymbol('volume', unit))))) + 1;
  return formatIn('volume', volumeM3, unit, Math.max(2, whole)).text;
}

/** The tank itself: vessel, level, sheets, bars. All sizes are inside sizes. */
export function TankFields({ tank: { tank, shopTankId } }: { tank: JobTank }) {
  const services = useServices();
  const system = useApp((state) => state.unitSystem);
  const hangs = useApp((state) => jobOf(state).placements.length > 0);
  const change = (label: string, next: (tank: Tank) => Tank, key: string): void =>
    editTank(services, label, (now) => ({ ...now, tank: next(now.tank) }), `tank-${key}`);
  const { vessel } = tank;
  const setVessel = (next: Partial<Record<'lengthM' | 'widthM' | 'heightM' | 'diameterM', number>>): void =>
    change(
      'Tank size',
      (now) => resizeTank(now, { ...now.vessel, ...next } as Tank['vessel']),
      Object.keys(next).join(),
    );
  /** Sheets and bars of one shape make no sense in the other. */
  const setShape = (shape: 'box' | 'round'): void =>
    change('Tank shape', (now) => ({ ...firstTank(shape).tank, name: now.name }), 'shape');
  return (
    <>
      <DisclosureSection
        title="Vessel and level"
        state={sizeText(tank, system)}
        open={shopTankId === null && !hangs}
      >
        <TextField
          className="field"
          value={tank.name}
          onChange={(name) => name.trim() !== '' && change('Tank name', (now) => ({ ...now, name }), 'name')}
        >
          <Label>Name of the tank</Label>
          <Input />
        </TextField>
        <ChoiceRow
          label="Shape of the tank"
          choices={[
            { id: 'box', label: 'Box' },
            { id: 'round', label: 'Round tub' },
          ]}
          chosen={vessel.shape}
          onChoose={(shape) => shape !== vessel.shape && setShape(shape)}
        />
        <div className="two">
          {vessel.shape === 'box' ? (
            <>
              <Length
                label="Length inside (x)"
                value={vessel.lengthM}
                low={0.05}
                high={20}
                onChange={(lengthM) => setVessel({ lengthM })}
              />
              <Length
                label="Width inside (y)"
                value={vessel.widthM}
                low={0.05}
                high={20}
                onChange={(widthM) => setVessel({ widthM })}
              />
            </>
          ) : (
            <Length
              label="Diameter inside"
              value={vessel.diameterM}
              low={0.05}
              high={20}
              onChange={(diameterM) => setVessel({ diameterM })}
            />
          )}
          <Length
            label="Height inside"
            value={vessel.heightM}
            low={0.05}
            high={20}
            onChange={(heightM) => setVessel({ heightM })}
          />
          <Length
            label="Liquid above the floor"
            value={tank.levelM}
            low={0.02}
            high={vessel.heightM}
            onChange={(levelM) => change('Level', (now) => ({ ...now, levelM }), 'level')}
          />
        </div>
        <p>
          Filled to there it holds <strong>{fillText(tank, system)}</strong>.
        </p>
      </DisclosureSection>
      <DisclosureSection
        title="Cathode sheets"
        state={tank.cathodes.length === 1 ? '1 sheet' : `${tank.cathodes.length} sheets`}
      >
        {tank.cathodes.map((sheet, index) => (
          <SheetFields
            key={sheet.id}
            tank={tank}
            sheet={sheet}
            number={index + 1}
            onChange={(next, key) =>
              change(
                `Sheet ${index + 1}`,
                (now) => ({
                  ...now,
                  cathodes: now.cathodes.map((other) => (other.id === sheet.id ? next : other)),
                }),
                `${sheet.id}-${key}`,
              )
            }
            onRemove={() =>
              change(
                `Remove sheet ${index + 1}`,
                (now) => ({ ...now, cathodes: now.cathodes.filter(({ id }) => id !== sheet.id) }),
                `remove-${sheet.id}`,
              )
            }
          />
        ))}
        {tank.cathodes.some(({ material }) => material === 'lead') ? (
          <MessageCard
            level="check"
            message="Lead and its oxide are poisonous, and bath that stood over lead holds some."
            remedy="Wear gloves when handling the sheets, wash hands, and hand used bath and sheets to a licensed disposer."
          />
        ) : null}
        <ActionButton onPress={() => change('Add a sheet', addSheet, `add-${tank.cathodes.length}`)}>
          Add a sheet
        </ActionButton>
      </DisclosureSection>
      <DisclosureSection title="Bars" state={tank.bars.length === 1 ? '1 bar' : `${tank.bars.length} bars`}>
        {tank.bars.map((bar, index) => (
          <BarFields
            key={bar.id}
            bar={bar}
            number={index + 1}
            onChange={(next, key) =>
              change(
                `Bar ${index + 1}`,
                (now) => ({ ...now, bars: now.bars.map((other) => (other.id === bar.id ? next : other)) }),
                `${bar.id}-${key}`,
              )
            }
            onRemove={() =>
              change(
                `Remove bar ${index + 1}`,
                (now) => ({ ...now, bars: now.bars.filter(({ id }) => id !== bar.id) }),
                `remove-${bar.id}`,
              )
            }
          />
        ))}
        <ActionButton onPress={() => change('Add a bar', addBar, `add-bar-${tank.bars.length}`)}>
          Add a bar
        </ActionButton>
      </DisclosureSection>
    </>
  );
}
