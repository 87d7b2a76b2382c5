import { Vector3, type OrthographicCamera } from 'three';

export const PIN_BADGE_PX = 15;
/** The dot at the contact itself. */
export const PIN_FOOT_PX = 4;
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
 * normal as seen, outwards from the part's middle and a little upwards; badges keep off each other and off the feet
 * of other pins, so that every number and every contact can be seen.
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
    // The part's middle is the origin, its size about 1.
    let acrossX = pin.normal.dot(right) + 0.4 * pin.at.dot(right);
    let acrossY = pin.normal.dot(up) + 0.4 * pin.at.dot(up) + 0.2;
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
  for (let round = 0; round < 8; round++) {
    for (let i = 0; i < placed.length; i++) {
      const badge = placed[i]!;
      for (let j = 0; j < placed.length; j++) {
        const other = placed[j]!;
        if (j > i) pushApart(badge, other);
        if (j !== i) pushOff(badge, other.x, other.y);
      }
    }
  }
  const edge = PIN_BADGE_PX + 6;
  for (const badge of placed) {
    const isInside = badge.x >= 0 && badge.x <= widthPx && badge.y >= 0 && badge.y <= heightPx;
    if (!isInside) continue;
    badge.badgeX = Math.min(widthPx - edge, Math.max(edge, badge.badgeX));
    badge.badgeY = Math.min(heightPx - edge, Math.max(edge, badge.badgeY));
  }
  return placed;
}

interface Badge {
  badgeX: number;
  badgeY: number;
}

const BADGES_APART_PX = 2 * PIN_BADGE_PX + 8;
const BADGE_FROM_FOOT_PX = PIN_BADGE_PX + 10;

function pushApart(a: Badge, b: Badge): void {
  const [dx, dy, lack] = lackOfRoom(b.badgeX - a.badgeX, b.badgeY - a.badgeY, BADGES_APART_PX);
  a.badgeX -= (dx * lack) / 2;
  a.badgeY -= (dy * lack) / 2;
  b.badgeX += (dx * lack) / 2;
  b.badgeY += (dy * lack) / 2;
}

function pushOff(badge: Badge, footX: number, footY: number): void {
  const [dx, dy, lack] = lackOfRoom(badge.badgeX - footX, badge.badgeY - footY, BADGE_FROM_FOOT_PX);
  badge.badgeX += dx * lack;
  badge.badgeY += dy * lack;
}

/** Direction of (dx, dy) and how much it is shorter than `wanted`. */
function lackOfRoom(dx: number, dy: number, wanted: number): [number, number, number] {
  const distance = Math.hypot(dx, dy);
  if (distance >= wanted) return [0, 0, 0];
  if (distance < 1e-3) return [1, 0, wanted];
  return [dx / distance, dy / distance, wanted - distance];
}
