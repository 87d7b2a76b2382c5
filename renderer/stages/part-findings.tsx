import type { Part } from '../../core/job/job.ts';
import { takeBackRepair } from '../../core/job/edit-surface.ts';
import { repairWords } from '../../core/job/repair-words.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { Finding } from '../../core/mesh/part-geometry.ts';
import { FEW_TO_CROSS } from '../../core/mesh/offer-repairs.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { editJob } from '../state/app-store.ts';
import { standingSteps } from '../state/standing-steps.ts';
import { lookForCrossings } from '../state/look-for-crossings.ts';
import { trialOf, tryOffer } from '../state/repair-trial.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { RepairTrialCard } from './repair-trial-card.tsx';
import { SheetThicknessOffer } from './sheet-thickness-offer.tsx';
import { formatCount } from '../../core/units/format-count.ts';

/** What is wrong with the mesh, what it does to the area, and the repairs on offer; nothing is done unasked. */
export function PartFindings({ part }: { part: Part }) {
  const services = useServices();
  const mesh = useApp((state) => state.meshes[part.id]);
  const system = useApp((state) => state.unitSystem);
  const findings = useDerived((derived) => derived.measures[part.id]?.findings) ?? [];
  const trial = useApp((state) => trialOf(state, part.id));
  if (!mesh) return null;
  const isLarge = mesh.geometry.triangleCount > FEW_TO_CROSS;
  if (findings.length === 0 && part.surface.repairs.length === 0 && !isLarge) return null;
  const scale2 = metresPerUnit(part.unit) ** 2;
  return (
    <section className="stack" aria-label="Findings about the mesh">
      <h3>{findings.length === 0 ? 'The mesh is sound' : 'Look at the mesh'}</h3>
      {findings.some(({ triangles }) => triangles.length > 0) ? (
        <p className="soft">The triangles concerned are marked in the view.</p>
      ) : null}
      {findings.map((finding) => (
        <MessageCard key={finding.code} {...finding}>
          <Concerned finding={finding} areas={mesh.geometry.triangleAreas} scale2={scale2} system={system} />
          {finding.offers?.map((offer) =>
            'asks' in offer ? (
              <SheetThicknessOffer key={offer.label} part={part} label={offer.label} trial={trial} />
            ) : trial?.offer === offer ? (
              <RepairTrialCard key={offer.label} part={part} trial={trial} />
            ) : (
              <ActionButton
                key={offer.label}
                look="small"
                onPress={() => void tryOffer(services, part.id, offer)}
              >
                {offer.label}…
              </ActionButton>
            ),
          )}
        </MessageCard>
      ))}
      {part.surface.repairs.length > 0 ? <AcceptedRepairs part={part} /> : null}
      {isLarge ? (
        <ActionButton onPress={() => void lookForCrossings(services, part.id)}>
          Look for places where the surface runs through itself
        </ActionButton>
      ) : null}
    </section>
  );
}

interface ConcernedProps {
  readonly finding: Finding;
  readonly areas: Float64Array;
  readonly scale2: number;
  readonly system: UnitSystem;
}

function Concerned({ finding, areas, scale2, system }: ConcernedProps) {
  let area = 0;
  for (const triangle of finding.triangles) area += areas[triangle] ?? 0;
  if (!(area > 0)) return null;
  return (
    <span className="soft grow">
      {formatCount(finding.triangles.length)} {finding.triangles.length === 1 ? 'triangle' : 'triangles'},{' '}
      {formatQuantity('area', area * scale2, system).text}
    </span>
  );
}

/** What was accepted, with the area before and after each; each can be taken back. */
function AcceptedRepairs({ part }: { part: Part }) {
  const { store } = useServices();
  const mesh = useApp((state) => state.meshes[part.id]);
  const steps = mesh ? standingSteps(part, mesh) : [];
  const system = useApp((state) => state.unitSystem);
  const unit = system === 'metric' ? 'cm²' : 'in²';
  const scale2 = metresPerUnit(part.unit) ** 2;
  return (
    <>
      <h3>Repairs you accepted</h3>
      <ol className="repair-list">
        {part.surface.repairs.map((repair, index) => {
          const step = steps[index];
          const area = (value: number): string => formatIn('area', value * scale2, unit, 6).number;
          const name = repairWords(repair, part.unit, system);
          return (
            <li key={`${repair.kind}-${index}`} className="row">
              <span className="grow">
                {repairWords(repair, part.unit, system, step?.trianglesAdded)}
                <br />
                <span className="soft">
                  {step
                    ? `area ${area(step.areaBefore)} before, ${area(step.areaAfter)} ${unit} after; ${trianglesText(step.trianglesAdded)}`
                    : 'being done…'}
                </span>
              </span>
              <ActionButton
                look="small"
                aria-label={`Take back: ${name}`}
                onPress={() =>
                  editJob(store, `Take back: ${name}`, (job) => takeBackRepair(job, part.id, index))
                }
              >
                Take back
              </ActionButton>
            </li>
          );
        })}
      </ol>
      <p className="soft">
        The model file itself stays as it is; repairs are done again each time it is read.
      </p>
    </>
  );
}

function trianglesText(added: number): string {
  const count = formatCount(Math.abs(added));
  if (added === 0) return 'no triangle more or less';
  return added > 0 ? `${count} triangles more` : `${count} triangles less`;
}
