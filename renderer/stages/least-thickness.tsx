import { COVERAGE_BITS } from '../../core/faces/coverage-flags.ts';
import { faceId } from '../../core/faces/face-table.ts';
import { PROCESS_LIMITS } from '../../core/electrical/check-process.ts';
import { changeField, setLeastFaces } from '../../core/job/edit-field.ts';
import { changeProcess } from '../../core/job/edit-job.ts';
import type { FieldReading } from '../../core/job/field-reading.ts';
import type { Part } from '../../core/job/job.ts';
import { coverageOn, sourceRunsOfFaces } from '../../core/mesh/mesh-triangles.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { editJob, jobOf } from '../state/app-store.ts';
import { useApp, useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { QuantityField } from '../widgets/quantity-field.tsx';

const NOTHING: Part['coverage'] = { mask: [], contact: [], show: [] };

/** A least thickness on chosen faces, and the plan that gives it. */
export function LeastThickness({ part, reading }: { part: Part; reading: FieldReading }) {
  const { store } = useServices();
  const system = useApp((state) => state.unitSystem);
  const leastM = useApp((state) => jobOf(state).field.leastM);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  const selected = useApp((state) => state.selectedFaces);
  const process = useApp((state) => jobOf(state).process);
  const film = (valueM: number): string =>
    formatIn('length', valueM, system === 'metric' ? 'µm' : 'mil').text;
  const asked = askedFaces(part, geometry);
  const choose = (): void => {
    if (!geometry) return;
    const runs = sourceRunsOfFaces(geometry, selected);
    editJob(store, 'Faces that need the least thickness', (job) => setLeastFaces(job, part.id, runs));
  };
  const wantedM = reading.thicknessForLeastM;
  const tooMuch = wantedM !== null && wantedM > PROCESS_LIMITS.thicknessM.high;
  const holdS = (thicknessM: number): number =>
    (process.chargePerVolumeCPerM3 * thicknessM) / process.currentDensityAPerM2 + process.rampS / 2;
  return (
    <section className="stack" aria-label="Least thickness">
      <h3>Least thickness</h3>
      <QuantityField
        label="Thinnest that still does"
        kind="length"
        valueSi={leastM}
        units={['µm', 'mil']}
        limits={{ low: 0.5e-6, high: 150e-6 }}
        emptyMeans="not asked"
        onChange={(value) =>
          editJob(store, 'Least thickness', (job) => changeField(job, { leastM: value }), 'field-least')
        }
      />
      <p className="soft">
        Asked of {asked}. Thinnest there now: {film(reading.askedLeastM)}.
      </p>
      <div className="choices">
        <ActionButton look="small" isDisabled={selected.size === 0} onPress={choose}>
          Ask it of the selected faces
        </ActionButton>
        <ActionButton
          look="small"
          isDisabled={part.leastFaces.length === 0}
          onPress={() =>
            editJob(store, 'Least thickness everywhere', (job) => setLeastFaces(job, part.id, []))
          }
        >
          Of everything coated
        </ActionButton>
      </div>
      {leastM !== null && wantedM !== null ? (
        <MessageCard
          level={tooMuch ? 'stop' : 'check'}
          message={`For ${film(leastM)} at the thinnest place the run has to be planned for ${film(wantedM)}: ${formatIn('time', holdS(wantedM), 'min').text} of power instead of ${formatIn('time', holdS(process.thicknessM), 'min').text}.`}
          remedy={
            tooMuch
              ? 'That is more than a bath can grow: bring current to the thin places instead, with cathodes or another attitude.'
              : 'Take it into the plan, or bring more current to the thin places with the what-ifs below.'
          }
        >
          {tooMuch ? null : (
            <ActionButton
              look="main"
              onPress={() =>
                editJob(store, `Least thickness ${film(leastM)}`, (job) =>
                  changeProcess(job, { thicknessM: wantedM }),
                )
              }
            >
              Take it into the plan
            </ActionButton>
          )}
        </MessageCard>
      ) : leastM !== null ? (
        <p className="soft">The plan gives it: nothing to change.</p>
      ) : null}
    </section>
  );
}

function askedFaces(
  part: Part,
  geometry: (Parameters<typeof coverageOn>[0] & { faces: { faceOfTriangle: Uint32Array } }) | undefined,
): string {
  if (part.leastFaces.length === 0 || !geometry) return 'everything coated';
  const flags = coverageOn(geometry, { ...NOTHING, mask: part.leastFaces });
  const rows = new Set<number>();
  flags.forEach((bits, t) => {
    if (bits & COVERAGE_BITS.mask) rows.add(geometry.faces.faceOfTriangle[t]!);
  });
  const names = [...rows].sort((a, b) => a - b).map(faceId);
  return names.length > 8 ? `${names.slice(0, 8).join(', ')} and ${names.length - 8} more` : names.join(', ');
}
