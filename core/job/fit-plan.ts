import { wholeFaces } from '../faces/whole-faces.ts';
import { faceId } from '../faces/face-table.ts';
import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import type { Figure } from '../figure/figure.ts';
import {
  flankFactor,
  growthFactor,
  type CoatedWindow,
  type FitAdvice,
  type Window,
} from '../finish/coated-window.ts';
import { fitAfterCoating } from '../finish/fit-after-coating.ts';
import { offModel, wrongSide } from '../finish/fit-on-face.ts';
import type { MaskFeature, MaskLine } from '../finish/mask-list.ts';
import type { GuardedSize } from '../finish/redo-verdict.ts';
import type { BoreReach } from '../faces/bore-ends.ts';
import type { RoundFeature } from '../finish/round-features.ts';
import { sizeAfterCoating } from '../finish/size-after-coating.ts';
import { facesOfSourceRuns } from '../mesh/mesh-triangles.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { flatWidthM, type FitGround } from './fit-ground.ts';
import { settleFit, type FitVerdict, type SettledFit } from './fit-verdict.ts';
import type { PartFit } from './job-fits.ts';
import type { FitGrowth } from './job-growth.ts';
import type { Part } from './job.ts';
import { masksToLayOut } from './masks-to-lay-out.ts';

export interface FitItem {
  readonly fit: PartFit;
  /** Rows of the face table it lies on; empty for one typed by hand. */
  readonly rows: readonly number[];
  /** Bores or bosses among them, all of one size; empty where it lies on none. */
  readonly rounds: readonly RoundFeature[];
  readonly shape: MaskFeature['shape'];
  readonly widthM: number;
  readonly reach: BoreReach | null;
  readonly slit: boolean;
  /** Every triangle of its faces is masked; false for one typed by hand. */
  readonly masked: boolean;
  readonly verdict: FitVerdict;
  /** One or two sentences for the user. */
  readonly text: string;
  readonly window: CoatedWindow | null;
  readonly before: Figure | null;
  readonly after: Figure | null;
  readonly machineTo: Figure | null;
  readonly change: Figure | null;
  /** What its limits are of; null for a size that has a name of its own, and where there is none. */
  readonly sized: 'Diameter' | 'Pitch diameter' | null;
  /** Limits that the user has said it is machined to; null where nobody did. */
  readonly machined: Window | null;
  /** Where a part made within those, or the drawing's, ends, over the whole range of the growth; null where it stays as it is or has no size. */
  readonly ends: Window | null;
  /** It was coated before, and the film taken off. */
  readonly stripped: boolean;
  /** Change of the size for each unit of surface growth; null where there is no size. */
  readonly factor: number | null;
}

export interface PartFitPlan {
  /** Bores and bosses of the part, largest first. */
  readonly rounds: readonly RoundFeature[];
  readonly items: readonly FitItem[];
  /** Plugs, caps and tape for everything masked or to be masked, for all pieces. */
  readonly masks: readonly MaskLine[];
  /** Coated faces that carry a thread of which nobody has said what has to fit. */
  readonly openThreads: readonly { readonly row: number; readonly designation: string }[];
}

/**
 * Every fit of a part after coating, whether it is masked, and what to plug, cap or tape.
 * @param flags coverage per triangle, see faces/coverage-flags.ts
 * @param growth how far a surface moves out, build-up less etches and strips
 * @param system what sizes are said in
 * @param closedOff triangles behind plugs (racking/plug-mesh.ts), where that is known: nothing is laid out for those
 */
export function planFits(
  part: Part,
  ground: FitGround,
  flags: Uint8Array,
  growth: FitGrowth,
  system: UnitSystem = 'metric',
  closedOff: Uint32Array = new Uint32Array(),
): PartFitPlan {
  const masks = wholeFaces(ground.geometry.faces, (t) => (flags[t]! & COVERAGE_BITS.mask) !== 0);
  const items = part.fits.map((fit) => fitItem(fit, ground, masks, growth, system));
  return {
    rounds: ground.rounds,
    items,
    masks: masksToLayOut(part, ground, items, masks, closedOff),
    openThreads: part.surface.threads.flatMap(({ triangle, designation }) => {
      const [row] = facesOfSourceRuns(ground.geometry, [triangle, triangle + 1]);
      if (row === undefined || masks[row] === 1 || items.some(({ rows }) => rows.includes(row))) return [];
      return [{ row, designation }];
    }),
  };
}

