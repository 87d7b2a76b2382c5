import type { BoreReach } from '../faces/bore-ends.ts';
import type { BuildUp } from './build-up.ts';
import { fitAfterCoating, type FitAfterCoating } from './fit-after-coating.ts';

/** A face, or a group of faces, that may need masking. */
export interface MaskFeature {
  readonly id: string;
  readonly label: string;
  readonly shape: 'hole' | 'stud' | 'flat';
  /** Of a hole or stud: the thread's nominal size where there is one; of a flat: its shorter side. */
  readonly widthM: number;
  /** Of a hole, where its mesh is known. */
  readonly reach: BoreReach | null;
  /** Cut open along its whole length. */
  readonly slit?: boolean;
  /** Typed fit or thread, such as 10H7 or M6x1-6H; null where the user only wants it bare. */
  readonly fit: string | null;
  /** Pieces of the part in the load times features of this kind on it. */
  readonly count: number;
}

export interface MaskSuggestion {
  readonly id: string;
  readonly mask: boolean;
  readonly why: string;
  readonly fit: FitAfterCoating | null;
}

export type MaskItem =
  'tapered plug' | 'pull-through plug' | 'cap' | 'tape disc or strip' | 'lacquer or tape inside';

export interface MaskLine {
  readonly item: MaskItem;
  /** Plug: small end and large end. Cap: bore of the cap, least and most. Tape: width. Lacquer: the bore. */
  readonly lowM: number;
  readonly highM: number;
  readonly count: number;
  readonly features: readonly string[];
  readonly note: string;
}

/**
 * Which features to mask and why: those whose fit does not survive the coating, and those the user wants bare.
 * A typed fit that can not be read is left unmasked with the reader's own words, so that nothing is hidden.
 */
export function suggestMasks(features: readonly MaskFeature[], growth: BuildUp): MaskSuggestion[] {
  return features.map(({ id, fit }) => {
    if (fit === null) return { id, mask: true, why: 'To stay bare.', fit: null };
    const after = fitAfterCoating(fit, growth);
    if (!after.ok) return { id, mask: false, why: `${after.error.message} ${after.error.remedy}`, fit: null };
    return { id, mask: after.value.advice !== 'coat as it is', why: after.value.text, fit: after.value };
  });
}

/** Plugs reach from a tenth below the hole to a fifth above it; caps stretch over a stud (common practice). */
const PLUG_SMALL = 0.9;
const PLUG_LARGE = 1.2;
const CAP_SMALL = 0.85;
const CAP_LARGE = 0.97;
/** Rubber plugs are hardly sold wider than this (common practice). */
export const WIDEST_PLUG_M = 50e-3;
const ROUND_M = 0.5e-3;

/** What to lay out for the features that are to be masked, equal sizes together, largest first. */
export function maskList(features: readonly MaskFeature[], masked: readonly string[]): MaskLine[] {
  const lines = new Map<string, MaskLine>();
  for (const feature of features) {
    if (!masked.includes(feature.id)) continue;
    if (!(feature.widthM > 0)) throw new RangeError(`maskList: widthM of ${feature.id} is ${feature.widthM}`);
    const line = lineFor(feature);
    const key = `${line.item}/${line.lowM}/${line.highM}/${line.note}`;
    const before = lines.get(key);
    lines.set(
      key,
      before
        ? { ...before, count: before.count + line.count, features: [...before.features, ...line.features] }
        : line,
    );
  }
  return [...lines.values()].sort((a, b) => b.highM - a.highM || (a.item < b.item ? -1 : 1));
}

const PUSHED =
  'Push and turn it in dry; trapped air loosens it as the bath warms, so vent it with a wire while pushing.';
const PLUG_NOTES: Readonly<Record<BoreReach, string>> = {
  through: 'Pull it through until the bore is filled; dry and free of oil first.',
  blind: PUSHED,
  shut: PUSHED,
  unknown: `The model has a gap there, so whether the hole goes through is not known: look, and plug both ends if it does. ${PUSHED}`,
};

const down = (metres: number): number => Math.floor(metres / ROUND_M + 1e-9) * ROUND_M;
const up = (metres: number): number => Math.ceil(metres / ROUND_M - 1e-9) * ROUND_M;

function lineFor(feature: MaskFeature): MaskLine {
  const { widthM, count, label } = feature;
  const shared = { count, features: [label] };
  switch (feature.shape) {
    case 'hole':
      if (feature.slit || widthM > WIDEST_PLUG_M) {
        return {
          ...shared,
          item: 'lacquer or tape inside',
          lowM: widthM,
          highM: widthM,
          note: feature.slit
            ? 'The bore is slit, so acid gets behind any plug: paint it with masking lacquer in two coats, the slit’s edges too, or line it with tape.'
            : 'Plugs this wide are hardly sold: paint the bore with masking lacquer in two coats, or line it with tape and press its rims down.',
        };
      }
      return {
        ...shared,
        item: feature.reach === 'through' ? 'pull-through plug' : 'tapered plug',
        lowM: down(widthM * PLUG_SMALL),
        highM: up(widthM * PLUG_LARGE),
        note: PLUG_NOTES[feature.reach ?? 'blind'],
      };
    case 'stud':
      return {
        ...shared,
        item: 'cap',
        lowM: down(widthM * CAP_SMALL),
        highM: Math.max(down(widthM * CAP_SMALL), down(widthM * CAP_LARGE)),
        note: 'Stretch it on to the shoulder; a drop of masking lacquer at the rim keeps acid out.',
      };
    case 'flat':
      return {
        ...shared,
        item: 'tape disc or strip',
        lowM: widthM,
        highM: widthM,
        note: 'Polyester tape with silicone glue; press the rim down hard and check it after etching.',
      };
  }
}
