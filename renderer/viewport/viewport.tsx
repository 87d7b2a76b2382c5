import { Canvas, useFrame, useThree, type EventManager } from '@react-three/fiber';
import {
  useEffect,
  useId,
  useImperativeHandle,
  useLayoutEffect,
  useRef,
  useState,
  type KeyboardEvent,
  type ReactNode,
  type RefObject,
} from 'react';
import type { OrthographicCamera } from 'three';
import { ViewBoundary } from './view-boundary.tsx';
import { ViewEngine, type ViewSurroundings } from './view-engine.ts';
import { ViewFurniture, type ViewFurnitureHandle } from './view-furniture.tsx';
import { moveByKey } from './view-keys.ts';
import type { Point3, ViewportMark, ViewportProps } from './viewport-props.ts';
import { hasWebGl2 } from './webgl-support.ts';
import './viewport.css';

const UP: Point3 = [0, 0, 1];
const NO_MARKS: readonly ViewportMark[] = [];

/** Picking is ours, through the tree: the library's own event system stays out of the way. */
const noEvents = (): EventManager<HTMLElement> => ({ enabled: false, priority: 0 });

const GL = { antialias: true, alpha: true, powerPreference: 'high-performance' } as const;
const DPR: [number, number] = [1, 2];

/**
 * The part in 3D: turned, selected on and pinned with mouse, finger or keys. Draws only when something changed.
 * Without WebGL, or when the driver takes it away, a message stands in its place and the page goes on.
 */
export function Viewport(props: ViewportProps): ReactNode {
  const { ref, geometry, edges, pickIndex, styleOfTriangle, styleVersion, pins, theme, mode, label } = props;
  const upDirection = props.upDirection ?? UP;
  const marks = props.marks ?? NO_MARKS;
  const stage = useRef<HTMLDivElement>(null);
  const pinSvg = useRef<SVGSVGElement>(null);
  const furniture = useRef<ViewFurnitureHandle>(null);
  const [engine, setEngine] = useState<ViewEngine | null>(null);
  /** For the handle, which keeps its identity while engines come and go. */
  const current = useRef<ViewEngine | null>(null);
  const [supported] = useState(hasWebGl2);
  const [lost, setLost] = useState(false);
  const keysId = useId();
  const { lengthUnit, metresPerUnit } = props;

  const scale = useRef({ lengthUnit, metresPerUnit });
  useLayoutEffect(() => {
    scale.current = { lengthUnit, metresPerUnit };
    engine?.redraw();
  }, [engine, lengthUnit, metresPerUnit]);

  // In the order in which each builds on the one before.
  useLayoutEffect(() => {
    current.current = engine;
    engine?.setEvents(props);
  });
  useEffect(() => engine?.setTheme(theme), [engine, theme]);
  useEffect(() => engine?.setUp(upDirection), [engine, upDirection]);
  useEffect(() => engine?.setPart(geometry, props.partKey), [engine, geometry, props.partKey]);
  useEffect(() => engine?.setEdges(edges), [engine, edges, geometry]);
  useEffect(() => engine?.setStyles(styleOfTriangle), [engine, styleOfTriangle, styleVersion, geometry]);
  useEffect(() => engine?.setScalar(props.scalar ?? null), [engine, props.scalar, geometry]);
  useEffect(() => engine?.setClip(props.clip ?? null), [engine, props.clip, geometry]);
  useEffect(() => engine?.setMode(mode, props.newPinPatchRadius), [engine, mode, props.newPinPatchRadius]);
  useEffect(() => engine?.setPins(pins), [engine, pins, geometry]);
  useEffect(() => engine?.setMarks(marks), [engine, marks, geometry]);
  useEffect(() => engine?.setPickIndex(pickIndex), [engine, pickIndex, geometry]);

  useImperativeHandle(
    ref,
    () => ({
      fit: () => current.current?.fit(),
      look: (view) => current.current?.look(view),
      snapshot: (request) => current.current?.snapshot(request) ?? null,
    }),
    [],
  );

  const onKeyDown = (event: KeyboardEvent): void => {
    if (engine && moveByKey(event, engine)) event.preventDefault();
  };

  return (
    <div
      ref={stage}
      className="viewport"
      data-mode={mode}
      role="application"
      aria-roledescription="3D view"
      aria-label={label}
      aria-describedby={keysId}
      tabIndex={0}
      onKeyDown={onKeyDown}
    >
      <p id={keysId} className="viewport-keys">
        Arrow keys turn the part, Shift with arrows moves it, plus and minus zoom, F fits it, 1 to 7 show it
        from the front, back, left, right, top, bottom and corner. Faces and contacts are also listed in the
        panel.
      </p>
      {supported ? (
        <ViewBoundary instead={NO_WEBGL}>
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
            <EngineHost
              stage={stage}
              pinSvg={pinSvg}
              furniture={furniture}
              scale={scale}
              onEngine={setEngine}
              onLost={setLost}
            />
          </Canvas>
        </ViewBoundary>
      ) : (
        NO_WEBGL
      )}
      <svg ref={pinSvg} className="viewport-pins" aria-hidden="true" />
      {/* Axes and scale belong to a picture: without one they would point nowhere. */}
      {engine ? <ViewFurniture ref={furniture} /> : null}
      {lost && (
        <ViewMessage
          cause="The graphics driver has stopped the 3D view."
          remedy="It comes back by itself when the driver does; your job is untouched and the rest of the program goes on working."
        />
      )}
      {supported && geometry && !pickIndex && !lost && !props.isPicture && (
        <p className="viewport-hint" role="status">
          Getting ready to select: a click now is answered in a moment.
        </p>
      )}
    </div>
  );
}

