import { useEffect, useMemo, useRef, useState, type RefObject } from 'react';
import { fieldSheetLine } from '../../core/job/field-sheet-line.ts';
import { mapOfLoad } from '../../core/job/map-of-load.ts';
import { pinPlaces } from '../../core/job/pin-words.ts';
import { jobOf, showPart } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from '../app/services.ts';
import type { ViewportHandle } from '../viewport/viewport-props.ts';
import { PaperSheet } from './paper-sheet.tsx';

const PICTURE = { widthPx: 1000, heightPx: 720, background: '#ffffff', view: 'as-turned' } as const;

/** The sheet may be looked at before the view has started; where it can't start there is no picture. */
const VIEW_STARTS_MS = 200;
const MOST_TRIES = 100;

/** 190 mm of paper and its surrounding, in CSS pixels. */
const PAPER_WIDTH_PX = 760;

/** How much the paper must shrink to be seen whole in `desk`. On paper it is printed at its own size. */
function useZoom(desk: RefObject<HTMLElement | null>): number {
  const [zoom, setZoom] = useState(1);
  useEffect(() => {
    if (!desk.current) return;
    const watcher = new ResizeObserver(([entry]) => {
      if (entry) setZoom(Math.min(1, entry.contentRect.width / PAPER_WIDTH_PX));
    });
    watcher.observe(desk.current);
    return () => watcher.disconnect();
  }, [desk]);
  return zoom;
}

/** The paper in the middle of the window. Pictures are taken from the 3D view, of the part in it as it is turned now. */
export function SheetDesk({ viewport }: { readonly viewport: RefObject<ViewportHandle | null> }) {
  const { store } = useServices();
  const job = useApp(jobOf);
  const system = useApp((state) => state.unitSystem);
  const activeId = useApp((state) => state.activePartId);
  const ready = useApp((state) => activeId !== null && state.meshes[activeId] !== undefined);
  const meshes = useApp((state) => state.meshes);
  const plan = useDerived((derived) => derived.plan);
  const measures = useDerived((derived) => derived.measures);
  const messages = useDerived((derived) => derived.messages);
  const wet = useDerived((derived) => derived.wet);
  const hung = useDerived((derived) => derived.hung);
  const hanging = useDerived((derived) => derived.hanging);
  const tank = useDerived((derived) => derived.tank);
  const field = useDerived((derived) => derived.field);
  const thickness = job.parts.flatMap(({ id, name }) => {
    const known = field[id];
    if (!known?.reading || known.stale) return [];
    const of = plan?.ok ? mapOfLoad(job, id, plan.value.loads).of : '';
    return [fieldSheetLine(name, known.reading, system, of)];
  });
  const pinsInWords = useMemo(
    () =>
      Object.fromEntries(
        job.parts.flatMap((part) => {
          const geometry = meshes[part.id]?.geometry;
          return geometry ? [[part.id, pinPlaces(part, geometry, system)]] : [];
        }),
      ),
    [job, meshes, system],
  );
  const desk = useRef<HTMLDivElement>(null);
  const zoom = useZoom(desk);
  const [pictures, setPictures] = useState<Record<string, string>>({});

  const [firstId] = useState(activeId);

  useEffect(() => {
    if (activeId === null || !ready) return;
    let again: ReturnType<typeof setTimeout> | undefined;
    let frame = 0;
    const take = (triesLeft: number): void => {
      // One frame later, so that the view has drawn the part's latest pins and treatments.
      frame = requestAnimationFrame(() => {
        const picture = viewport.current?.snapshot(PICTURE);
        if (picture) setPictures((known) => ({ ...known, [activeId]: picture }));
        else if (triesLeft > 0) again = setTimeout(() => take(triesLeft - 1), VIEW_STARTS_MS);
      });
    };
    take(MOST_TRIES);
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(again);
    };
  }, [viewport, activeId, ready, job]);

  // The view holds one part: behind the paper it is handed the others in turn, then the first one again.
  useEffect(() => {
    if (activeId === null || pictures[activeId] === undefined) return;
    const { meshes: loaded } = store.getState();
    const next = job.parts.find(({ id }) => pictures[id] === undefined && loaded[id] !== undefined);
    const home = job.parts.find(({ id }) => id === firstId) ?? job.parts[0];
    const shown = next ?? home;
    if (shown && shown.id !== activeId) showPart(store, shown.id);
  }, [store, pictures, activeId, job, firstId]);

  return (
    <div
      ref={desk}
      className="paper-desk"
      tabIndex={0}
      aria-label="Run sheet as it will be printed"
      role="region"
    >
      {plan?.ok ? (
        <div className="paper-zoom" style={{ zoom }}>
          <PaperSheet
            job={{ ...job, parts: [...hung] }}
            plan={plan.value}
            measures={measures}
            faces={Object.fromEntries(Object.entries(meshes).map(([id, mesh]) => [id, mesh.geometry.faces]))}
            pinPlaces={pinsInWords}
            messages={messages}
            wet={wet}
            system={system}
            pictures={pictures}
            hanging={hanging}
            tank={tank}
            thickness={thickness}
            date={new Date().toLocaleDateString(undefined, {
              year: 'numeric',
              month: 'long',
              day: 'numeric',
            })}
          />
        </div>
      ) : (
        <p className="lead">There is no plan to print yet.</p>
      )}
    </div>
  );
}
