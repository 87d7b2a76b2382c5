import type { ProfileCorner } from './profile-circle.ts';
import { CREASE_RAD } from './flat-facets.ts';
import { MOST_UNEVEN } from './ring-kinds.ts';
import { areByTurns } from './ring-spans.ts';
import { LONE_RAD } from './strip-looks.ts';

/** Turns below this are none. */
const STRAIGHT_RAD = 1e-3;
/** Curvatures that differ by no more than this share are one. */
const ALIKE = 0.02;
/** Corners of a circle turn by less … */
const MOST_TURN_RAD = (60 * Math.PI) / 180;
/** … and by more than a crease only where so many lie on it, or it is tangent to what is beside it. */
const LEAST_SHARP = 3;
/** How much less a line that bends unevenly may turn at one end of a chord than at the other, as a share. */
const NEAR = 0.25;
/** Corners in a row from which on such a line is no row of chamfers. */
const LEAST_FREE = 3;
/** Share of half a chord's span by which an arc's end may turn into what is beside it and still be tangent. */
const TANGENT = 0.05;
/** Chords that differ in length by no more than this share are of one size. */
const ONE_SIZE = 0.03;
/** A coordinate that is off by one step bends three corners by this many steps over the product of the two chords. */
const NOISE_BENDS = 16;
/** Curvatures that noise may change by more than this share tell nothing. */
const NOISY = 0.3;
/** Of an arc that a free curve makes of a chord so much may be wrong at least, and of the first and last so much. */
const LEAST_UNSURE = 0.1;
const END_UNSURE = 0.5;
/** A chord is settled, on a circle. */
const ON_RUN = 2;

/** What a chord of an outline stands for. */
export interface OutlineChord {
  /** Of its arc, one over model units, positive where it turns left; 0 where it is straight. */
  readonly curvature: number;
  /** … and the other that it may have as well. */
  readonly orElse: number;
  /** Share of what its arc adds that may be wrong beside the usual: it lies on no circle with others. */
  readonly unsure: number;
  /** Whether the outline runs on smoothly over the chord's end. */
  readonly runsOn: boolean;
}

/** Consecutive corners that bend alike: joints `from` … `to`, the chords before, between and after them on one circle. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly curvature: number;
  /** Of its two ends those that turn tangentially into what is beside them. */
  readonly tangents: number;
  /** Longest over shortest chord. */
  readonly uneven: number;
}

/**
 * Which chords of a turned part's outline are arcs. Four corners on a circle are no chance, nor three between two lines that are
 * tangent to it. Any other chord is straight, unless the outline turns much the same at both its ends and on beyond: an ellipse, a free curve.
 * Three chords between two creases are sooner a wall with a chamfer at either end, whose corners lie on a circle by symmetry.
 *
 * @param corners in order; those of a closed outline once round
 * @param noise one step of the coordinates
 * @returns one entry a chord: for a closed outline as many as corners, else one less
 */
export function outlineArcs(
  corners: readonly ProfileCorner[],
  isLoop: boolean,
  noise: number,
): OutlineChord[] {
  const { line, first, count } = extended(corners, isLoop);
  const outline = new Outline(line, noise);
  outline.takeRuns(isLoop);
  outline.takeLines();
  outline.takeFree();
  return Array.from({ length: count }, (_, k) => outline.chord(first + k));
}

/** The outline with what goes on beyond its ends: a closed one thrice over, one that ends on the axis mirrored in it. */
function extended(
  corners: readonly ProfileCorner[],
  isLoop: boolean,
): { readonly line: readonly ProfileCorner[]; readonly first: number; readonly count: number } {
  const count = isLoop ? corners.length : corners.length - 1;
  if (isLoop) return { line: [...corners, ...corners, ...corners], first: count, count };
  const mirrored = corners.map(({ radius, height }) => ({ radius: -radius, height })).reverse();
  const before = corners[0].radius === 0 ? mirrored.slice(0, -1) : [];
  const after = corners[count].radius === 0 ? mirrored.slice(1) : [];
  return { line: [...before, ...corners, ...after], first: before.length, count };
}

/** Chord i leads from joint i to joint i + 1. */
class Outline {
  private readonly count: number;
  private readonly lengths: Float64Array;
  /** At joint i from chord i − 1 to chord i, rad; NaN at the ends. */
  private readonly turns: Float64Array;
  /** Curvature of the circle through joint i and those beside it, and how far noise may change it. */
  private readonly bends: Float64Array;
  private readonly blur: Float64Array;
  private readonly own: Float64Array;
  private readonly other: Float64Array;
  /** Per chord: 1 where it is settled, ON_RUN where it lies on a circle with others. */
  private readonly settled: Uint8Array;
  /** … 0, or what may be wrong of its arc where it lies on none. */
  private readonly free: Float64Array;
  /** Per joint. */
  private readonly smooth: Uint8Array;

