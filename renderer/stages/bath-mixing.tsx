import { useMemo } from 'react';
import { mixBath, MIXING_REFERENCE_K, type BathMix } from '../../core/bath/mix-bath.ts';
import { finishedVolumeM3, mixFromTexts } from '../../core/bath/mix-report.ts';
import { parseAcid } from '../../core/bath/parse-acid.ts';
import { parseParts } from '../../core/bath/parse-parts.ts';
import { takenStrength } from '../../core/bath/taken-strength.ts';
import type { PartsMix } from '../../core/bath/mix-parts.ts';
import { bathVessel } from '../../core/job/bath-vessel.ts';
import { changeMix } from '../../core/job/edit-wet.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import type { MixChoice } from '../../core/job/job-bath.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { sayQuantity } from '../../core/units/format-quantity.ts';
import type { Result } from '../../core/result.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { EntryGroup, OnceTaken } from '../widgets/entry-group.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';

/** Acid and water for a bath, and how to pour them; or what strength a recipe in parts gives. */
export function BathMixing() {
  const { store } = useServices();
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const { mix } = job.bath;
  const change = (label: string, next: Partial<MixChoice>, key = ''): void =>
    editJob(store, label, (j) => changeMix(j, next), key);
  const made = useMemo(() => mixFromChoice(mix), [mix]);
  return (
    <EntryGroup>
      <TextEntry
        label="Acid, as its container says"
        value={mix.acidText}
        hint="35 %, 96 %, 66 °Bé, SG 1.280, 1.83 g/cm³ or g/L"
        check={parseAcid}
        onChange={(acidText) => change('Acid', { acidText }, 'mix-acid')}
      />
      <ChoiceRow
        label="Mix by"
        choices={[
          { id: 'target', label: 'To a strength' },
          { id: 'parts', label: 'By parts' },
        ]}
        chosen={mix.by}
        onChoose={(by) => change('Mix by', { by })}
      />
      {mix.by === 'target' ? (
        <TextEntry
          label="Strength wanted"
          value={mix.targetText}
          hint="180 g/L, 16 %"
          check={parseAcid}
          onChange={(targetText) => change('Strength wanted', { targetText }, 'mix-target')}
        />
      ) : (
        <TextEntry
          label="Parts, acid : water"
          value={mix.partsText}
          hint="1:3 by volume, each measured at 20 °C"
          check={parseParts}
          onChange={(partsText) => change('Parts', { partsText }, 'mix-parts')}
        />
      )}
      <QuantityField
        label="Finished bath"
        kind="volume"
        valueSi={mix.volumeM3}
        units={['L', 'US gal']}
        limits={{ low: 0.0001, high: 100 }}
        emptyMeans={
          mix.by === 'target'
            ? 'type how much is wanted'
            : `one part is ${system === 'us' ? '0.264 US gal (a litre)' : 'a litre'}`
        }
        onChange={(volumeM3) => change('Finished bath', { volumeM3 }, 'mix-volume')}
      />
      <TankFull mixM3={mix.volumeM3} />
      <OnceTaken what="The amounts">
        <AcidAtHand
          mix={mix}
          acidM3={made?.ok ? made.value.acidVolume.valueSi : null}
          onVolume={(volumeM3) => change('Acid at hand', { volumeM3 }, 'mix-volume')}
        />
        {made && !made.ok ? (
          <MessageCard level="check" message={made.error.message} remedy={made.error.remedy} />
        ) : null}
        {made?.ok ? (
          <>
            <Mixed mix={made.value} />
            <CheckBox isOn={mix.onSheet} onChange={(onSheet) => change('Print the mix', { onSheet })}>
              Print these amounts on the run sheet
            </CheckBox>
            <UseMixed mix={made.value} volumeM3={mix.volumeM3} />
          </>
        ) : null}
      </OnceTaken>
    </EntryGroup>
  );
}

/** The bath's own volume for the asking, while none is typed. */
function TankFull({ mixM3 }: { mixM3: number | null }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const vessel = bathVessel(useApp(jobOf));
  if (mixM3 !== null || !vessel) return null;
  const { volumeM3 } = vessel;
  return (
    <ActionButton
      look="small"
      onPress={() => editJob(store, 'Finished bath', (j) => changeMix(j, { volumeM3 }))}
    >
      As much as the bath is: {sayQuantity('volume', volumeM3, system)}
    </ActionButton>
  );
}

interface AcidAtHandProps {
  readonly mix: MixChoice;
  /** What the mix takes as it stands. */
  readonly acidM3: number | null;
  readonly onVolume: (finishedM3: number) => void;
}

