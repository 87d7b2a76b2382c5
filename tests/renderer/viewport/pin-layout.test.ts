import { OrthographicCamera, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { layoutPins, PIN_BADGE_PX, type PinSpot } from '../../../renderer/viewport/pin-layout.ts';

/** Looks along −z on 800 × 600 px at 200 px a unit. */
function camera(): OrthographicCamera {
  const made = new OrthographicCamera(-400, 400, 300, -300, -10, 10);
  made.zoom = 200;
  made.updateProjectionMatrix();
  made.updateMatrixWorld();
  return made;
}

const spot = (x: number, y: number, normal: [number, number, number] = [0, 0, 1]): PinSpot => ({
  at: new Vector3(x, y, 0),
  normal: new Vector3(...normal),
});

describe('layoutPins', () => {
  it('puts the foot where the camera sees it', () => {
    const [placed] = layoutPins([spot(0.5, -0.25)], camera(), 800, 600);
    expect(placed!.x).toBeCloseTo(400 + 0.5 * 200, 6);
    expect(placed!.y).toBeCloseTo(300 + 0.25 * 200, 6);
  });

  it('stands the badge off along the normal', () => {
    const [right] = layoutPins([spot(0, 0, [1, 0, 0])], camera(), 800, 600);
    expect(right!.badgeX - right!.x).toBeGreaterThan(2 * PIN_BADGE_PX);
    const [down] = layoutPins([spot(0, -0.5, [0, -1, 0])], camera(), 800, 600);
    expect(down!.badgeY - down!.y).toBeGreaterThan(2 * PIN_BADGE_PX);
  });

  it('keeps badges of neighbouring pins, even in one place, off each other and off feet', () => {
    const pins = [spot(0, 0), spot(0.02, 0), spot(0, 0), spot(0.1, 0.05), spot(-0.05, 0.02)];
    const placed = layoutPins(pins, camera(), 800, 600);
    for (let i = 0; i < placed.length; i++) {
      for (let j = 0; j < i; j++) {
        const [a, b] = [placed[i]!, placed[j]!];
        const apart = Math.hypot(a.badgeX - b.badgeX, a.badgeY - b.badgeY);
        // Touching circles are two radii apart; pushing is iterated, so a few pixels of the wanted gap may be lost.
        expect(apart).toBeGreaterThan(2 * PIN_BADGE_PX);
      }
      for (const [j, other] of placed.entries()) {
        if (j === i) continue;
        const badge = placed[i]!;
        expect(Math.hypot(badge.badgeX - other.x, badge.badgeY - other.y)).toBeGreaterThan(PIN_BADGE_PX);
      }
    }
  });

  it('keeps badges inside the picture', () => {
    const [placed] = layoutPins([spot(1.99, 1.49, [1, 1, 0])], camera(), 800, 600);
    expect(placed!.badgeX).toBeLessThan(800 - PIN_BADGE_PX);
    expect(placed!.badgeY).toBeGreaterThan(PIN_BADGE_PX);
  });
});
