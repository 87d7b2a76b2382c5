import { Input, Label, TextField } from 'react-aria-components';
import type { JobTank } from '../../core/job/job-tank.ts';
import {
  CATHODE_MATERIALS,
  type BusBar,
  type CathodeMaterial,
  type CathodePlace,
  type CathodeSheet,
  type Tank,
} from '../../core/racking/tank.ts';
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
import { CheckBox } from '../widgets/check-box.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

interface LengthProps {
  readonly label: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly onChange: (value: number) => void;
}

function Length({ label, value, low, high, onChange }: LengthProps) {
  return (
    <QuantityField
      label={label}
      kind="length"
      valueSi={value}
      units={['mm', 'in']}
      limits={{ low, high }}
      onChange={(next) => next !== null && onChange(next)}
    />
  );
}

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

const freeId = (word: string, taken: readonly { readonly id: string }[]): string => {
  let number = taken.length + 1;
  while (taken.some(({ id }) => id === `${word}-${number}`)) number++;
  return `${word}-${number}`;
};

/** Like the last one, on the wall that has none yet. */
function addSheet(tank: Tank): Tank {
  const id = freeId('sheet', tank.cathodes);
  const like = tank.cathodes.at(-1) ?? firstTank(tank.vessel.shape).tank.cathodes[0]!;
  const walls = ['y-', 'y+', 'x-', 'x+'] as const;
  const free = walls.find(
    (wall) => !tank.cathodes.some(({ place }) => place.on === 'wall' && place.wall === wall),
  );
  const place: CathodePlace =
    like.place.on === 'round'
      ? { on: 'round', angleRad: like.place.angleRad + Math.PI / 2 }
      : { on: 'wall', wall: free ?? 'y-', alongM: 0 };
  return { ...tank, cathodes: [...tank.cathodes, { ...like, id, place }] };
}

function addBar(tank: Tank): Tank {
  const id = freeId('bar', tank.bars);
  const like = tank.bars.at(-1) ?? firstTank(tank.vessel.shape).tank.bars[0]!;
  return { ...tank, bars: [...tank.bars, { ...like, id, acrossM: like.acrossM + 0.15 }] };
}

const WALL_WORDS = {
  'x-': 'left end (x−)',
  'x+': 'right end (x+)',
  'y-': 'front (y−)',
  'y+': 'back (y+)',
} as const;

interface SheetFieldsProps {
  readonly tank: Tank;
  readonly sheet: CathodeSheet;
  readonly number: number;
  readonly onChange: (next: CathodeSheet, key: string) => void;
  readonly onRemove: () => void;
}

function SheetFields({ tank, sheet, number, onChange, onRemove }: SheetFieldsProps) {
  const { place } = sheet;
  const set = (next: Partial<CathodeSheet>): void =>
    onChange({ ...sheet, ...next }, Object.keys(next).join());
  const across =
    tank.vessel.shape === 'round' ? tank.vessel.diameterM : Math.min(tank.vessel.lengthM, tank.vessel.widthM);
  return (
    <section className="pin-card" aria-label={`Sheet ${number}`}>
      <div className="row">
        <h4 className="grow">Sheet {number}</h4>
        <ActionButton look="small" aria-label={`Remove sheet ${number}`} onPress={onRemove}>
          Remove
        </ActionButton>
      </div>
      <ChooseFrom
        label={`Metal of sheet ${number}`}
        options={CATHODE_MATERIALS.map((material) => ({ id: material, label: material }))}
        chosen={sheet.material}
        onChoose={(material: CathodeMaterial) => set({ material })}
      />
      {place.on === 'wall' ? (
        <ChooseFrom
          label={`Wall of sheet ${number}`}
          options={Object.entries(WALL_WORDS).map(([id, label]) => ({
            id: id as keyof typeof WALL_WORDS,
            label,
          }))}
          chosen={place.wall}
          onChoose={(wall) => set({ place: { ...place, wall } })}
        />
      ) : (
        <QuantityField
          label="Its middle, from x towards y"
          kind="angle"
          valueSi={place.angleRad}
          units={['°', '°']}
          limits={{ low: -Math.PI, high: 2 * Math.PI }}
          onChange={(angleRad) => angleRad !== null && set({ place: { ...place, angleRad } })}
        />
      )}
      <div className="two">
        <Length
          label="Width"
          value={sheet.widthM}
          low={0.01}
          high={20}
          onChange={(widthM) => set({ widthM })}
        />
        <Length
          label="Height"
          value={sheet.heightM}
          low={0.01}
          high={20}
          onChange={(heightM) => set({ heightM })}
        />
        <Length
          label="Lower edge above floor"
          value={sheet.bottomM}
          low={0}
          high={5}
          onChange={(bottomM) => set({ bottomM })}
        />
        <Length
          label="Thickness"
          value={sheet.thicknessM}
          low={0.0002}
          high={0.4 * across}
          onChange={(thicknessM) => set({ thicknessM })}
        />
        <Length
          label="Off the wall"
          value={sheet.standoffM}
          low={0}
          high={0.4 * across - sheet.thicknessM}
          onChange={(standoffM) => set({ standoffM })}
        />
        {place.on === 'wall' ? (
          <Length
            label="Middle along the wall"
            value={place.alongM}
            low={-10}
            high={10}
            onChange={(alongM) => set({ place: { ...place, alongM } })}
          />
        ) : null}
      </div>
      <CheckBox isOn={sheet.backWorks} onChange={(backWorks) => set({ backWorks })}>
        Its back works too: it stands free of the wall
      </CheckBox>
    </section>
  );
}

interface BarFieldsProps {
  readonly bar: BusBar;
  readonly number: number;
  readonly onChange: (next: BusBar, key: string) => void;
  readonly onRemove: () => void;
}

function BarFields({ bar, number, onChange, onRemove }: BarFieldsProps) {
  const set = (next: Partial<BusBar>): void => onChange({ ...bar, ...next }, Object.keys(next).join());
  return (
    <section className="pin-card" aria-label={`Bar ${number}`}>
      <div className="row">
        <h4 className="grow">Bar {number}</h4>
        <ActionButton look="small" aria-label={`Remove bar ${number}`} onPress={onRemove}>
          Remove
        </ActionButton>
      </div>
      <ChoiceRow
        label={`What bar ${number} carries`}
        choices={[
          { id: 'work', label: 'Parts (plus)' },
          { id: 'cathode', label: 'Cathodes (minus)' },
        ]}
        chosen={bar.role}
        onChoose={(role) => set({ role })}
      />
      <ChoiceRow
        label={`Which way bar ${number} runs`}
        choices={[
          { id: 'x', label: 'Along (x)' },
          { id: 'y', label: 'Across (y)' },
        ]}
        chosen={bar.along}
        onChoose={(along) => set({ along })}
      />
      <div className="two">
        <Length
          label={bar.along === 'x' ? 'At y' : 'At x'}
          value={bar.acrossM}
          low={-10}
          high={10}
          onChange={(acrossM) => set({ acrossM })}
        />
        <Length
          label="Underside above floor"
          value={bar.heightM}
          low={0.05}
          high={20}
          onChange={(heightM) => set({ heightM })}
        />
        <Length
          label={`From ${bar.along}`}
          value={bar.fromM}
          low={-10}
          high={bar.toM}
          onChange={(fromM) => set({ fromM })}
        />
        <Length
          label={`To ${bar.along}`}
          value={bar.toM}
          low={bar.fromM}
          high={10}
          onChange={(toM) => set({ toM })}
        />
      </div>
    </section>
  );
}
