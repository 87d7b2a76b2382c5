import {
  useCallback,
  useEffect,
  useId,
  useImperativeHandle,
  useLayoutEffect,
  useRef,
  useState,
  type KeyboardEvent,
  type ReactNode,
} from 'react';
import { EngineCanvas, type CanvasSurroundings } from './engine-canvas.tsx';
import { ViewBoundary } from './view-boundary.tsx';
import { ViewEngine } from './view-engine.ts';
import { ViewFurniture, type ViewFurnitureHandle } from './view-furniture.tsx';
import { moveByKey } from './view-keys.ts';
import type { Point3, ViewportMark, ViewportProps } from './viewport-props.ts';
import { LOST, ViewMessage } from './view-message.tsx';
import { hasWebGl2 } from './webgl-support.ts';
import './viewport.css';

const UP: Point3 = [0, 0, 1];
const NO_MARKS: readonly ViewportMark[] = [];

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

  const make = useCallback((around: CanvasSurroundings): ViewEngine | null => {
    if (!stage.current || !pinSvg.current) return null;
    return new ViewEngine({
      ...around,
      stage: stage.current,
      pinSvg: pinSvg.current,
      onFrame: ({ modelUnitsPerPixel, camera }) => {
        const shown = scale.current;
        const metresPerPixel = modelUnitsPerPixel === null ? null : modelUnitsPerPixel * shown.metresPerUnit;
        furniture.current?.show(camera, metresPerPixel, shown.lengthUnit);
      },
    });
  }, []);

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
  useEffect(() => engine?.setLevel(props.level ?? null), [engine, props.level, geometry]);
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
          <EngineCanvas make={make} onEngine={setEngine} onLost={setLost} />
        </ViewBoundary>
      ) : (
        NO_WEBGL
      )}
      <svg ref={pinSvg} className="viewport-pins" aria-hidden="true" />
      {/* Axes and scale belong to a picture: without one they would point nowhere. */}
      {engine ? <ViewFurniture ref={furniture} /> : null}
      {lost && LOST}
      {supported && geometry && !pickIndex && !lost && !props.isPicture && (
        <p className="viewport-hint" role="status">
          Getting ready to select: a click now is answered in a moment.
        </p>
      )}
    </div>
  );
}

const NO_WEBGL = (
  <ViewMessage
    cause="The 3D view can't draw: WebGL 2 is not to be had from this computer's graphics."
    remedy="Update the graphics driver or switch on hardware acceleration; all other parts of the program work without it."
  />
);
