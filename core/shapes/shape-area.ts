import type { Figure } from '../figure/figure.ts';
import type { Shape, ShapeBody, ShapeHole } from '../job/job-shape.ts';
import { bodySize } from './body-size.ts';

/**
 * The area of a drawn shape in closed form, for checking, where there is one: a single body whose holes go straight into a flat
 * face, lie wholly on it, come out on a flat face or stop inside, and do not meet. undefined for anything else.
 */
export function shapeArea({ bodies }: Shape): Figure | undefined {
  const [body, ...others] = bodies;
  if (others.length > 0) return undefined;
  const plain = bodyArea(body);
  let areaM2 = plain.areaM2;
  for (const [index, hole] of body.holes.entries()) {
    const gained = holeGain(body, hole);
    if (gained === undefined) return undefined;
    for (const other of body.holes.slice(0, index)) if (mayMeet(hole, other)) return undefined;
    areaM2 += gained;
  }
  return {
    label: 'Area in closed form',
    kind: 'area',
    valueSi: areaM2,
    formula: plain.formula + (body.holes.length > 0 ? ' + Σ (wall of each hole − its mouths)' : ''),
    inputs: [],
    source: { standing: 'definition', text: 'geometry of plane, cylinder and cone' },
  };
}

function bodyArea(body: ShapeBody): { readonly areaM2: number; readonly formula: string } {
  const { PI } = Math;
  const block = (l: number, w: number, h: number): number => 2 * (l * w + w * h + h * l);
  switch (body.kind) {
    case 'plate':
      return { areaM2: block(body.lengthM, body.widthM, body.thicknessM), formula: '2 (l w + w t + t l)' };
    case 'box': {
      const { lengthM: l, widthM: w, heightM: h, wallM: t } = body;
      if (t === null) return { areaM2: block(l, w, h), formula: '2 (l w + w h + h l)' };
      const ends = 2 * (w * h - (w - 2 * t) * (h - 2 * t));
      return {
        areaM2: 2 * (w + h) * l + 2 * (w + h - 4 * t) * l + ends,
        formula: '2 (w + h) l + 2 (w + h − 4 t) l + 2 (w h − (w − 2 t)(h − 2 t))',
      };
    }
    case 'disc':
      return { areaM2: rod(body.diameterM, body.thicknessM), formula: 'π d t + π d² / 2' };
    case 'rod':
      return { areaM2: rod(body.diameterM, body.lengthM), formula: 'π d l + π d² / 2' };
    case 'ring':
      return {
        areaM2: pipe(body.outerDiameterM, body.innerDiameterM, body.thicknessM),
        formula: 'π (D + d) t + π (D² − d²) / 2',
      };
    case 'tube':
      return {
        areaM2: pipe(body.outerDiameterM, body.outerDiameterM - 2 * body.wallM, body.lengthM),
        formula: 'π (D + d) l + π (D² − d²) / 2',
      };
    case 'cone': {
      const [low, high] = [body.lowDiameterM / 2, body.highDiameterM / 2];
      return {
        areaM2: PI * (low + high) * Math.hypot(low - high, body.heightM) + PI * (low * low + high * high),
        formula: 'π (R + r) √((R − r)² + h²) + π (R² + r²)',
      };
    }
    case 'angle': {
      const { lengthM: l, widthM: w, heightM: h, thicknessM: t } = body;
      return { areaM2: 2 * (w + h) * l + 2 * t * (w + h - t), formula: '2 (w + h) l + 2 t (w + h − t)' };
    }
    case 'channel': {
      const { lengthM: l, widthM: w, heightM: h, thicknessM: t } = body;
      return {
        areaM2: (2 * w + 4 * h - 2 * t) * l + 2 * t * (w + 2 * h - 2 * t),
        formula: '(2 w + 4 h − 2 t) l + 2 t (w + 2 h − 2 t)',
      };
    }
  }
}

function rod(d: number, l: number): number {
  return Math.PI * d * l + (Math.PI * d * d) / 2;
}

function pipe(outer: number, inner: number, l: number): number {
  return Math.PI * (outer + inner) * l + (Math.PI * (outer * outer - inner * inner)) / 2;
}

/** What a hole adds, or undefined where there is no closed form. */
function holeGain(body: ShapeBody, hole: ShapeHole): number | undefined {
  const [sx, sy, sz] = bodySize(body);
  const flat = { plate: true, box: body.kind === 'box' && body.wallM === null } as Record<string, boolean>;
  const isRound = body.kind === 'disc' || body.kind === 'rod';
  if (!flat[body.kind] && !(isRound && hole.from === 'top')) return undefined;
  const through = hole.from === 'top' ? sz : hole.from === 'front' ? sy : sx;
  const depth = hole.depthM ?? through;
  if (depth > through || (hole.depthM !== null && depth === through)) return undefined;
  const reach = reachOf(hole);
  const [u, v] = hole.at;
  if (isRound) {
    if (hole.cut.kind === 'slot' || Math.hypot(u, v) + reach[0] >= sx / 2) return undefined;
  } else {
    const half = hole.from === 'side' ? sy / 2 : sx / 2;
    const [low, high] = hole.from === 'top' ? [-sy / 2, sy / 2] : [0, sz];
    if (Math.abs(u) + reach[0] >= half || v - reach[1] <= low || v + reach[1] >= high) return undefined;
  }
  const wall = (perimeter: number, mouth: number): number =>
    perimeter * depth - (hole.depthM === null ? 2 * mouth : 0);
  const { cut } = hole;
  const { PI } = Math;
  if (cut.kind === 'round') return wall(PI * cut.diameterM, (PI * cut.diameterM ** 2) / 4);
  if (cut.kind === 'slot') {
    const straight = cut.lengthM - cut.widthM;
    return wall(2 * straight + PI * cut.widthM, straight * cut.widthM + (PI * cut.widthM ** 2) / 4);
  }
  // The recess adds its own wall, takes its depth off the hole's, and its ledge makes up for the wider mouth.
  if (cut.recessDepthM >= depth) return undefined;
  const gained = PI * (cut.recessDiameterM - cut.diameterM) * cut.recessDepthM;
  return wall(PI * cut.diameterM, (PI * cut.diameterM ** 2) / 4) + gained;
}

/** Half of what the mouth takes each way on its face. */
function reachOf({ cut }: ShapeHole): [number, number] {
  if (cut.kind === 'round') return [cut.diameterM / 2, cut.diameterM / 2];
  if (cut.kind === 'counterbore') return [cut.recessDiameterM / 2, cut.recessDiameterM / 2];
  const way: [number, number] = [cut.lengthM / 2, cut.widthM / 2];
  return cut.turned ? [way[1], way[0]] : way;
}

/** Holes from one side whose boxes overlap, and any two from different sides, may run into each other. */
function mayMeet(a: ShapeHole, b: ShapeHole): boolean {
  if (a.from !== b.from) return true;
  const [p, q] = [reachOf(a), reachOf(b)];
  return Math.abs(a.at[0] - b.at[0]) < p[0] + q[0] && Math.abs(a.at[1] - b.at[1]) < p[1] + q[1];
}
