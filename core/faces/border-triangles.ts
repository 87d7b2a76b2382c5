import { nextSide, sideBefore } from '../mesh/half-edges.ts';
import { edgeTurns } from './edge-turns.ts';
import { SMOOTH, type FacetChains } from './facet-chains.ts';

/** A share of a turn is at least this much, and at most the rest. */
const LEAST_SHARE = 0.15;
/** The three turns tell how a triangle bends where they are this far from saying the same; 8 where all triangles are alike. */
const LEAST_DETERMINANT = 1;

/** Squared cosine between the two rims of a row of triangles: 30° are a step of twelve. */
const BESIDE = 0.7;

type Triple = readonly [number, number, number];

/**
 * Triangles with one side on a border. Two turns leave open how the surface bends over them, and heights are a poor guide to how much
 * of each turn is theirs where triangles stand up and down by turns. They bend as their neighbours do that are smooth all
 * round, but for what the two turns say.
 *
 * With sides e₀ e₁ e₂ and curvature matrix H the rise inward at side k is pₖ / (2 heightₖ), pₖ = eᵢᵀ H eⱼ, and 8 times
 * the sagitta of a side is −(pᵢ + pⱼ). The turn at a side is the sum of the rises on both sides of it, so three turns tell the H that a
 * triangle has in common with its neighbours.
 */
export class BorderTriangles {
  private readonly chains: FacetChains;
  private readonly turns: Float32Array;

  constructor(chains: FacetChains) {
    this.chains = chains;
    this.turns = edgeTurns(chains.graph);
  }

  /**
   * Of all H that agree with the two turns the one whose sagittas are nearest to the neighbours'.
   *
   * @param rises inward at the sides of triangle `t`, NaN at the one on the border; left alone where no neighbour tells
   */
  settleInto(rises: number[], t: number): void {
    const open = rises.findIndex((rise) => Number.isNaN(rise));
    if (open < 0 || rises.some((rise, k) => k !== open && Number.isNaN(rise))) return;
    const sides = [(open + 1) % 3, (open + 2) % 3] as const;
    const guess = [0, 0, 0];
    let found = 0;
    for (const k of sides) {
      const bend = this.bendBeyond(3 * t + k);
      if (!bend) continue;
      for (let m = 0; m < 3; m++) guess[(k + m) % 3] += bend[m];
      found++;
    }
    if (found === 0) {
      this.evenOut(rises, 3 * t + open);
      return;
    }
    for (let m = 0; m < 3; m++) guess[m] /= found;
    let rest = guess[open];
    for (const k of sides) {
      const h = 3 * t + k;
      const turn = this.turns[h];
      const here = guess[k] / (2 * this.height(h));
      const there = this.riseBeyond(h, [guess[k], guess[(k + 1) % 3], guess[(k + 2) % 3]]);
      const share = (turn + here - there) / (2 * turn);
      if (turn !== 0) rises[k] = turn * Math.min(1 - LEAST_SHARE, Math.max(LEAST_SHARE, share));
      rest -= (2 * this.height(h) * rises[k] - guess[k]) / 2;
    }
    rises[open] = rest / (2 * this.height(3 * t + open));
  }

  /** Of one row of triangles between two rims: as on a cone, see cone-spans.ts, it bends less at the longer one. */
  private evenOut(rises: number[], rim: number): void {
    const { chains } = this;
    const { twin, indexed } = chains.graph;
    const { triangles } = indexed;
    const own = Math.sqrt(chains.edgeLength2(rim));
    let beyond = 0;
    for (const k of [nextSide(rim), sideBefore(rim)]) {
      if (!this.isLone(k)) return;
      // Of the neighbour's two other sides the one that has no corner in common with this rim.
      const foot = triangles[k === nextSide(rim) ? k : rim];
      const across = [nextSide(twin[k]), sideBefore(twin[k])].find(
        (g) => triangles[g] !== foot && triangles[nextSide(g)] !== foot,
      );
      if (across === undefined || chains.sideOf(across) === SMOOTH || !this.runsBeside(across, rim)) return;
      beyond += Math.sqrt(chains.edgeLength2(across)) / 2;
    }
    for (let k = 0; k < 3; k++) rises[k] *= (own + beyond) / (2 * own);
  }

  /** What p₀ p₁ p₂ of the triangle at half-edge `h` are, beginning at `h`, if it bends as the triangle beyond does. */
  private bendBeyond(h: number): Triple | undefined {
    const other = this.chains.graph.twin[h];
    const u = (other / 3) | 0;
    const sides = [other, nextSide(other), sideBefore(other)];
    if (!sides.every((k) => this.isLone(k) && this.chains.sideOf(k) === SMOOTH)) return undefined;
    if (!(this.chains.graph.triangleAreas[u] > 0)) return undefined;
    const own = this.solved(sides);
    return own && this.carried(other, own);
  }

