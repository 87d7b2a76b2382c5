import { useState } from 'react';
import type { Part } from '../../core/job/job.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { Offer } from '../../core/mesh/part-geometry.ts';
import { tryOffer, type RepairTrial } from '../state/repair-trial.ts';
import { useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { RepairTrialCard } from './repair-trial-card.tsx';

interface SheetThicknessOfferProps {
  readonly part: Part;
  readonly label: Offer['label'];
  readonly trial: RepairTrial | null;
}

/** A surface drawn without thickness: how thick the real sheet is, then what that changes. */
export function SheetThicknessOffer({ part, label, trial }: SheetThicknessOfferProps) {
  const services = useServices();
  const [thicknessM, setThicknessM] = useState<number | null>(null);
  if (trial && 'repair' in trial.offer && trial.offer.repair.kind === 'thicken')
    return <RepairTrialCard part={part} trial={trial} />;
  return (
    <div className="stack" role="group" aria-label={label}>
      <p>
        <strong>Is it a sheet drawn without thickness?</strong> Say how thick the real one is: then both sides
        and the cut edges count.
      </p>
      <QuantityField
        label="Thickness of the sheet"
        kind="length"
        valueSi={thicknessM}
        units={['mm', 'in']}
        limits={{ low: 5e-5, high: 0.05 }}
        emptyMeans="not a sheet"
        isDraft
        onChange={setThicknessM}
      />
      <ActionButton
        look="small"
        isDisabled={thicknessM === null}
        onPress={() =>
          thicknessM !== null &&
          void tryOffer(services, part.id, {
            label: 'Give the sheet a thickness',
            repair: { kind: 'thicken', thickness: thicknessM / metresPerUnit(part.unit) },
          })
        }
      >
        Give it this thickness…
      </ActionButton>
    </div>
  );
}
