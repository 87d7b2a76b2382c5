import { DYE_PRACTICE, SHADES, type Shade } from '../../core/reference/dye-practice.ts';
import { jobDyePot } from '../../core/job/finish-plan.ts';
import { changeFinishSection } from '../../core/job/edit-wet.ts';
import type { DyeChoice } from '../../core/job/job-finish.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { hexOfLab, labOfHex } from '../state/dye-accent.ts';
import { useApp, useServices, useShelf } from '../app/services.ts';
import { CheckBox } from '../widgets/check-box.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { ChooseFrom } from '../widgets/choose-from.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';
import { FinishField } from './finish-field.tsx';
import { LabFields } from './lab-fields.tsx';

const SHADE_WORDS: Readonly<Record<Shade, string>> = { pastel: 'Pale', bright: 'Bright', black: 'Black' };

/** Which dye, how strong, how warm, and the colour that is wanted. */
export function FinishDye() {
  const { store } = useServices();
  const dye = useApp(jobOf).finish.dye;
  const change = (label: string, next: Partial<DyeChoice>, key = ''): void =>
    editJob(store, label, (job) => changeFinishSection(job, 'dye', next), key);
  return (
    <>
      <CheckBox isOn={dye.use} onChange={(use) => change(use ? 'Dye' : 'No dye', { use })}>
        Dye this job
      </CheckBox>
      {dye.use ? <DyeSettings dye={dye} change={change} /> : null}
    </>
  );
}

interface DyeSettingsProps {
  readonly dye: DyeChoice;
  readonly change: (label: string, next: Partial<DyeChoice>, key?: string) => void;
}

function DyeSettings({ dye, change }: DyeSettingsProps) {
  const { store, wetShop } = useServices();
  const job = useApp(jobOf);
  const onPart = useApp((state) => state.dyeOnPart);
  const { records } = useShelf(wetShop.dyes);
  const system = useApp((state) => state.unitSystem);
  const pot = jobDyePot(job);
  return (
    <>
      {records.length > 0 ? (
        <ChooseFrom
          label="Dye of the shop’s book"
          options={[
            { id: '', label: 'another one' },
            ...records.map(({ id, name }) => ({ id, label: name })),
          ]}
          chosen={records.some(({ id }) => id === dye.shopDyeId) ? dye.shopDyeId! : ''}
          onChoose={(id) => {
            const record = records.find((candidate) => candidate.id === id);
            change(
              'Dye',
              record
                ? {
                    shopDyeId: record.id,
                    name: record.name,
                    recipe: record.recipe,
                    potM3: record.potM3 ?? dye.potM3,
                  }
                : { shopDyeId: null },
            );
          }}
        />
      ) : null}
      <TextEntry
        label="Dye"
        value={dye.name}
        placeholder="name on its label"
        onChange={(name) =>
          change(
            'Name of the dye',
            // Another name is another dye: its dips are not those of the one before.
            { name: name.slice(0, 120), shopDyeId: records.find((dyed) => dyed.name === name)?.id ?? null },
            'dye-name',
          )
        }
      />
      <h4>Colour wanted</h4>
      <div className="row">
        <label className="field colour-field">
          <span className="field-label">{dye.colour ? 'Pick a colour' : 'Pick a colour (none yet)'}</span>
          <input
            type="color"
            value={dye.colour ? hexOfLab(dye.colour) : '#808080'}
            onChange={(event) => change('Colour', { colour: labOfHex(event.target.value) }, 'dye-colour')}
          />
        </label>
        <CheckBox isOn={onPart} onChange={(dyeOnPart) => store.setState({ dyeOnPart })}>
          Show it on the part
        </CheckBox>
      </div>
      <div role="group" aria-label="Colour wanted" className="stack">
        <LabFields value={dye.colour} onChange={(colour) => change('Colour', { colour }, 'dye-colour')} />
      </div>
      <p className="soft">
        A screen shows it without the metal’s shine; judge the shade on a test piece of the same alloy.
      </p>
      <ChoiceRow
        label="Kind of shade"
        choices={SHADES.map((id) => ({ id, label: SHADE_WORDS[id] }))}
        chosen={dye.shade}
        onChoose={(shade) => change('Shade', { shade })}
      />
      {dye.shade === 'black' ? (
        <CheckBox isOn={dye.strongBlack} onChange={(strongBlack) => change('Black', { strongBlack })}>
          A strong black, made for thin films
        </CheckBox>
      ) : null}
      <h4>Dye bath</h4>
      <ChoiceRow
        label="Recipe on the label"
        choices={[
          { id: 'concentration', label: system === 'us' ? 'Ounces per gallon, or g/L' : 'Grams per litre' },
          { id: 'bottle', label: `Bottle for so many ${system === 'us' ? 'gallons' : 'litres'}` },
        ]}
        chosen={dye.recipe.as}
        onChoose={(as) =>
          change('Recipe', {
            recipe: as === 'bottle' ? { as, makesM3: 4e-3 } : { as, dyeKgPerM3: 5 },
          })
        }
      />
      <div className="two">
        {dye.recipe.as === 'bottle' ? (
          <QuantityField
            label="One bottle makes"
            kind="volume"
            valueSi={dye.recipe.makesM3}
            units={['L', 'US gal']}
            limits={{ low: 1e-5, high: 10 }}
            onChange={(makesM3) =>
              makesM3 !== null && change('Recipe', { recipe: { as: 'bottle', makesM3 } }, 'dye-recipe')
            }
          />
        ) : (
          <QuantityField
            label="Dye in the water"
            kind="massConcentration"
            valueSi={dye.recipe.dyeKgPerM3}
            units={['g/L', 'oz/US gal']}
            limits={{ low: 0.01, high: 200 }}
            onChange={(dyeKgPerM3) =>
              dyeKgPerM3 !== null &&
              change('Recipe', { recipe: { as: 'concentration', dyeKgPerM3 } }, 'dye-recipe')
            }
          />
        )}
        <FinishField
          section="dye"
          field="potM3"
          label="Dye pot"
          kind="volume"
          units={['L', 'US gal']}
          limits={{ low: 1e-5, high: 10 }}
          emptyMeans="not known"
        />
        <FinishField
          section="dye"
          field="temperatureK"
          label="Dye temperature"
          kind="temperature"
          units={['°C', '°F']}
          limits={{ low: 283.15, high: 368.15 }}
        />
        <FinishField
          section="dye"
          field="ph"
          label="pH of the dye"
          kind="count"
          units={['', '']}
          limits={{ low: 0, high: 14 }}
          emptyMeans="not measured"
        />
      </div>
      {pot?.ok ? <FigureView figure={(pot.value.mass ?? pot.value.bottles)!} size="small" /> : null}
      <FinishField
        section="dye"
        field="timeS"
        label="Time in the dye"
        kind="time"
        units={['min', 'min']}
        limits={{ low: 0, high: 36_000 }}
        emptyMeans={`${DYE_PRACTICE.timeS.low / 60}-${DYE_PRACTICE.timeS.high / 60} min, by eye`}
      />
      <p className="soft">
        {inReaderUnits('Usual: 2-10 g/L, 50-65 °C, pH 5-6, 5-15 min', system)} ({DYE_PRACTICE.source.standing}
        ); the dye maker’s sheet comes first. The colour book finds the minutes for a colour from your own
        dips.
      </p>
    </>
  );
}