/** The question the other way round: how much bath all of this acid makes. In a group of its own, so that it stays while it is typed. */
function AcidAtHand({ mix, acidM3, onVolume }: AcidAtHandProps) {
  const made = (volumeM3: number): void => {
    const recipe = mix.by === 'target' ? { target: mix.targetText } : { parts: mix.partsText };
    const used = mixFromTexts({ acid: mix.acidText, ...recipe, acidVolume: `${volumeM3} m3` });
    if (used.ok) onVolume(finishedVolumeM3(used.value));
  };
  return (
    <EntryGroup>
      <QuantityField
        label="Or from all of this acid"
        kind="volume"
        valueSi={acidM3}
        units={['L', 'US gal']}
        limits={{ low: 1e-5, high: 10 }}
        emptyMeans="what you have of it"
        onChange={(value) => value !== null && made(value)}
      />
    </EntryGroup>
  );
}

function UseMixed({ mix, volumeM3 }: { mix: BathMix | PartsMix; volumeM3: number | null }) {
  const { store } = useServices();
  const taken = takenStrength(mix.finalConcentration.valueSi);
  if (!taken.ok)
    return <MessageCard level="note" message={taken.error.message} remedy={taken.error.remedy} />;
  return (
    <ActionButton
      onPress={() =>
        editJob(store, 'Bath as mixed', (j) =>
          changeBath(j, {
            acidKgPerM3: taken.value,
            aluminiumKgPerM3: 0,
            ...(volumeM3 === null ? {} : { volumeM3 }),
          }),
        )
      }
    >
      Use as this job’s bath
    </ActionButton>
  );
}

function mixFromChoice(mix: MixChoice): Result<BathMix | PartsMix> | null {
  const acid = parseAcid(mix.acidText);
  if (!acid.ok) return acid;
  if (mix.by === 'parts') {
    return mixFromTexts({
      acid: mix.acidText,
      parts: mix.partsText,
      ...(mix.volumeM3 === null ? {} : { volume: `${mix.volumeM3} m3` }),
    });
  }
  if (mix.volumeM3 === null) return null;
  const target = parseAcid(mix.targetText);
  if (!target.ok) return target;
  return mixBath({ acid: acid.value, target: target.value, volumeM3: mix.volumeM3 });
}

function Mixed({ mix }: { mix: BathMix | PartsMix }) {
  const { steps } = mix;
  const several = steps.length > 1;
  const system = useApp((state) => state.unitSystem);
  const degrees = (kelvin: number): string => sayQuantity('temperature', kelvin, system, '°C', 2);
  const weight = (mass: number): string => sayQuantity('mass', mass, system, 'kg', 4);
  const acid = (massKg: number): string => {
    const volumeM3 = (massKg * mix.acidVolume.valueSi) / mix.acidMass.valueSi;
    const unit = system === 'metric' && volumeM3 < 1e-3 ? 'mL' : 'L';
    return `${weight(massKg)} (${sayQuantity('volume', volumeM3, system, unit)})`;
  };
  return (
    <>
      <p className="caution">
        <strong>Acid into water</strong>, slowly, stirring; never water into acid. It heats up and spits.
        Goggles, face shield, gloves, apron; ventilate; baking soda at hand.
        {mix.caution ? ` ${inReaderUnits(mix.caution, system)}` : ''}
      </p>
      <div className="figure-pair">
        <FigureView figure={mix.waterVolume} />
        <FigureView figure={mix.acidVolume} />
        <FigureView figure={mix.waterMass} size="small" />
        <FigureView figure={mix.acidMass} size="small" />
        <FigureView figure={mix.finalConcentration} size="small" />
        <FigureView figure={mix.finalStrength} size="small" />
        <FigureView figure={mix.rise} size="small" />
        <FigureView figure={mix.temperature} size="small" />
        <FigureView figure={mix.waterParts} size="small" />
        {'volumeRatio' in mix ? <FigureView figure={mix.volumeRatio} size="small" /> : null}
      </div>
      <h4>How to pour</h4>
      <ol className="pours">
        <li>Put {weight(mix.waterMass.valueSi)} of cold water into the vessel first.</li>
        {steps.map((step, index) => (
          <li key={index}>
            {several
              ? `Pour ${index + 1} of ${steps.length}: ${acid(step.acidKg)} of acid, slowly, stirring. It may reach ${degrees(step.temperatureK)}${index + 1 < steps.length ? `; let it cool to ${degrees(MIXING_REFERENCE_K)} before the next` : ''}.`
              : `Pour in ${acid(step.acidKg)} of acid, slowly, stirring. It may reach ${degrees(step.temperatureK)}.`}
          </li>
        ))}
        <li>Let it cool to bath temperature before measuring it.</li>
      </ol>
      <p className="soft">
        Acid and water shrink as they mix, so weigh them, or measure each by itself at{' '}
        {degrees(MIXING_REFERENCE_K)}.
      </p>
    </>
  );
}
