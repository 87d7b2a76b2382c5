import {
  useCallback,
  useEffect,
  useId,
  useLayoutEffect,
  useRef,
  useState,
  type KeyboardEvent,
  type ReactNode,
} from 'react';
import { EngineCanvas, type CanvasSurroundings } from './engine-canvas.tsx';
import { TankEngine } from './tank-engine.ts';
import type { TankViewProps } from './tank-props.ts';
import { ViewBoundary } from './view-boundary.tsx';
import { moveByKey } from './view-keys.ts';
import { LOST, ViewMessage } from './view-message.tsx';
import type { StandardView } from './viewport-props.ts';
import { hasWebGl2 } from './webgl-support.ts';
import './viewport.css';

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
  const [lost, setLost] = useState(false);
  const make = useCallback(
    (around: CanvasSurroundings): TankEngine | null =>
      svg.current ? new TankEngine({ ...around, svg: svg.current }) : null,
    [],
  );
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
    <ViewMessage
      cause="The 3D view can’t draw on this computer."
      remedy="Place the copies by the numbers in the panel."
    />
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
            <EngineCanvas make={make} onEngine={setEngine} onLost={setLost} />
          </ViewBoundary>
        ) : (
          missing
        )}
        <svg ref={svg} className="viewport-pins" aria-hidden="true" />
        {lost && LOST}
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
