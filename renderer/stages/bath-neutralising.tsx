import { useMemo, useState } from 'react';
import { neutralise } from '../../core/bath/neutralise.ts';
import { capital } from '../../core/units/first-letter.ts';
import { jobOf } from '../state/app-store.ts';
import { useApp } from '../app/services.ts';
import { ChoiceRow } from '../widgets/choice-row.tsx';
import { EntryGroup, OnceTaken } from '../widgets/entry-group.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

type NeutraliserId = 'baking soda' | 'washing soda' | 'slaked lime' | 'lye';

/** How much of what takes the acid out of a spill or a spent bath. */
export function BathNeutralising() {
  const bath = useApp(jobOf).bath;
  const [volumeM3, setVolume] = useState(1e-3);
  const [id, setId] = useState<NeutraliserId>('baking soda');
  const all = useMemo(
    () => neutralise(volumeM3, bath.acidKgPerM3, bath.aluminiumKgPerM3 ?? 0, bath.airK),
    [volumeM3, bath.acidKgPerM3, bath.aluminiumKgPerM3, bath.airK],
  );
  if (!all.ok) return <MessageCard level="check" message={all.error.message} remedy={all.error.remedy} />;
  const one = all.value.find(({ neutraliser }) => neutraliser.id === id)!;
  return (
    <EntryGroup>
      <QuantityField
        label="Spilled or spent bath"
        kind="volume"
        valueSi={volumeM3}
        units={['L', 'US gal']}
        limits={{ low: 1e-6, high: 100 }}
        onChange={(value) => value !== null && setVolume(value)}
      />
      <ChoiceRow
        label="Neutralise with"
        choices={all.value.map(({ neutraliser }) => ({
          id: neutraliser.id,
          label: capital(neutraliser.id),
        }))}
        chosen={id}
        onChoose={setId}
      />
      <p className="soft">{one.neutraliser.bestFor}</p>
      <OnceTaken what="The amounts">
        <FigureView figure={one.mass} />
        <div className="figure-pair">
          {one.carbonDioxide ? <FigureView figure={one.carbonDioxide} size="small" /> : null}
          {one.sludge ? <FigureView figure={one.sludge} size="small" /> : null}
          {one.riseIfAtOnce ? <FigureView figure={one.riseIfAtOnce} size="small" /> : null}
        </div>
      </OnceTaken>
      <ol className="pours">
        {one.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
    </EntryGroup>
  );
}
