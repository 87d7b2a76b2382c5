import { useImperativeHandle, useRef, type ReactNode, type Ref } from 'react';
import { Vector3, type OrthographicCamera } from 'three';
import { scaleBar } from './scale-bar.ts';

const AXES = [
  { name: 'x', direction: new Vector3(1, 0, 0) },
  { name: 'y', direction: new Vector3(0, 1, 0) },
  { name: 'z', direction: new Vector3(0, 0, 1) },
] as const;
const ARM_PX = 26;
const LETTER_PX = 37;
const MAX_BAR_PX = 150;

export interface ViewFurnitureHandle {
  show(camera: OrthographicCamera, metresPerPixel: number | null, unit: 'mm' | 'in'): void;
}

/** Axes of the model and scale bar, over the view; written to directly, since they follow every frame. */
export function ViewFurniture({ ref }: { readonly ref: Ref<ViewFurnitureHandle> }): ReactNode {
  const svg = useRef<SVGSVGElement>(null);
  const bar = useRef<HTMLDivElement>(null);
  useImperativeHandle(
    ref,
    () => ({
      show(camera, metresPerPixel, unit) {
        if (svg.current) turnAxes(svg.current, camera);
        if (bar.current) showBar(bar.current, metresPerPixel, unit);
      },
    }),
    [],
  );
  return (
    <>
      <svg ref={svg} className="view-axes" viewBox="-48 -48 96 96" aria-hidden="true">
        {AXES.map(({ name }) => (
          <g key={name} data-axis={name}>
            <line x1="0" y1="0" />
            <text textAnchor="middle" dy="0.35em">
              {name.toUpperCase()}
            </text>
          </g>
        ))}
      </svg>
      <div ref={bar} className="view-scale" hidden>
        <span className="view-scale-text" />
        <span className="view-scale-bar" />
      </div>
    </>
  );
}

function turnAxes(svg: SVGSVGElement, camera: OrthographicCamera): void {
  const turned = AXES.map(({ name, direction }) => ({
    group: svg.querySelector<SVGGElement>(`[data-axis="${name}"]`)!,
    seen: direction.clone().transformDirection(camera.matrixWorldInverse),
  }));
  // Axes that point at the viewer lie above the others.
  turned.sort((a, b) => a.seen.z - b.seen.z);
  for (const { group, seen } of turned) {
    const line = group.querySelector('line')!;
    line.setAttribute('x2', (seen.x * ARM_PX).toFixed(2));
    line.setAttribute('y2', (-seen.y * ARM_PX).toFixed(2));
    const text = group.querySelector('text')!;
    text.setAttribute('x', (seen.x * LETTER_PX).toFixed(2));
    text.setAttribute('y', (-seen.y * LETTER_PX).toFixed(2));
    group.dataset.away = String(seen.z < -0.2);
    svg.append(group);
  }
}

function showBar(bar: HTMLDivElement, metresPerPixel: number | null, unit: 'mm' | 'in'): void {
  bar.hidden = metresPerPixel === null;
  if (metresPerPixel === null) return;
  const { widthPx, text } = scaleBar(metresPerPixel, unit, MAX_BAR_PX);
  bar.querySelector('.view-scale-text')!.textContent = text;
  bar.querySelector<HTMLElement>('.view-scale-bar')!.style.width = `${widthPx.toFixed(1)}px`;
}
