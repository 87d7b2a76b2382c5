import { useMemo, useState } from 'react';
import { parseAcid } from '../../core/bath/parse-acid.ts';
import { takenStrength } from '../../core/bath/taken-strength.ts';
import { topUp, type TopUp } from '../../core/bath/top-up.ts';
import { bathVessel } from '../../core/job/bath-vessel.ts';
import { changeBath } from '../../core/job/edit-job.ts';
import { changeMix } from '../../core/job/edit-wet.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { noteInBathBook } from '../state/bath-book.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { EntryGroup, OnceTaken } from '../widgets/entry-group.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';
import { TextEntry } from '../widgets/text-entry.tsx';

/** What to add to the bath as it is now, and whether some has to go first. */
export function BathTopUp() {
  const services = useServices();
  const { store } = services;
  const job = useApp(jobOf);
  const { bath } = job;
  const [wantedM3, setWantedM3] = useState<number | null>(null);
  const [wanted, setWanted] = useState('180 g/L');
  const volumeM3 = bathVessel(job)?.volumeM3 ?? null;
  const endM3 = wantedM3 ?? volumeM3;
  const plan = useMemo(() => {
    if (volumeM3 === null || endM3 === null) return null;
    const acid = parseAcid(bath.mix.acidText);
    if (!acid.ok) return acid;
    const target = parseAcid(wanted);
    if (!target.ok) return target;
    return topUp({
      volumeM3,
      bath: { as: 'concentration', acidKgPerM3: bath.acidKgPerM3 },
      wantedVolumeM3: endM3,
      wanted: target.value,
      acid: acid.value,
    });
  }, [bath, volumeM3, endM3, wanted]);
  const after = plan?.ok ? takenStrength(plan.value.finalConcentration.valueSi) : null;
  if (volumeM3 === null)
    return <p className="soft">Type the bath’s volume at the head of this stage first.</p>;
  return (
    <EntryGroup>
      <p className="soft">From the bath above, with the acid on your shelf.</p>
      <TextEntry
        label="Acid on the shelf"
        value={bath.mix.acidText}
        check={parseAcid}
        onChange={(acidText) => editJob(store, 'Acid', (job) => changeMix(job, { acidText }), 'mix-acid')}
      />
      <div className="two">
        <TextEntry label="Strength wanted" value={wanted} check={parseAcid} onChange={setWanted} />
        <QuantityField
          label="Volume wanted"
          kind="volume"
          valueSi={wantedM3}
          units={['L', 'US gal']}
          limits={{ low: 0.0005, high: 100 }}
          emptyMeans="as now"
          onChange={setWantedM3}
        />
      </div>
      <OnceTaken what="The amounts">
        {plan && !plan.ok ? (
          <MessageCard level="check" message={plan.error.message} remedy={plan.error.remedy} />
        ) : null}
        {plan?.ok ? (
          <>
            <p className="caution">
              <strong>Acid into the bath</strong>, slowly, stirring, power off; ventilate.
            </p>
            <div className="figure-pair">
              <FigureView figure={plan.value.drawOff} size="small" />
              <FigureView figure={plan.value.acidVolume} size="small" />
              <FigureView figure={plan.value.acidMass} size="small" />
              <FigureView figure={plan.value.waterVolume} size="small" />
              <FigureView figure={plan.value.finalConcentration} size="small" />
            </div>
            {after?.ok ? (
              <ActionButton onPress={() => void done(plan.value, after.value)}>
                Done: this is the bath now
              </ActionButton>
            ) : null}
            {after && !after.ok ? (
              <MessageCard level="note" message={after.error.message} remedy={after.error.remedy} />
            ) : null}
          </>
        ) : null}
      </OnceTaken>
    </EntryGroup>
  );

  async function done(plan: TopUp, acidKgPerM3: number): Promise<void> {
    if (endM3 === null || volumeM3 === null) return;
    const kept = 1 - plan.drawOff.valueSi / volumeM3;
    editJob(store, 'Topped up', (job) =>
      changeBath(job, {
        volumeM3: endM3,
        acidKgPerM3,
        ...(bath.aluminiumKgPerM3 === null
          ? {}
          : { aluminiumKgPerM3: (bath.aluminiumKgPerM3 * volumeM3 * kept) / endM3 }),
      }),
    );
    if (bath.shopBathId === null) return;
    const at = (offsetMs: number): string => new Date(Date.now() + offsetMs).toISOString();
    if (plan.drawOff.valueSi > 0) {
      await noteInBathBook(services, bath.shopBathId, {
        kind: 'drawn off',
        at: at(0),
        volumeM3: plan.drawOff.valueSi,
      });
    }
    await noteInBathBook(services, bath.shopBathId, {
      kind: 'added',
      at: at(1),
      acidKg: plan.pureAcidKg,
      volumeAfterM3: endM3,
    });
  }
}
