import { useEffect, useMemo, useRef } from 'react';
import { faceId } from '../../core/faces/face-table.ts';
import { pinsOn } from '../../core/mesh/mesh-triangles.ts';
import { capital } from '../../core/units/first-letter.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { levelOnPart } from '../../core/job/hung-depth.ts';
import { unit as vectorUnit } from '../../core/racking/vec3.ts';
import type { Part } from '../../core/job/job.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import { jobOf } from '../state/app-store.ts';
import { addDrawnPart } from '../state/new-part.ts';
import { chooseModels } from '../state/open-files.ts';
import { pickFace, selectNone } from '../state/paint-faces.ts';
import { proposalLetter } from '../state/hanging-store.ts';
import { STAGES } from '../state/app-state.ts';
import { movePin, newPinLike, placePin } from '../state/place-pin.ts';
import { legendFor } from '../viewport/face-legend.ts';
import { LegendSwatch } from '../viewport/legend-swatch.tsx';
import { Viewport } from '../viewport/viewport.tsx';
import type { ViewportHandle, ViewportLevel, ViewportMark, ViewportPin } from '../viewport/viewport-props.ts';
import { useViewportTheme } from '../viewport/viewport-theme.ts';
import { SheetDesk } from '../sheet/sheet-desk.tsx';
import { CompareDesk } from '../stages/compare-desk.tsx';
import { ThicknessScale } from '../stages/thickness-scale.tsx';
import { ActionButton } from '../widgets/action-button.tsx';
import { TankDesk } from './tank-desk.tsx';
import { useApp, useDerived, useField, useHanging, useServices } from './services.ts';
import { useShownMesh } from './use-shown-mesh.ts';
import { useThicknessMap } from './use-thickness-map.ts';
import { useTriangleStyles } from './use-triangle-styles.ts';

/** The 3D view, its tools and legend; at the sheet stage the paper lies over it. */
export function PartView() {
  const services = useServices();
  const handle = useRef<ViewportHandle>(null);
  const part = useApp((state) => jobOf(state).parts.find((candidate) => candidate.id === state.activePartId));
  const stage = useApp((state) => state.stage);
  const loading = useApp((state) => state.loadings.length > 0);
  const comparing = useField((state) => state.comparing) && stage === 'thickness';
  if (!part) {
    return (
      <div className="empty-view">
        {loading ? null : (
          <div>
            <h2>Drop a model here</h2>
            <p className="lead">
              STEP, STL, OBJ, PLY or 3MF, exported from any CAD program. STEP is best: its areas are exact.
              The area decides the current; without the model it is a guess.
            </p>
            <div className="choices">
              <ActionButton look="main" onPress={() => void chooseModels(services)}>
                Open a model…
              </ActionButton>
              <ActionButton onPress={() => addDrawnPart(services)}>No model: draw a shape</ActionButton>
            </div>
          </div>
        )}
      </div>
    );
  }
  return (
    <>
      {/* Under the tank it goes on existing, so that coming back needs no new view. */}
      <div className="view-layer" inert={stage === 'tank' || comparing}>
        {part.source.kind === 'typed' ? (
          <div className="empty-view">
            <div>
              <h2>{part.name}</h2>
              <p className="lead">The area was typed in, so there is nothing to see of this part.</p>
            </div>
          </div>
        ) : (
          <ActivePart part={part} handle={handle} />
        )}
      </div>
      {stage === 'tank' ? <TankDesk /> : null}
      {comparing ? <CompareDesk part={part} viewport={handle} /> : null}
      {stage === 'sheet' ? <SheetDesk viewport={handle} /> : null}
    </>
  );
}

