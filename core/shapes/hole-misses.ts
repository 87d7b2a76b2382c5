import type { ShapeBody, ShapeHole } from '../job/job-shape.ts';
import { bodySize } from './body-size.ts';

/** Half of a cut's widest reach across its drilling, m. */
function halfReachM({ cut }: ShapeHole): number {
  if (cut.kind === 'slot') return Math.hypot(cut.lengthM, cut.widthM) / 2;
  return (cut.kind === 'counterbore' ? cut.recessDiameterM : cut.diameterM) / 2;
}

/** Whether a hole surely cuts nothing: it lies beside its body, or wholly in the body's own hollow. */
export function holeMisses(body: ShapeBody, hole: ShapeHole): boolean {
  const reachM = halfReachM(hole);
  const [alongX, alongY, heightM] = bodySize(body);
  const [across, up] = hole.at;
  if (hole.from !== 'top') {
    const widthM = hole.from === 'front' ? alongX : alongY;
    if (Math.abs(across) - reachM >= widthM / 2 || up + reachM <= 0 || up - reachM >= heightM) return true;
    // A box section is open at both ends of its length.
    return (
      hole.from === 'side' &&
      body.kind === 'box' &&
      body.wallM !== null &&
      Math.abs(across) + reachM <= alongY / 2 - body.wallM &&
      up - reachM >= body.wallM &&
      up + reachM <= heightM - body.wallM
    );
  }
  if (Math.abs(across) - reachM >= alongX / 2 || Math.abs(up) - reachM >= alongY / 2) return true;
  const fromMiddleM = Math.hypot(across, up);
  if (body.kind === 'ring') return fromMiddleM + reachM <= body.innerDiameterM / 2;
  if (body.kind === 'tube') return fromMiddleM + reachM <= body.outerDiameterM / 2 - body.wallM;
  return false;
}
