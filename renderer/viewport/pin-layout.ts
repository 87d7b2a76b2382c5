import { Vector3, type OrthographicCamera } from 'three';

export const PIN_BADGE_PX = 15;
const LEADER_PX = 46;

/** A pin ready to be placed on a picture. Scene units. */
export interface PinSpot {
  readonly at: Vector3;
  readonly normal: Vector3;
}

export interface PlacedPin {
  /** The contact on the picture, pixels from the top left. */
  readonly x: number;
  readonly y: number;
  /** Centre of its numbered badge. */
  readonly badgeX: number;
  readonly badgeY: number;
}

/**
 * Where pins and their badges lie on a picture of widthPx × heightPx: each badge stands off along the surface's
 * normal as seen, a little upwards, and badges push each other apart so that every number can be read.
 */
export function layoutPins(
  pins: readonly PinSpot[],
  camera: OrthographicCamera,
  widthPx: number,
  heightPx: number,
): PlacedPin[] {
  const right = new Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
  const up = new Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
  const placed = pins.map((pin) => {
    const seen = pin.at.clone().project(camera);
    const x = ((seen.x + 1) / 2) * widthPx;
    const y = ((1 - seen.y) / 2) * heightPx;
    let acrossX = pin.normal.dot(right);
    let acrossY = pin.normal.dot(up) + 0.3;
    const length = Math.hypot(acrossX, acrossY);
    if (length < 0.1) {
      acrossX = 0.6;
      acrossY = 0.8;
    } else {
      acrossX /= length;
      acrossY /= length;
    }
    return { x, y, badgeX: x + acrossX * LEADER_PX, badgeY: y - acrossY * LEADER_PX };
  });
  const apart = 2 * PIN_BADGE_PX + 6;
  for (let round = 0; round < 6; round++) {
    for (let i = 0; i < placed.length; i++) {
      for (let j = i + 1; j < placed.length; j++) push(placed[i]!, placed[j]!, apart);
    }
  }
  return placed;
}

function push(
  a: { badgeX: number; badgeY: number },
  b: { badgeX: number; badgeY: number },
  apart: number,
): void {
  let dx = b.badgeX - a.badgeX;
  let dy = b.badgeY - a.badgeY;
  const distance = Math.hypot(dx, dy);
  if (distance >= apart) return;
  if (distance < 1e-3) {
    dx = 1;
    dy = 0;
  } else {
    dx /= distance;
    dy /= distance;
  }
  const half = (apart - distance) / 2;
  a.badgeX -= dx * half;
  a.badgeY -= dy * half;
  b.badgeX += dx * half;
  b.badgeY += dy * half;
}
