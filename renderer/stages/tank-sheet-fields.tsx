import {
  CATHODE_MATERIALS,
  type CathodeMaterial,
  type CathodeSheet,
  type Tank,
} from '../../core/racking/tank.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { Length } from './tank-length.tsx';

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

/** One cathode sheet: its metal, wall and size. */
export function SheetFields({ tank, sheet, number, onChange, onRemove }: SheetFieldsProps) {
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