  /** p₀ p₁ p₂ of a triangle from its three turns. */
  private solved(sides: readonly number[]): Triple | undefined {
    const rows = sides.map((k, i) => {
      const row = [0, 1, 2].map((j): number => {
        const unit = [0, 1, 2].map((m) => ((i + m) % 3 === j ? 1 : 0));
        const across = this.riseBeyond(k, [unit[0], unit[1], unit[2]]);
        return (i === j ? 1 : 0) + across * 2 * this.height(k);
      });
      return { row, value: this.turns[k] * 2 * this.height(k) };
    });
    const [a, b, c] = rows.map(({ row }) => row);
    const [x, y, z] = rows.map(({ value }) => value);
    const minor = (m: readonly number[], n: readonly number[], i: number): number =>
      m[(i + 1) % 3] * n[(i + 2) % 3] - m[(i + 2) % 3] * n[(i + 1) % 3];
    const determinant = a[0] * minor(b, c, 0) + a[1] * minor(b, c, 1) + a[2] * minor(b, c, 2);
    if (!(determinant > LEAST_DETERMINANT)) return undefined;
    const one = (i: number): number =>
      (x * minor(b, c, i) + y * minor(c, a, i) + z * minor(a, b, i)) / determinant;
    return [one(0), one(1), one(2)];
  }

  /** How the surface rises inward from `h` over the triangle beyond, if that bends as the triangle at `h` with these p. */
  private riseBeyond(h: number, p: Triple): number {
    const other = this.chains.graph.twin[h];
    return this.carried(h, p)[0] / (2 * this.height(other));
  }

  /** p₀ p₁ p₂ of the triangle beyond `h`, beginning at its side there, if it bends as the triangle at `h` with these p from `h` on. */
  private carried(h: number, [p0, p1, p2]: Triple): Triple {
    const { chains } = this;
    const other = chains.graph.twin[h];
    // In the plane with the side along x from the end of `h`, the triangle at `h` below it and the one beyond above.
    const length2 = chains.edgeLength2(h);
    const length = Math.sqrt(length2);
    const ux = this.foot(h);
    const uy = this.height(h);
    const tx = length - this.foot(other);
    const ty = this.height(other);
    const hxx = -(p1 + p2) / length2;
    const hxy = (ux * hxx + p2 / length) / uy;
    const hyy = (-(p0 + p2) - ux * ux * hxx + 2 * ux * uy * hxy) / (uy * uy);
    const product = (ax: number, ay: number, bx: number, by: number): number =>
      ax * bx * hxx + (ax * by + ay * bx) * hxy + ay * by * hyy;
    const [ax, ay] = [tx - length, ty];
    const [bx, by] = [-tx, -ty];
    return [product(ax, ay, bx, by), product(bx, by, length, 0), product(length, 0, ax, ay)];
  }

  /** How far from the end of a side its triangle's third corner lies along it, and how far from it. */
  private foot(h: number): number {
    const { chains } = this;
    const length2 = chains.edgeLength2(h);
    return (
      (length2 + chains.edgeLength2(nextSide(h)) - chains.edgeLength2(sideBefore(h))) /
      (2 * Math.sqrt(length2))
    );
  }

  private height(h: number): number {
    const { graph } = this.chains;
    return (2 * graph.triangleAreas[(h / 3) | 0]) / Math.sqrt(this.chains.edgeLength2(h));
  }

  /** Whether the facet beyond a side is one triangle with an area. */
  private isLone(h: number): boolean {
    const { graph, facets } = this.chains;
    const t = (graph.twin[h] / 3) | 0;
    return graph.twin[h] >= 0 && facets.size[facets.root[t]] === 1 && graph.triangleAreas[t] > 0;
  }

  /** Whether two edges are nearly parallel. */
  private runsBeside(g: number, h: number): boolean {
    const { vertices, triangles } = this.chains.graph.indexed;
    const [a, b, c, d] = [triangles[g], triangles[nextSide(g)], triangles[h], triangles[nextSide(h)]];
    let product = 0;
    for (let i = 0; i < 3; i++) {
      product += (vertices[3 * b + i] - vertices[3 * a + i]) * (vertices[3 * d + i] - vertices[3 * c + i]);
    }
    return product * product > BESIDE * this.chains.edgeLength2(g) * this.chains.edgeLength2(h);
  }
}