  constructor(line: readonly ProfileCorner[], noise: number) {
    const count = line.length - 1;
    this.count = count;
    this.lengths = new Float64Array(count);
    this.turns = new Float64Array(count + 1).fill(NaN);
    this.bends = new Float64Array(count + 1).fill(NaN);
    this.blur = new Float64Array(count + 1);
    this.own = new Float64Array(count);
    this.other = new Float64Array(count);
    this.settled = new Uint8Array(count);
    this.free = new Float64Array(count);
    this.smooth = new Uint8Array(count + 1);
    for (let i = 0, ax = 0, ay = 0; i < count; i++) {
      const [x, y] = [line[i + 1].radius - line[i].radius, line[i + 1].height - line[i].height];
      this.lengths[i] = Math.hypot(x, y);
      if (i > 0) {
        this.turns[i] = Math.atan2(ax * y - ay * x, ax * x + ay * y);
        this.bends[i] = (2 * Math.sin(this.turns[i])) / Math.hypot(ax + x, ay + y);
        this.blur[i] = (NOISE_BENDS * noise) / (this.lengths[i - 1] * this.lengths[i]);
      }
      [ax, ay] = [x, y];
    }
  }

  chord(i: number): OutlineChord {
    return {
      curvature: this.own[i],
      orElse: this.other[i],
      unsure: this.free[i],
      runsOn: this.smooth[i + 1] !== 0,
    };
  }

  /** Arcs of circles. Where two claim one chord, the corners of one of them lie on its circle by chance, or by symmetry. */
  takeRuns(isLoop: boolean): void {
    const isLevel = ({ uneven }: Run): boolean => uneven < MOST_UNEVEN;
    const told = ({ from, to, tangents }: Run): number => to - from + tangents;
    const runs = this.runs().sort(
      (a, b) => Number(isLevel(b)) - Number(isLevel(a)) || told(b) - told(a) || a.uneven - b.uneven,
    );
    for (const { from, to, curvature, tangents, uneven } of runs) {
      if (this.settled.subarray(from - 1, to + 1).some((is) => is !== 0)) continue;
      const mayBeChamfers =
        to === from + 1 &&
        this.isSharp(from - 1) &&
        this.isSharp(to + 1) &&
        Math.abs(this.turns[from]) > LONE_RAD;
      const isOfOneSize = uneven < 1 + ONE_SIZE;
      // A ring of square section with chamfers as long as what is left of its sides is as likely as a round one in eight steps.
      const mayBeFlats = isOfOneSize && tangents === 0 && this.isSharp(from);
      const isArc = mayBeChamfers ? isOfOneSize : !mayBeFlats || !isLoop;
      this.settled.fill(ON_RUN, from - 1, to + 1);
      this.own.fill(isArc ? curvature : 0, from - 1, to + 1);
      this.other.fill(isArc && (mayBeChamfers || mayBeFlats) ? 0 : curvature, from - 1, to + 1);
      if (!isArc) continue;
      this.smooth.fill(1, from, to + 1);
      if (this.isTangent(from - 1, from - 1, curvature)) this.smooth[from - 1] = 1;
      if (this.isTangent(to + 1, to, curvature)) this.smooth[to + 1] = 1;
    }
  }

  /** Straight lines in pieces. */
  takeLines(): void {
    for (let i = 1; i < this.count; i++) {
      if (!this.isStraight(i)) continue;
      this.smooth[i] = 1;
      for (const k of [i - 1, i]) if (this.settled[k] === 0) this.settled[k] = 1;
    }
  }

