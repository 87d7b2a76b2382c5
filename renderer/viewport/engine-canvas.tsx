import { Canvas, useFrame, useThree, type EventManager } from '@react-three/fiber';
import { memo, useEffect, useLayoutEffect, useRef, type ReactNode } from 'react';
import type { OrthographicCamera, Scene, WebGLRenderer } from 'three';

/** What an engine is made from once the renderer is there. */
export interface CanvasSurroundings {
  readonly gl: WebGLRenderer;
  readonly scene: Scene;
  readonly camera: OrthographicCamera;
  readonly canvas: HTMLCanvasElement;
  /** Asks for one frame. */
  redraw(): void;
}

/** As much of a view's engine as its canvas drives. */
interface Engine {
  setSize(widthPx: number, heightPx: number): void;
  /** Before each frame is drawn. */
  frame(): void;
  dispose(): void;
}

interface EngineCanvasProps<E extends Engine> {
  /** Makes the engine; null where it can't be yet. The same function while the same engine is to stay. */
  readonly make: (around: CanvasSurroundings) => E | null;
  readonly onEngine: (engine: E | null) => void;
  /** The driver has taken the picture away, or given it back. The same function from render to render. */
  readonly onLost: (lost: boolean) => void;
}

/** Picking is ours, through the tree: the library's own event system stays out of the way. */
const noEvents = (): EventManager<HTMLElement> => ({ enabled: false, priority: 0 });
const GL = { antialias: true, alpha: true, powerPreference: 'high-performance' } as const;
const DPR: [number, number] = [1, 2];

/** The canvas of a 3D view and the engine behind it. Draws only when something changed. */
function PlainEngineCanvas<E extends Engine>(props: EngineCanvasProps<E>): ReactNode {
  return (
    <Canvas
      className="viewport-canvas"
      orthographic
      flat
      linear
      frameloop="demand"
      dpr={DPR}
      gl={GL}
      events={noEvents}
    >
      <EngineHost {...props} />
    </Canvas>
  );
}

/** The library draws a frame whenever its canvas is rendered again, so a panel beside it that is must not do that. */
export const EngineCanvas = memo(PlainEngineCanvas) as typeof PlainEngineCanvas;

/** Inside the canvas: makes the engine once the renderer is there and passes frames and sizes on. */
function EngineHost<E extends Engine>({ make, onEngine, onLost }: EngineCanvasProps<E>): null {
  const gl = useThree((state) => state.gl);
  const scene = useThree((state) => state.scene);
  const camera = useThree((state) => state.camera) as OrthographicCamera;
  const size = useThree((state) => state.size);
  const invalidate = useThree((state) => state.invalidate);
  const get = useThree((state) => state.get);
  const engine = useRef<E | null>(null);

  useEffect(() => {
    const canvas = gl.domElement;
    const made = make({ gl, scene, camera, canvas, redraw: () => invalidate() });
    if (!made) return;
    // Told its size only in its first frame, it would ask for a second one at once.
    const { width, height } = get().size;
    made.setSize(width, height);
    engine.current = made;
    onEngine(made);
    const onContextLost = (event: Event): void => {
      event.preventDefault();
      onLost(true);
    };
    const onContextRestored = (): void => {
      onLost(false);
      invalidate();
    };
    canvas.addEventListener('webglcontextlost', onContextLost);
    canvas.addEventListener('webglcontextrestored', onContextRestored);
    return () => {
      canvas.removeEventListener('webglcontextlost', onContextLost);
      canvas.removeEventListener('webglcontextrestored', onContextRestored);
      engine.current = null;
      onEngine(null);
      made.dispose();
    };
  }, [gl, scene, camera, invalidate, get, make, onEngine, onLost]);

  useLayoutEffect(() => {
    engine.current?.setSize(size.width, size.height);
  });
  useFrame(() => {
    engine.current?.setSize(size.width, size.height);
    engine.current?.frame();
  });
  return null;
}