function ActivePart({ part, handle }: { part: Part; handle: React.RefObject<ViewportHandle | null> }) {
  const { store } = useServices();
  const shown = useShownMesh(part);
  const { mesh, side } = shown;
  const hovered = useApp((state) => state.hoveredFace);
  const placing = useApp((state) => state.placingPin);
  const stage = useApp((state) => state.stage);
  const system = useApp((state) => state.unitSystem);
  const measure = useDerived((derived) => derived.measures[part.id]);
  const theme = useViewportTheme();
  const styles = useTriangleStyles(part, shown);
  const scale = metresPerUnit(part.unit);
  const pins = useViewportPins(part);
  const marks = useMarks(part);
  const map = useThicknessMap(part);
  const level = useLevel(part);
  const known = useDerived((derived) => derived.field[part.id]);
  const hangs = STAGES.indexOf(stage) >= STAGES.indexOf('hanging');
  const faces = mesh?.geometry.faces;
  const faceAt = (triangle: number): number | undefined => faces?.faceOfTriangle[triangle];
  const what = hovered === null ? '' : `${faceId(hovered)}`;
  useEffect(() => {
    handle.current?.fit();
  }, [part.id, handle]);
  return (
    <>
      <Viewport
        ref={handle}
        geometry={mesh?.geometry ?? null}
        edges={mesh?.edges ?? null}
        pickIndex={mesh?.pickIndex ?? null}
        styleOfTriangle={styles.bytes}
        styleVersion={styles.version}
        pins={side === 'after' ? NO_PINS : pins}
        isPicture={side === 'after'}
        partKey={part.id}
        marks={marks}
        scalar={map.scalar}
        clip={map.clip}
        level={level}
        onHoverAt={map.onHoverAt}
        {...(hangs ? { upDirection: part.attitude.up } : {})}
        metresPerUnit={scale}
        lengthUnit={system === 'metric' ? 'mm' : 'in'}
        theme={theme}
        mode={placing ? 'place-pin' : 'select'}
        newPinPatchRadius={newPinLike(store).patchDiameterM / 2 / scale}
        label={`${part.name}, ${faces?.count ?? 0} faces, ${part.contacts.length} contacts`}
        onPick={({ triangle, point, intent }) => {
          if (placing) return placePin(store, triangle, point);
          const row = faceAt(triangle);
          if (row !== undefined) pickFace(store, row, intent);
        }}
        onMiss={() => selectNone(store)}
        onHover={(triangle) => {
          const row = triangle === null ? null : (faceAt(triangle) ?? null);
          if (row !== store.getState().hoveredFace) store.setState({ hoveredFace: row });
        }}
        onPinPick={(id) => store.setState({ selectedPinId: id, stage: 'hanging' })}
        onPinMoved={(id, to) => movePin(store, id, to.triangle, to.point)}
      />
      <div className="view-tools" role="toolbar" aria-label="View">
        {(['corner', 'front', 'right', 'top'] as const).map((view) => (
          <ActionButton key={view} look="small" onPress={() => handle.current?.look(view)}>
            {capital(view)}
          </ActionButton>
        ))}
        <ActionButton look="small" onPress={() => handle.current?.fit()}>
          Fit
        </ActionButton>
      </div>
      {map.scalar ? (
        <ThicknessScale
          range={map.scalar}
          isPreview={map.isPreview}
          isStale={!map.isPreview && (known?.stale ?? false)}
          {...(map.scalar.limit === undefined ? {} : { limitM: map.scalar.limit })}
        />
      ) : null}
      <div className="view-legend" hidden={map.scalar !== null && what === '' && !measure?.unconfirmed}>
        {map.scalar
          ? null
          : legendFor(styles.bytes, level !== null).map((entry) => (
              <span key={entry.style} className="legend-entry">
                <LegendSwatch entry={entry} />{' '}
                {side !== null && entry.style === 'finding' ? CHANGED[side] : entry.label}
              </span>
            ))}
        <span className="soft" aria-live="off">
          {what}
          {measure?.unconfirmed && stage !== 'sheet' ? (
            <span className="unconfirmed">{measure.unconfirmed}</span>
          ) : null}
        </span>
      </div>
    </>
  );
}

/** Where the bath's level comes on a part that hangs only partly in it. */
function useLevel({ id, unit, attitude }: Part): ViewportLevel | null {
  const size = useDerived((derived) => derived.tank.sizes[id]);
  return useMemo(() => {
    const at = levelOnPart(size, { unit });
    return at === undefined ? null : { up: vectorUnit(attitude.up), at };
  }, [size, unit, attitude]);
}

const NO_PINS: readonly ViewportPin[] = [];
const NO_MARKS: readonly ViewportMark[] = [];

/** What the marks of a repair that is looked at mean, on the part as it is and as it would be. */
const CHANGED = { before: 'Changes or goes', after: 'Changed or new' } as const;

/** The last drop, the centre of gravity and the proposals, at the hanging stage. */
function useMarks(part: Part): readonly ViewportMark[] {
  const stage = useApp((state) => state.stage);
  const known = useHanging((state) => state.parts[part.id]);
  return useMemo(() => {
    if (stage !== 'hanging' || !known) return NO_MARKS;
    return [
      ...(known.facts?.moments ? [{ kind: 'centre', at: known.facts.centre } as const] : []),
      ...(known.traps ? [{ kind: 'drip', at: known.traps.lastDripAt } as const] : []),
      ...(known.contacts?.advice ?? []).map(({ at }, index) => ({
        kind: 'proposal' as const,
        at,
        label: proposalLetter(index),
      })),
    ];
  }, [stage, known]);
}

function useViewportPins(part: Part): ViewportPin[] {
  const selectedPinId = useApp((state) => state.selectedPinId);
  const geometry = useApp((state) => state.meshes[part.id]?.geometry);
  // As one text: messages are new with every change of the job, and new pins are a frame to draw.
  const levels = useDerived(({ messages }) =>
    part.contacts.map((contact) => levelOf(messages, contact.id)).join(' '),
  );
  return useMemo(() => {
    const scale = metresPerUnit(part.unit);
    if (!geometry) return [];
    const levelAt = levels.split(' ') as ViewportPin['level'][];
    return pinsOn(geometry, part.contacts).map((contact) => {
      const index = part.contacts.findIndex(({ id }) => id === contact.id);
      return {
        id: contact.id,
        number: index + 1,
        at: contact.at,
        triangle: contact.triangle,
        patchRadius: contact.patchDiameterM / 2 / scale,
        level: levelAt[index]!,
        selected: contact.id === selectedPinId,
      };
    });
  }, [part, geometry, levels, selectedPinId]);
}

function levelOf(messages: readonly JobMessage[], contactId: string): ViewportPin['level'] {
  const levels = messages.filter((message) => message.contactId === contactId).map(({ level }) => level);
  return levels.includes('stop') ? 'stop' : levels.includes('check') ? 'check' : 'ok';
}