  /** What is left, where it turns on from chord to chord. */
  takeFree(): void {
    const { count, lengths } = this;
    // Between two chords that tell.
    const both: number[] = [];
    for (let i = 1; i < count - 1; i++) {
      if (this.settled[i] !== 0) continue;
      const [before, after] = [this.lean(i, i), this.lean(i + 1, i)];
      if (!(before * after > 0) || Math.min(before / after, after / before) < NEAR) continue;
      this.own[i] = (2 * Math.sin((before + after) / 2)) / lengths[i];
      this.free[i] = LEAST_UNSURE + Math.abs((before - after) / (before + after));
      both.push(i);
    }
    for (const i of both) this.settled[i] = 1;
    // … and beside one of these.
    for (const i of both) {
      for (const [end, joint] of [
        [i - 1, i],
        [i + 1, i + 1],
      ]) {
        if (this.settled[end] !== 0) continue;
        this.own[end] = (2 * Math.sin(this.lean(joint, end))) / lengths[end];
        this.free[end] = END_UNSURE;
        this.settled[end] = 1;
      }
      this.smooth[i] = this.smooth[i + 1] = 1;
    }
    for (let i = 0; i < count; i++) {
      if (this.free[i] === 0) continue;
      let [from, to] = [i, i];
      while (from > 0 && to - from < LEAST_FREE && this.smooth[from] !== 0) from--;
      while (to + 1 < count && to - from < LEAST_FREE && this.smooth[to + 1] !== 0) to++;
      this.other[i] = this.own[i];
      if (to - from >= LEAST_FREE) continue;
      this.own[i] = 0;
    }
  }

  /** Angle between a chord and the tangent at its end `joint`, as far as what is beside it tells; NaN where it does not. */
  private lean(joint: number, chord: number): number {
    const beside = joint === chord ? chord - 1 : chord + 1;
    if (this.isSharp(joint) || !this.mayBend(joint)) return NaN;
    const [one, two] = [this.lengths[chord], this.lengths[beside]];
    if (this.settled[beside] === ON_RUN) return this.turns[joint] - this.half(beside, this.own[beside]);
    if (this.settled[beside] !== 0 && this.free[beside] === 0) return NaN;
    if (Math.max(one, two) > MOST_UNEVEN * Math.min(one, two)) return NaN;
    return (this.turns[joint] * one) / (one + two);
  }

  private runs(): Run[] {
    const { count, bends, lengths } = this;
    const runs: Run[] = [];
    for (let from = 1; from < count; from++) {
      if (!this.mayBend(from)) continue;
      let to = from;
      while (to + 1 < count && this.isSame(to, to + 1)) to++;
      let curvature = 0;
      for (let i = from; i <= to; i++) curvature += bends[i] / (to - from + 1);
      const tangents =
        (this.isTangent(from - 1, from - 1, curvature) ? 1 : 0) +
        (this.isTangent(to + 1, to, curvature) ? 1 : 0);
      let [least, most] = [Infinity, 0];
      for (let i = from - 1; i <= to; i++) {
        least = Math.min(least, lengths[i]);
        most = Math.max(most, lengths[i]);
      }
      const uneven = most / least;
      const isSharp = this.turns.subarray(from, to + 1).some((turn) => Math.abs(turn) >= CREASE_RAD);
      const isTold = isSharp ? to + 1 - from >= LEAST_SHARP || tangents > 0 : to > from;
      // The corners of a square with chamfers lie on a circle too, and those of a wall and chamfers as long as half its end.
      const isMeant =
        (isSharp && uneven > MOST_UNEVEN) ||
        (uneven > 1 + ONE_SIZE && areByTurns(lengths.subarray(from - 1, to + 1), false));
      if (((isTold && to > from) || tangents === 2) && !isMeant)
        runs.push({ from, to, curvature, tangents, uneven });
      from = to;
    }
    return runs;
  }

  private isSharp(i: number): boolean {
    return Number.isNaN(this.turns[i]) || Math.abs(this.turns[i]) >= CREASE_RAD;
  }

  private isStraight(i: number): boolean {
    return Math.abs(this.turns[i]) < STRAIGHT_RAD || Math.abs(this.bends[i]) < this.blur[i];
  }

  private mayBend(i: number): boolean {
    if (!(Math.abs(this.turns[i]) < MOST_TURN_RAD) || this.isStraight(i)) return false;
    return this.blur[i] < NOISY * Math.abs(this.bends[i]);
  }

  private isSame(i: number, j: number): boolean {
    const { bends, blur } = this;
    if (!this.mayBend(i) || !this.mayBend(j)) return false;
    return Math.abs(bends[i] - bends[j]) < ALIKE * Math.abs(bends[i]) + blur[i] + blur[j];
  }

  /** Half of what a chord spans on a circle, rad. */
  private half(chord: number, curvature: number): number {
    return Math.asin(Math.max(-1, Math.min(1, (curvature * this.lengths[chord]) / 2)));
  }

  private isTangent(joint: number, chord: number, curvature: number): boolean {
    const wanted = this.half(chord, curvature);
    return Math.abs(this.turns[joint] - wanted) < TANGENT * Math.abs(wanted);
  }
}