function ViewMessage({ cause, remedy }: { readonly cause: string; readonly remedy: string }): ReactNode {
  return (
    <div className="viewport-message" role="alert">
      <p>{cause}</p>
      <p>{remedy}</p>
    </div>
  );
}

const NO_WEBGL = (
  <ViewMessage
    cause="The 3D view can't draw: WebGL 2 is not to be had from this computer's graphics."
    remedy="Update the graphics driver or switch on hardware acceleration; all other parts of the program work without it."
  />
);

interface EngineHostProps {
  readonly stage: RefObject<HTMLDivElement | null>;
  readonly pinSvg: RefObject<SVGSVGElement | null>;
  readonly furniture: RefObject<ViewFurnitureHandle | null>;
  readonly scale: RefObject<{ readonly lengthUnit: 'mm' | 'in'; readonly metresPerUnit: number }>;
  readonly onEngine: (engine: ViewEngine | null) => void;
  readonly onLost: (lost: boolean) => void;
}

/** Inside the canvas: makes the engine once the renderer is there and passes frames and sizes on. */
function EngineHost({ stage, pinSvg, furniture, scale, onEngine, onLost }: EngineHostProps): null {
  const gl = useThree((state) => state.gl);
  const scene = useThree((state) => state.scene);
  const camera = useThree((state) => state.camera) as OrthographicCamera;
  const size = useThree((state) => state.size);
  const invalidate = useThree((state) => state.invalidate);
  const engine = useRef<ViewEngine | null>(null);

  useEffect(() => {
    if (!stage.current || !pinSvg.current) return;
    const canvas = gl.domElement;
    const surroundings: ViewSurroundings = {
      gl,
      scene,
      camera,
      canvas,
      stage: stage.current,
      pinSvg: pinSvg.current,
      redraw: () => invalidate(),
      onFrame: ({ modelUnitsPerPixel, camera: seen }) => {
        const { lengthUnit, metresPerUnit } = scale.current;
        const metresPerPixel = modelUnitsPerPixel === null ? null : modelUnitsPerPixel * metresPerUnit;
        furniture.current?.show(seen, metresPerPixel, lengthUnit);
      },
    };
    const made = new ViewEngine(surroundings);
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
  }, [gl, scene, camera, invalidate, stage, pinSvg, furniture, scale, onEngine, onLost]);

  useLayoutEffect(() => {
    engine.current?.setSize(size.width, size.height);
  });
  useFrame(() => {
    engine.current?.setSize(size.width, size.height);
    engine.current?.frame();
  });
  return null;
}
