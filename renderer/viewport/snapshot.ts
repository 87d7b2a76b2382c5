import {
  LinearFilter,
  WebGLRenderTarget,
  type OrthographicCamera,
  type Scene,
  type WebGLRenderer,
} from 'three';
import { BADGE_PATH } from './pin-layer.ts';
import { PIN_BADGE_PX, type PlacedPin } from './pin-layout.ts';

export interface SnapshotPin {
  readonly number: number;
  readonly level: 'ok' | 'check' | 'stop';
  readonly place: PlacedPin;
  readonly hidden: boolean;
}

/** Draws the scene into a picture of its own, so that the canvas on screen does not flicker or change size. */
export function drawScene(
  gl: WebGLRenderer,
  scene: Scene,
  camera: OrthographicCamera,
  widthPx: number,
  heightPx: number,
): ImageData {
  const target = new WebGLRenderTarget(widthPx, heightPx, { samples: 4, minFilter: LinearFilter });
  const before = gl.getRenderTarget();
  const alpha = gl.getClearAlpha();
  const bottomUp = new Uint8Array(widthPx * heightPx * 4);
  try {
    gl.setClearAlpha(0);
    gl.setRenderTarget(target);
    gl.clear();
    gl.render(scene, camera);
    gl.readRenderTargetPixels(target, 0, 0, widthPx, heightPx, bottomUp);
  } finally {
    gl.setRenderTarget(before);
    gl.setClearAlpha(alpha);
    target.dispose();
  }
  const image = new ImageData(widthPx, heightPx);
  const row = widthPx * 4;
  for (let y = 0; y < heightPx; y++) {
    image.data.set(bottomUp.subarray((heightPx - 1 - y) * row, (heightPx - y) * row), y * row);
  }
  unmultiply(image.data);
  return image;
}

/** Antialiased borders come blended with transparent black; ImageData wants colour and alpha apart. */
function unmultiply(data: Uint8ClampedArray): void {
  for (let i = 0; i < data.length; i += 4) {
    const alpha = data[i + 3]!;
    if (alpha === 0 || alpha === 255) continue;
    for (let k = 0; k < 3; k++) data[i + k] = (data[i + k]! * 255) / alpha;
  }
}

/** Puts background, drawn scene and pins together as a PNG data URL. `scale`: picture pixels in one layout pixel. */
export function composePicture(
  image: ImageData,
  background: string,
  pins: readonly SnapshotPin[],
  scale: number,
): string | null {
  const canvas = document.createElement('canvas');
  canvas.width = image.width;
  canvas.height = image.height;
  const context = canvas.getContext('2d');
  const part = document.createElement('canvas');
  part.width = image.width;
  part.height = image.height;
  const partContext = part.getContext('2d');
  if (!context || !partContext) return null;
  partContext.putImageData(image, 0, 0);
  context.fillStyle = background;
  context.fillRect(0, 0, image.width, image.height);
  context.drawImage(part, 0, 0);
  context.scale(scale, scale);
  for (const pin of pins) drawPin(context, pin);
  return canvas.toDataURL('image/png');
}

function drawPin(context: CanvasRenderingContext2D, { number, level, place, hidden }: SnapshotPin): void {
  context.save();
  context.strokeStyle = '#000000';
  context.fillStyle = '#000000';
  context.lineWidth = 1.6;
  // Dashed: the contact is on the far side.
  context.setLineDash(hidden ? [4, 3] : []);
  context.beginPath();
  context.moveTo(place.x, place.y);
  context.lineTo(place.badgeX, place.badgeY);
  context.stroke();
  context.setLineDash([]);
  context.beginPath();
  context.arc(place.x, place.y, 3.5, 0, 2 * Math.PI);
  if (hidden) context.stroke();
  else context.fill();
  context.translate(place.badgeX, place.badgeY);
  const shape = new Path2D(BADGE_PATH[level]);
  context.fillStyle = hidden ? '#ffffff' : '#111111';
  context.lineWidth = 2;
  context.strokeStyle = hidden ? '#111111' : '#ffffff';
  context.fill(shape);
  context.stroke(shape);
  context.fillStyle = hidden ? '#111111' : '#ffffff';
  context.font = `700 ${PIN_BADGE_PX * 1.15}px system-ui, sans-serif`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.fillText(String(number), 0, 1);
  context.restore();
}
