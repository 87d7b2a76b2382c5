import { Canvas, useFrame, useThree, type EventManager } from '@react-three/fiber';
import {
  useEffect,
  useId,
  useLayoutEffect,
  useRef,
  useState,
  type KeyboardEvent,
  type ReactNode,
  type RefObject,
} from 'react';
import type { OrthographicCamera } from 'three';
import { TankEngine } from './tank-engine.ts';
import type { TankViewProps } from './tank-props.ts';
import { ViewBoundary } from './view-boundary.tsx';
import { moveByKey } from './view-keys.ts';
import type { StandardView } from './viewport-props.ts';
import { hasWebGl2 } from './webgl-support.ts';
import './viewport.css';

const noEvents = (): EventManager<HTMLElement> => ({ enabled: false, priority: 0 });
const GL = { antialias: true, alpha: true, powerPreference: 'high-performance' } as const;
const DPR: [number, number] = [1, 2];
const VIEWS: readonly { readonly view: StandardView; readonly label: string }[] = [
  { view: 'corner', label: 'Corner' },
  { view: 'front', label: 'Front' },
  { view: 'right', label: 'Right' },
  { view: 'top', label: 'Top' },
];

interface TankViewShell extends TankViewProps {
  /** A button of the window's own look. */
  readonly renderTool: (label: string, onPress: () => void) => ReactNode;
}

/** The tank in 3D with what hangs in it. Copies are dragged with mouse or finger; the panel's numbers do the same by keyboard. */
export function TankView(props: TankViewShell): ReactNode {
  const { tank, parts, copies, wires, lines, selectedId, theme, label, renderTool } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [engine, setEngine] = useState<TankEngine | null>(null);
  const [supported] = useState(hasWebGl2);
  const keysId = useId();
  useLayoutEffect(() => engine?.setEvents(props));
  useEffect(() => engine?.setTank(tank, theme), [engine, tank, theme]);
  useEffect(
    () => engine?.show({ parts, copies, wires, lines, selectedId, theme }),
    [engine, parts, copies, wires, lines, selectedId, theme],
  );
  const onKeyDown = (event: KeyboardEvent): void => {
    if (engine && moveByKey(event, engine)) event.preventDefault();
  };
  const missing = (
    <p className="viewport-message" role="alert">
      The 3D view can’t draw on this computer; place the copies by the numbers in the panel.
    </p>
  );
  return (
    <>
      <div
        className="viewport"
        role="application"
        aria-roledescription="3D view of the tank"
        aria-label={label}
        aria-describedby={keysId}
        tabIndex={0}
        onKeyDown={onKeyDown}
      >
        <p id={keysId} className="viewport-keys">
          Arrow keys turn the view, Shift with arrows moves it, plus and minus zoom, F fits it, 1 to 7 show it
          from the front, back, left, right, top, bottom and corner. The panel lists every copy and places it
          by numbers.
        </p>
        {supported ? (
          <ViewBoundary instead={missing}>
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
              <EngineHost svg={svg} onEngine={setEngine} />
            </Canvas>
          </ViewBoundary>
        ) : (
          missing
        )}
        <svg ref={svg} className="viewport-pins" aria-hidden="true" />
      </div>
      <div className="view-tools" role="toolbar" aria-label="View of the tank">
        {VIEWS.map(({ view, label: name }) => (
          <span key={view}>{renderTool(name, () => engine?.look(view))}</span>
        ))}
        {renderTool('Fit', () => engine?.fit())}
      </div>
    </>
  );
}

function EngineHost({
  svg,
  onEngine,
}: {
  readonly svg: RefObject<SVGSVGElement | null>;
  readonly onEngine: (engine: TankEngine | null) => void;
}): null {
  const gl = useThree((state) => state.gl);
  const scene = useThree((state) => state.scene);
  const camera = useThree((state) => state.camera) as OrthographicCamera;
  const size = useThree((state) => state.size);
  const invalidate = useThree((state) => state.invalidate);
  const engine = useRef<TankEngine | null>(null);
  useEffect(() => {
    if (!svg.current) return;
    const made = new TankEngine({
      scene,
      camera,
      canvas: gl.domElement,
      svg: svg.current,
      redraw: () => invalidate(),
    });
    engine.current = made;
    onEngine(made);
    return () => {
      engine.current = null;
      onEngine(null);
      made.dispose();
    };
  }, [gl, scene, camera, invalidate, svg, onEngine]);
  useLayoutEffect(() => {
    engine.current?.setSize(size.width, size.height);
  });
  useFrame(() => {
    engine.current?.setSize(size.width, size.height);
    engine.current?.frame();
  });
  return null;
}
