import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import type { BoreReading } from '../../core/job/field-reading.ts';
import type { PartField } from '../state/derive-field.ts';
import { useApp } from '../app/services.ts';
import { DisclosureSection } from '../widgets/disclosure-section.tsx';
import { FigureView } from '../widgets/figure-view.tsx';
import { MessageCard } from '../widgets/message-card.tsx';

const MOST = 12;

/** How deep round holes are coated: estimated at once, and by the map where there is one. */
export function BoreList({ known }: { known: PartField }) {
  const { bores, reading } = known;
  if (!bores.ok)
    return <MessageCard level="note" message={bores.error.message} remedy={bores.error.remedy} />;
  const { wagner, bores: list } = bores.value;
  const state =
    list.length === 0 ? 'no round hole' : `${list.length} round ${list.length === 1 ? 'hole' : 'holes'}`;
  return (
    <DisclosureSection title="Holes, and the quick estimate" state={state}>
      <FigureView figure={wagner} size="small" />
      <p className="soft">
        Well above 1 the film’s own resistance evens the coating out, whatever the shape; well below 1 the
        shape and the cathodes decide.{list.length > 0 ? ' Holes have a depth limit of their own:' : ''}
      </p>
      {list.slice(0, MOST).map((bore) => (
        <BoreCard key={bore.bore.faceIds.join()} reading={bore} limitM={reading?.limitM ?? null} />
      ))}
      {list.length > MOST ? <p className="soft">and {list.length - MOST} smaller ones</p> : null}
    </DisclosureSection>
  );
}

function BoreCard({ reading, limitM }: { reading: BoreReading; limitM: number | null }) {
  const system = useApp((state) => state.unitSystem);
  const { bore, estimate, heldM, bare } = reading;
  const length = (valueM: number): string => formatQuantity('length', valueM, system).text;
  const film = (valueM: number): string =>
    formatIn('length', valueM, system === 'metric' ? 'µm' : 'mil').text;
  return (
    <div className="record-card">
      <h4>
        {bore.faceIds.join(' + ')}: {length(2 * bore.radiusM)} across, {length(bore.depthM)}{' '}
        {bore.through ? 'through' : 'deep'}
      </h4>
      {bare ? (
        <p className="soft">Masked or full of gas: nothing is coated in it.</p>
      ) : heldM !== null && limitM !== null ? (
        <p>
          By the map: at least {film(limitM)} on {length(heldM)} of {length(bore.depthM)}.
        </p>
      ) : null}
      {bare ? null : (
        <div className="figure-pair">
          <FigureView figure={estimate.thinnestShare} size="small" />
          <FigureView figure={estimate.depthHeldM} size="small" />
        </div>
      )}
    </div>
  );
}
