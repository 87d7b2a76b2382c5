import { ALLOYS, type Alloy } from '../../core/reference/alloys.ts';
import { setAlloy, setFiller } from '../../core/job/edit-wet.ts';
import { alloyOf } from '../../core/job/finish-plan.ts';
import type { Part } from '../../core/job/job.ts';
import { printSource } from '../../core/figure/print-figure.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { editJob } from '../state/app-store.ts';
import { useServices } from '../app/services.ts';
import { ChooseFrom } from '../widgets/choose-from.tsx';

const NONE = { id: '', label: 'not said' };

/** What the part is made of, and what that does to film and colour. */
export function FinishAlloy({ part }: { part: Part }) {
  const { store } = useServices();
  const alloy = alloyOf(part.alloy);
  const filler = alloyOf(part.filler);
  return (
    <>
      <ChooseFrom
        label={`Alloy of ${part.name}`}
        options={[
          NONE,
          ...ALLOYS.filter(({ form }) => form !== 'filler').map(({ name, form }) => ({
            id: name,
            label: form === 'casting' ? `${name} (casting)` : name,
          })),
        ]}
        chosen={alloy?.name ?? ''}
        onChoose={(id) => editJob(store, 'Alloy', (job) => setAlloy(job, part.id, id === '' ? null : id))}
      />
      {alloy ? <Facts alloy={alloy} /> : null}
      <ChooseFrom
        label="Welded with"
        options={[
          { id: '', label: 'no weld' },
          ...ALLOYS.filter(({ form }) => form === 'filler').map(({ name }) => ({ id: name, label: name })),
        ]}
        chosen={filler?.name ?? ''}
        onChoose={(id) => editJob(store, 'Filler', (job) => setFiller(job, part.id, id === '' ? null : id))}
      />
      {filler ? <Facts alloy={filler} /> : null}
    </>
  );
}

function Facts({ alloy }: { alloy: Alloy }) {
  const { low, high } = alloy.yieldFactor;
  return (
    <dl className="facts">
      <dt>Density</dt>
      <dd>{formatIn('density', alloy.densityKgPerM3.usual, 'g/cm³').text}</dd>
      <dt>Film</dt>
      <dd>{alloy.coats}</dd>
      <dt>Colour</dt>
      <dd>{alloy.dyes}</dd>
      {low < 1 ? (
        <>
          <dt>Film for the charge</dt>
          <dd>
            {Math.round(low * 100)}-{Math.round(high * 100)} % of 6061’s
          </dd>
        </>
      ) : null}
      <dt>Expect</dt>
      <dd>{alloy.note}</dd>
      <dt>Source</dt>
      <dd className="soft">{printSource(alloy.source)}</dd>
    </dl>
  );
}
