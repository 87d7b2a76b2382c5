import type { Part } from '../../core/job/job.ts';
import { setFuse, setImmersedDepth, setVented } from '../../core/job/edit-surface.ts';
import { leastFuseGap } from '../../core/job/prepare-part.ts';
import type { VoidMeasure } from '../../core/job/measure-part.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { editJob } from '../state/app-store.ts';
import { makePartsOfPieces } from '../state/parts-of-pieces.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { CheckBox } from '../widgets/check-box.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

/** Bodies that touch, voids they close off, and how deep the part hangs: what acid does not reach. */
export function PartBodies({ part }: { part: Part }) {
  const mesh = useApp((state) => state.meshes[part.id]);
  if (!mesh) return null;
  return (
    <section className="stack" aria-label="What the acid reaches">
      <h3>What the acid reaches</h3>
      <PiecesApart part={part} />
      <FuseBodies part={part} />
      <Voids part={part} />
      <Level part={part} />
    </section>
  );
}

function PiecesApart({ part }: { part: Part }) {
  const services = useServices();
  const count = useApp((state) => state.meshes[part.id]?.geometry.apart.length ?? 0);
  if (count < 2) return null;
  return (
    <>
      <p>
        {count} pieces of this model do not touch each other. Each needs a contact of its own, or is better a
        part of its own.
      </p>
      {part.source.kind === 'file' ? (
        <ActionButton onPress={() => makePartsOfPieces(services, part.id)}>Make parts of them</ActionButton>
      ) : null}
    </>
  );
}

function FuseBodies({ part }: { part: Part }) {
  const { store } = useServices();
  const mesh = useApp((state) => state.meshes[part.id]);
  const system = useApp((state) => state.unitSystem);
  if (!mesh) return null;
  const { fuse, fuseFailure, geometry } = mesh;
  const scale = metresPerUnit(part.unit);
  const least = leastFuseGap(geometry.cad);
  const isOn = part.surface.fuseGap !== null;
  const several = (fuse?.bodiesBefore ?? geometry.topology.shellCount - geometry.voids.length) > 1;
  if (!several && !isOn) return null;
  const isPending = isOn && fuse === null && fuseFailure === null;
  return (
    <>
      <CheckBox
        isOn={isOn}
        onChange={(on) =>
          editJob(store, on ? 'Fuse bodies' : 'Leave bodies apart', (job) =>
            setFuse(job, part.id, on ? 0 : null),
          )
        }
      >
        Fuse bodies that touch or overlap
      </CheckBox>
      {isPending ? <p className="soft">Fusing…</p> : null}
      {fuse ? (
        <p aria-live="polite">
          {fuse.bodiesBefore} bodies, {fuse.contacts} {fuse.contacts === 1 ? 'contact' : 'contacts'}: fusing
          took <strong>{formatQuantity('area', fuse.removedArea * scale ** 2, system).text}</strong> of hidden
          surface off.
        </p>
      ) : null}
      {isOn && fuseFailure ? <MessageCard level="check" {...fuseFailure} /> : null}
      {isOn ? (
        <>
          <QuantityField
            label="Gaps up to this count as touching"
            kind="length"
            valueSi={(part.surface.fuseGap ?? 0) * scale}
            units={['mm', 'in']}
            limits={{ low: 0, high: 0.002 }}
            onChange={(gap) =>
              gap !== null &&
              editJob(store, 'Gap', (job) => setFuse(job, part.id, gap / scale), `gap-${part.id}`)
            }
          />
          {least > 0 ? (
            <p className="soft">
              Gaps up to {formatIn('length', least * scale, system === 'metric' ? 'mm' : 'in', 2).text} count
              as touching in any case: round faces of this file are drawn only that closely.
            </p>
          ) : null}
        </>
      ) : (
        <p className="soft">
          Faces that lie on each other, as under a welded post, are counted although no acid gets there.
        </p>
      )}
    </>
  );
}

const NO_VOIDS: readonly VoidMeasure[] = [];

function Voids({ part }: { part: Part }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const voids = useDerived((derived) => derived.measures[part.id]?.voids) ?? NO_VOIDS;
  if (voids.length === 0) return null;
  return (
    <>
      <p>
        {voids.length === 1 ? 'One void has no way out. Its' : `${voids.length} voids have no way out. Their`}{' '}
        walls do not count unless the real part has a vent there.
      </p>
      {voids.map(({ anchor, areaM2, volumeM3, vented }, index) => (
        <CheckBox
          key={anchor}
          isOn={vented}
          onChange={(on) =>
            editJob(store, on ? `Void ${index + 1} vented` : `Void ${index + 1} sealed`, (job) =>
              setVented(job, part.id, anchor, on),
            )
          }
        >
          {`Void ${index + 1} has a vent (${formatQuantity('area', areaM2, system).text}, ${formatIn('volume', volumeM3, system === 'metric' ? 'mL' : 'in³', 3).text})`}
        </CheckBox>
      ))}
    </>
  );
}

function Level({ part }: { part: Part }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const aboveM2 = useDerived((derived) => derived.measures[part.id]?.aboveM2) ?? 0;
  const scale = metresPerUnit(part.unit);
  const { immersedDepth } = part.surface;
  return (
    <>
      <QuantityField
        label="Hangs in the bath to this depth, from its lowest point"
        kind="length"
        valueSi={immersedDepth === null ? null : immersedDepth * scale}
        units={['mm', 'in']}
        limits={{ low: 1e-4, high: 10 }}
        emptyMeans="all of it"
        onChange={(depth) =>
          editJob(
            store,
            'Depth in the bath',
            (job) => setImmersedDepth(job, part.id, depth === null ? null : depth / scale),
            `depth-${part.id}`,
          )
        }
      />
      {immersedDepth !== null ? (
        <p aria-live="polite">
          {aboveM2 > 0
            ? `${formatQuantity('area', aboveM2, system).text} stays above the level and is left out. Up is as the part hangs.`
            : 'That is deeper than the part is high: all of it is in the bath.'}
        </p>
      ) : null}
    </>
  );
}
