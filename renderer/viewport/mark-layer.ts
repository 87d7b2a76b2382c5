import type { Vector3, OrthographicCamera } from 'three';
import type { PlacePx } from './label-places.ts';
import { marksAside } from './mark-places.ts';
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

/** Half a letter's box with a little air, and what the centre and the drop take. */
const LETTER_HALF_PX = 11;
const SIGN_PX = 9;

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
      // From a letter that went aside to its place.
      if (mark.kind === 'proposal') element.append(document.createElementNS(SVG, 'line'));
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

  /**
   * Before each frame. Letters go aside where they would lie on each other or on `taken`.
   * @param taken pins on the picture: feet and badges
   */
  place(
    toScene: (model: readonly [number, number, number]) => Vector3,
    camera: OrthographicCamera,
    widthPx: number,
    heightPx: number,
    taken: readonly (PlacePx & { readonly radiusPx: number })[],
  ): void {
    const places = this.#marks.map(({ mark }) => {
      const seen = toScene(mark.at).project(camera);
      return { x: ((seen.x + 1) / 2) * widthPx, y: ((1 - seen.y) / 2) * heightPx };
    });
    const isLetter = (row: number): boolean => this.#marks[row]!.mark.kind === 'proposal';
    const signs = places.filter((_, row) => !isLetter(row)).map((at) => ({ ...at, radiusPx: SIGN_PX }));
    const letters = places.filter((_, row) => isLetter(row));
    const steps = marksAside(letters, LETTER_HALF_PX, [...taken, ...signs]);
    let letter = 0;
    this.#marks.forEach(({ element }, row) => {
      const aside = isLetter(row) ? steps[letter++]! : { x: 0, y: 0 };
      const x = places[row]!.x + aside.x;
      const y = places[row]!.y + aside.y;
      element.setAttribute('transform', `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
      const line = element.querySelector('line');
      line?.setAttribute('x2', (-aside.x).toFixed(1));
      line?.setAttribute('y2', (-aside.y).toFixed(1));
    });
  }
}
