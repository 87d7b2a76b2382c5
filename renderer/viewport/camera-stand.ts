import { Vector3, type OrthographicCamera } from 'three';
import { CameraRig } from './camera-rig.ts';
import type { StandardView } from './viewport-props.ts';

/**
 * What the part's view and the tank's have in common: where they are seen from, how large the picture is, and the moves
 * of mouse, keys and buttons. A view that the user has not turned or moved is fitted anew to a new window size.
 */
export class CameraStand {
  protected readonly rig: CameraRig;
  protected widthPx = 1;
  protected heightPx = 1;
  /** False once the user turned or moved the view: then a new window size no longer refits it. */
  protected fitted = true;
  readonly redraw: () => void;

  constructor(camera: OrthographicCamera, canvas: HTMLElement, redraw: () => void) {
    this.redraw = redraw;
    this.rig = new CameraRig(camera, canvas, () => {
      this.fitted = false;
      redraw();
    });
  }

  setSize(widthPx: number, heightPx: number): void {
    if (widthPx === this.widthPx && heightPx === this.heightPx) return;
    this.widthPx = Math.max(1, widthPx);
    this.heightPx = Math.max(1, heightPx);
    this.rig.setSize(widthPx, heightPx);
    if (this.fitted) this.fit();
    this.redraw();
  }

  fit(): void {
    this.rig.fit();
    this.fitted = true;
    this.redraw();
  }

  look(view: StandardView): void {
    this.rig.look(view);
    this.fitted = true;
    this.redraw();
  }

  orbitBy(azimuthRad: number, polarRad: number): void {
    this.rig.orbitBy(azimuthRad, polarRad);
  }

  panBy(rightPx: number, upPx: number): void {
    this.rig.panBy(rightPx, upPx);
  }

  /** Around a point given from the middle of the window, upwards. */
  zoomBy(factor: number, xPx = 0, yPx = 0): void {
    this.rig.zoomBy(factor, xPx, yPx);
    this.fitted = false;
    this.redraw();
  }

  /** The line of sight through a place of the picture, scene units; its start may lie behind the eye. */
  protected sight(xPx: number, yPx: number): { readonly origin: Vector3; readonly direction: Vector3 } {
    const { camera } = this.rig;
    camera.updateMatrixWorld();
    const near = new Vector3((xPx / this.widthPx) * 2 - 1, 1 - (yPx / this.heightPx) * 2, -1);
    return { origin: near.unproject(camera), direction: camera.getWorldDirection(new Vector3()) };
  }
}
