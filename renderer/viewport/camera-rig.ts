import { OrbitControls } from 'three-stdlib';
import { Quaternion, Vector3, type OrthographicCamera } from 'three';
import type { StandardView } from './viewport-props.ts';

/** Where the camera stands in each view, seen from the part, in axes where z is up and the front faces −y. */
const STAND: Record<StandardView, readonly [number, number, number]> = {
  front: [0, -1, 0],
  back: [0, 1, 0],
  left: [-1, 0, 0],
  right: [1, 0, 0],
  // A hair off the pole, so that the screen's up is the part's back (top) and front (bottom).
  top: [0, -1e-4, 1],
  bottom: [0, -1e-4, -1],
  corner: [0.55, -0.74, 0.46],
};

const DISTANCE = 4;
/** The part's bounding sphere has radius 1; a little air against rounding. */
const REACH = 1.06;

/**
 * The camera: parallel projection, so that the scale bar is true everywhere and no wall is cut open by coming near.
 * Scene units: part's centre at the origin, bounding sphere of radius 1. `camera.zoom` is CSS pixels per scene unit.
 */
export class CameraRig {
  readonly camera: OrthographicCamera;
  readonly #controls: OrbitControls;
  readonly #frame = new Quaternion();
  readonly #halfSize = new Vector3(1, 1, 1);
  #widthPx = 1;
  #heightPx = 1;

  constructor(camera: OrthographicCamera, canvas: HTMLElement, onChange: () => void) {
    this.camera = camera;
    const controls = new OrbitControls(camera, canvas);
    controls.enableDamping = false;
    controls.rotateSpeed = 0.9;
    controls.zoomToCursor = true;
    controls.addEventListener('change', onChange);
    this.#controls = controls;
    this.setUp([0, 0, 1]);
  }

  /** Half the part's extents, scene units. */
  setPart(halfSize: Vector3): void {
    this.#halfSize.copy(halfSize);
  }

  setSize(widthPx: number, heightPx: number): void {
    this.#widthPx = Math.max(1, widthPx);
    this.#heightPx = Math.max(1, heightPx);
  }

  setUp(up: readonly [number, number, number]): void {
    const direction = new Vector3(...up).normalize();
    this.#frame.setFromUnitVectors(new Vector3(0, 0, 1), direction);
    this.camera.up.copy(direction);
  }

  look(view: StandardView): void {
    this.poseFor(view, this.camera);
    this.fit();
  }

  /** Puts `camera` where `view` is seen from, the part in its middle. */
  poseFor(view: StandardView, camera: OrthographicCamera): void {
    const stand = new Vector3(...STAND[view]).normalize().applyQuaternion(this.#frame);
    camera.up.copy(this.camera.up);
    camera.position.copy(stand).multiplyScalar(DISTANCE);
    camera.lookAt(0, 0, 0);
  }

  /** Moves `camera` so that the part is in its middle, turned as it is. */
  recentre(camera: OrthographicCamera): void {
    camera.position.copy(camera.getWorldDirection(new Vector3())).multiplyScalar(-DISTANCE);
  }

  fit(): void {
    const { camera } = this;
    this.#controls.target.set(0, 0, 0);
    this.recentre(camera);
    camera.zoom = this.fitZoom(camera, this.#widthPx, this.#heightPx, 64);
    this.#controls.minZoom = camera.zoom / 8;
    this.#controls.maxZoom = camera.zoom * 400;
    this.apply();
  }

  /** Pixels per scene unit at which the part's box, seen by `camera`, fills the picture within its margin. */
  fitZoom(camera: OrthographicCamera, widthPx: number, heightPx: number, marginPx: number): number {
    camera.updateMatrixWorld();
    const right = new Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
    const up = new Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
    const spread = (axis: Vector3): number =>
      Math.abs(axis.x) * this.#halfSize.x +
      Math.abs(axis.y) * this.#halfSize.y +
      Math.abs(axis.z) * this.#halfSize.z;
    const across = Math.max(widthPx - 2 * marginPx, widthPx * 0.4);
    const upward = Math.max(heightPx - 2 * marginPx, heightPx * 0.4);
    return Math.min(across / (2 * spread(right)), upward / (2 * spread(up)), 1e6);
  }

  orbitBy(azimuthRad: number, polarRad: number): void {
    // Setters of the library keep the distance and respect the poles.
    if (azimuthRad !== 0) this.#controls.setAzimuthalAngle(this.#controls.getAzimuthalAngle() + azimuthRad);
    if (polarRad !== 0) {
      const polar = this.#controls.getPolarAngle() + polarRad;
      this.#controls.setPolarAngle(Math.min(Math.PI - 1e-4, Math.max(1e-4, polar)));
    }
  }

  panBy(rightPx: number, upPx: number): void {
    const { camera } = this;
    camera.updateMatrixWorld();
    const shift = new Vector3()
      .setFromMatrixColumn(camera.matrixWorld, 0)
      .multiplyScalar(rightPx / camera.zoom);
    shift.addScaledVector(new Vector3().setFromMatrixColumn(camera.matrixWorld, 1), upPx / camera.zoom);
    camera.position.add(shift);
    this.#controls.target.add(shift);
    this.apply();
  }

  /** Zooms so that the point of the part under (xPx, yPx), from the window's centre and upwards, stays there. */
  zoomBy(factor: number, xPx: number, yPx: number): void {
    const before = this.camera.zoom;
    const after = Math.min(this.#controls.maxZoom, Math.max(this.#controls.minZoom, before * factor));
    this.camera.zoom = after;
    this.panBy(xPx * (after / before - 1), yPx * (after / before - 1));
  }

  /** Moves the pivot along the line of sight to the depth of `point`; the picture stays the same. */
  pivotAtDepthOf(point: Vector3): void {
    const direction = this.camera.getWorldDirection(new Vector3());
    const deeper = point.clone().sub(this.#controls.target).dot(direction);
    this.#controls.target.addScaledVector(direction, deeper);
    this.camera.position.addScaledVector(direction, deeper);
    this.apply();
  }

  setEnabled(enabled: boolean): void {
    this.#controls.enabled = enabled;
  }

  /** Puts near and far around the part and tells the library that the camera moved. */
  apply(): void {
    this.clip();
    this.camera.updateProjectionMatrix();
    this.#controls.update();
  }

  clip(): void {
    clipToPart(this.camera);
  }

  dispose(): void {
    this.#controls.dispose();
  }
}

/** In a parallel projection near may be negative: the camera may stand inside the part. */
export function clipToPart(camera: OrthographicCamera): void {
  const direction = camera.getWorldDirection(new Vector3());
  const depth = -camera.position.dot(direction);
  const near = depth - REACH;
  const far = depth + REACH;
  if (camera.near === near && camera.far === far) return;
  camera.near = near;
  camera.far = far;
  camera.updateProjectionMatrix();
}