function fitItem(
  fit: PartFit,
  ground: FitGround,
  maskedRows: Uint8Array,
  growth: FitGrowth,
  system: UnitSystem,
): FitItem {
  const rows = facesOfSourceRuns(ground.geometry, fit.faces);
  const rounds = ground.rounds.filter(({ faceIds }) => rows.some((row) => faceIds.includes(faceId(row))));
  const [round] = rounds;
  const masked = rows.length > 0 && rows.every((row) => maskedRows[row] === 1);
  const shared = {
    fit,
    rows,
    rounds,
    masked,
    reach: round?.reach ?? null,
    slit: round?.slit ?? false,
    window: null,
    before: null,
    after: null,
    machineTo: null,
    change: null,
    sized: null,
    machined: null,
    ends: null,
    stripped: false,
    factor: null,
  };
  const flatM = (): number => Math.min(...rows.map((row) => flatWidthM(ground, row)), Infinity);
  const own = round
    ? { shape: round.shape, widthM: round.diameterM }
    : { shape: 'flat' as const, widthM: Number.isFinite(flatM()) ? flatM() : 0 };
  const { need } = fit;
  if (need.as === 'bare') {
    return {
      ...shared,
      ...own,
      verdict: masked ? 'keeps' : 'bare',
      text: masked ? 'Masked, so it stays bare.' : 'To stay bare: mask it.',
    };
  }
  const settle = (
    window: CoatedWindow,
    advice: FitAdvice | null,
    factor: number,
    text: string,
    thread = false,
  ): SettledFit => settleFit({ fit, masked, window, advice, factor, growth, thread, text, system });
  if (need.as === 'code') {
    const side = round && (round.shape === 'hole' ? 'internal' : 'external');
    const after = fitAfterCoating(need.text, growth, side, system);
    if (!after.ok) {
      return { ...shared, ...own, verdict: 'unread', text: `${after.error.message} ${after.error.remedy}` };
    }
    const { limits, kind } = after.value.fit;
    const inner = limits.kind === 'hole' || limits.kind === 'internal';
    if (side && inner !== (side === 'internal')) {
      return { ...shared, ...own, verdict: 'unread', text: wrongSide(need.text, inner) };
    }
    const factor =
      kind === 'thread'
        ? (inner ? -1 : 1) * flankFactor(after.value.fit.limits.flankAngleRad)
        : growthFactor(inner ? 'hole' : 'shaft');
    return {
      ...shared,
      shape: inner ? 'hole' : 'stud',
      widthM: limits.nominalM,
      ...settle(
        after.value.window,
        after.value.advice,
        factor,
        [after.value.text, round && offModel(after.value.fit, round, system)].filter(Boolean).join(' '),
        kind === 'thread',
      ),
      window: after.value.window,
      before: after.value.before,
      after: after.value.after,
      machineTo: after.value.machineTo,
      change: after.value.change,
      sized: kind === 'thread' ? 'Pitch diameter' : 'Diameter',
      factor,
    };
  }
  const limits = { lowM: need.lowM, highM: need.highM };
  const size = sizeAfterCoating(
    {
      label: fit.label,
      measured: need.measured,
      limits,
      coatedFaces: need.coatedFaces,
      coatedUpper: need.coatedUpper,
    },
    growth,
  );
  if (!size.ok) {
    return { ...shared, ...own, verdict: 'unread', text: `${size.error.message} ${size.error.remedy}` };
  }
  const factor = growthFactor(need.measured, need.coatedFaces, need.coatedUpper);
  return {
    ...shared,
    shape: need.measured === 'hole' ? 'hole' : need.measured === 'shaft' ? 'stud' : own.shape,
    widthM: need.measured === 'hole' || need.measured === 'shaft' ? need.lowM : own.widthM,
    ...settle(size.value.window, size.value.advice, factor, SIZE_TEXT[size.value.advice ?? 'coat as it is']),
    window: size.value.window,
    before: size.value.before,
    after: size.value.after,
    machineTo: size.value.machineTo,
    change: size.value.change,
    factor,
  };
}

const SIZE_TEXT: Readonly<Record<FitAdvice, string>> = {
  'coat as it is': 'The coating takes less than a tenth of the tolerance. Coat it as it is.',
  'machine first':
    'The coating takes a good part of the tolerance. Machine it to the size given, or mask it.',
  mask: 'The build-up is uncertain by more than the whole tolerance. Mask one of its faces, or measure your own build-up.',
};

/** Sizes with a tolerance that every etch and redo must keep; `masked` ones are touched by the lye of a strip alone. */
export function guardedSizes(items: readonly FitItem[], masked = false): GuardedSize[] {
  return items.flatMap(({ fit, window, factor, machined, ...item }) => {
    if (!window || factor === null || factor === 0 || item.masked !== masked) return [];
    const { before } = window;
    if (!(before.highM > before.lowM)) return [];
    const made = machined ?? before;
    const limits = masked ? before : window.within;
    return [{ label: fit.label, machinedM: (made.lowM + made.highM) / 2, limits, factor }];
  });
}
