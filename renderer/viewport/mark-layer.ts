import type { Vector3, OrthographicCamera } from 'three';
import type { ViewportMark } from './viewport-props.ts';

const SVG = 'http://www.w3.org/2000/svg';

/** Shape of a mark around 0, 0; each kind its own, so that it does not hang on colour. */
const SHAPE: Readonly<Record<ViewportMark['kind'], string>> = {
  // A drop, hanging from its place.
  drip: 'M0 0C7 9 8 12 8 15A8 8 0 0 1 -8 15C-8 12 -7 9 0 0Z',
  // Quartered disc, as on drawings.
  centre: 'M0 -9A9 9 0 0 1 9 0H-9A9 9 0 0 0 0 9V-9Z',
  proposal: 'M-9 -9H9V9H-9Z',
};

/** Small signs over the 3D view: where the last drop hangs, the centre of gravity, proposed contacts. Not to be clicked. */
export class MarkLayer {
  readonly #group: SVGGElement;
  #marks: readonly { readonly mark: ViewportMark; readonly element: SVGGElement }[] = [];

  constructor(svg: SVGSVGElement) {
    this.#group = document.createElementNS(SVG, 'g');
    svg.prepend(this.#group);
  }

  setMarks(marks: readonly ViewportMark[]): void {
    this.#group.replaceChildren();
    this.#marks = marks.map((mark) => {
      const element = document.createElementNS(SVG, 'g');
      element.setAttribute('class', 'view-mark');
      element.dataset.kind = mark.kind;
      if (mark.kind === 'centre') {
        const ring = document.createElementNS(SVG, 'circle');
        ring.setAttribute('r', '9');
        element.append(ring);
      }
      const shape = document.createElementNS(SVG, 'path');
      shape.setAttribute('d', SHAPE[mark.kind]);
      element.append(shape);
      if (mark.label) {
        const text = document.createElementNS(SVG, 'text');
        text.setAttribute('text-anchor', 'middle');
        text.setAttribute('dy', '0.36em');
        text.textContent = mark.label;
        element.append(text);
      }
      this.#group.append(element);
      return { mark, element };
    });
  }

  /** Before each frame. */
  place(
    toScene: (model: readonly [number, number, number]) => Vector3,
    camera: OrthographicCamera,
    widthPx: number,
    heightPx: number,
  ): void {
    for (const { mark, element } of this.#marks) {
      const seen = toScene(mark.at).project(camera);
      const x = ((seen.x + 1) / 2) * widthPx;
      const y = ((1 - seen.y) / 2) * heightPx;
      element.setAttribute('transform', `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
    }
  }
}
