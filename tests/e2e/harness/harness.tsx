/** The 3D view alone on a page, under the page's real content policy, driven by viewport.test.ts. */
import { StrictMode, useEffect, useRef, useState, type ReactNode } from 'react';
import { createRoot } from 'react-dom/client';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import type { Failure } from '../../../core/result.ts';
import { FACE_LEGEND } from '../../../renderer/viewport/face-legend.ts';
import { LegendSwatch } from '../../../renderer/viewport/legend-swatch.tsx';
import { Viewport } from '../../../renderer/viewport/viewport.tsx';
import type {
  Point3,
  SurfaceHit,
  SurfacePick,
  ViewportHandle,
  ViewportPin,
} from '../../../renderer/viewport/viewport-props.ts';
import { useViewportTheme } from '../../../renderer/viewport/viewport-theme.ts';
import { createWorkerClient, type WorkerClient } from '../../../renderer/worker/client.ts';
import type { JobProgress, ReadPart, SerializedPickIndex } from '../../../renderer/worker/jobs.ts';
import { startWorker } from '../../../renderer/worker/start-worker.ts';
import '../../../renderer/app/tokens.css';
import './harness.css';

interface Shown {
  part: ReadPart | null;
  pickIndex: SerializedPickIndex | null;
  pins: ViewportPin[];
  upDirection: Point3;
  mode: 'select' | 'place-pin';
  lengthUnit: 'mm' | 'in';
  mounted: boolean;
}

export interface Harness {
  readonly worker: WorkerClient;
  readonly picks: SurfacePick[];
  readonly hovers: (number | null)[];
  readonly pinPicks: string[];
  readonly pinMoves: { id: string; to: SurfaceHit }[];
  misses: number;
  readonly progress: JobProgress[];
  part: ReadPart | null;
  open(url: string, withIndex?: boolean): Promise<Failure | null>;
  buildIndex(): Promise<void>;
  show(change: Partial<Shown>): void;
  /** Sets `bits` on all triangles of these faces. */
  style(faces: readonly number[], bits: number): void;
  handle(): ViewportHandle;
}

declare global {
  interface Window {
    harness: Harness;
  }
}

const worker = createWorkerClient(startWorker);
let styles = new Uint8Array(0);
let styleVersion = 0;
let change: (next: Partial<Shown>) => void = () => {};
let handle: ViewportHandle | null = null;

window.harness = {
  worker,
  picks: [],
  hovers: [],
  pinPicks: [],
  pinMoves: [],
  misses: 0,
  progress: [],
  part: null,
  async open(url, withIndex = true) {
    const read = await worker.run(
      'readModel',
      { name: url, content: { via: 'url', url }, splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD },
      { onProgress: (progress) => window.harness.progress.push(progress) },
    );
    if (!read.ok) return read.error;
    window.harness.part = read.value;
    styles = new Uint8Array(read.value.geometry.triangleCount);
    styleVersion++;
    change({ part: read.value, pickIndex: null, pins: [] });
    if (withIndex) await window.harness.buildIndex();
    return null;
  },
  async buildIndex() {
    const { positions } = window.harness.part!.geometry;
    const built = await worker.run('buildPickIndex', { name: 'part', positions });
    if (!built.ok) throw new Error(built.error.message);
    change({ pickIndex: built.value });
  },
  show: (next) => change(next),
  style(faces, bits) {
    const wanted = new Set(faces);
    const { faceOfTriangle } = window.harness.part!.geometry.faces;
    for (let t = 0; t < styles.length; t++) if (wanted.has(faceOfTriangle[t]!)) styles[t] = styles[t]! | bits;
    styleVersion++;
    change({});
  },
  handle: () => handle!,
};

function Page(): ReactNode {
  const theme = useViewportTheme();
  const ref = useRef<ViewportHandle>(null);
  const [shown, setShown] = useState<Shown>({
    part: null,
    pickIndex: null,
    pins: [],
    upDirection: [0, 0, 1],
    mode: 'select',
    lengthUnit: 'mm',
    mounted: true,
  });
  useEffect(() => {
    change = (next) => setShown((before) => ({ ...before, ...next }));
    document.body.dataset.ready = 'true';
  }, []);
  useEffect(() => {
    handle = ref.current;
  });
  const { harness } = window;
  return (
    <main className="harness">
      {shown.mounted ? (
        <Viewport
          ref={ref}
          geometry={shown.part?.geometry ?? null}
          edges={shown.part?.edges ?? null}
          pickIndex={shown.pickIndex}
          styleOfTriangle={styles}
          styleVersion={styleVersion}
          pins={shown.pins}
          metresPerUnit={0.001}
          lengthUnit={shown.lengthUnit}
          upDirection={shown.upDirection}
          theme={theme}
          mode={shown.mode}
          newPinPatchRadius={3}
          label="Part under test"
          onPick={(pick) => harness.picks.push(pick)}
          onMiss={() => harness.misses++}
          onHover={(triangle) => harness.hovers.push(triangle)}
          onPinPick={(id) => harness.pinPicks.push(id)}
          onPinMoved={(id, to) => harness.pinMoves.push({ id, to })}
        />
      ) : (
        <p>no view</p>
      )}
      <div className="harness-legend">
        {FACE_LEGEND.map((entry) => (
          <span key={entry.style}>
            <LegendSwatch entry={entry} /> {entry.label}
          </span>
        ))}
      </div>
    </main>
  );
}

const query = new URLSearchParams(location.search);
if (query.get('theme') === 'dark') document.documentElement.dataset.theme = 'dark';

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <Page />
  </StrictMode>,
);
