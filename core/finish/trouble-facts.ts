/** What this job and its run know about themselves, SI; null or missing where nobody knows. */
export interface TroubleNumbers {
  /** Current over what the contacts carry safely: 1 is the limit. */
  readonly contactLoad: number;
  /** True area over the area planned with, at its high end. */
  readonly areaSpread: number;
  readonly bathStartK: number;
  readonly bathEndK: number;
  readonly currentDensityAPerM2: number;
  readonly thicknessM: number;
  readonly freeAcidKgPerM3: number;
  readonly aluminiumKgPerM3: number;
  /** Charge delivered over charge planned. */
  readonly chargeShare: number;
  /** Measured voltage over the middle of what was expected. */
  readonly voltageShare: number;
  readonly rampS: number;
  /** Amps or volts of the plan over what the supply gives, the larger of the two: 1 is its limit. */
  readonly supplyShare: number;
  readonly dyeK: number;
  readonly dyePh: number;
  readonly sealK: number;
  readonly sealPh: number;
  readonly waitBeforeDyeS: number;
  /** Mass fractions of the alloy, and silicon of the weld filler. */
  readonly siliconFraction: number;
  readonly copperFraction: number;
  readonly fillerSiliconFraction: number;
  readonly pieces: number;
  /** Different alloys known to hang together; see alloyNames. */
  readonly alloys: number;
  /** Pieces that hang together without alloys known to differ. */
  readonly unsortedPieces: number;
  readonly chlorideKgPerM3: number;
}

export interface TroubleFlags {
  /** The readings show a sudden step at steady setting. */
  readonly suddenStep: boolean;
  readonly supplyAtLimit: boolean;
  readonly stirred: boolean;
  readonly waterBreakHeld: boolean;
  readonly desmutted: boolean;
  /** The hanging plan shows a pocket for gas. */
  readonly gasPocket: boolean;
  /** Seams, blind holes or threads that hold acid. */
  readonly holdsAcid: boolean;
  readonly masked: boolean;
  readonly redone: boolean;
}

export type TroubleFacts = { readonly [K in keyof TroubleNumbers]?: number | null } & {
  readonly [K in keyof TroubleFlags]?: boolean | null;
} & {
  /** "2024 and 6082": what is said beside `alloys`. */
  readonly alloyNames?: string | null;
};

/**
 * One piece of evidence: how much likelier the cause gets when the fact is on this side, and how much less likely when
 * it is known to be on the other. An unknown fact changes nothing.
 */
export type Evidence =
  | {
      readonly fact: keyof TroubleNumbers;
      readonly side: 'above' | 'below';
      readonly limit: number;
      readonly raises: number;
      readonly otherwise: number;
      readonly because: string;
    }
  | {
      readonly fact: keyof TroubleFlags;
      readonly side: 'is';
      readonly limit: boolean;
      readonly raises: number;
      readonly otherwise: number;
      readonly because: string;
    };

export interface Cause {
  readonly id: string;
  readonly text: string;
  /** How often it is this, nothing known of the job; compared within the symptom only (common practice). */
  readonly usual: number;
  readonly evidence: readonly Evidence[];
  /** What tells it from the others. */
  readonly check: string;
  readonly wayBack: string;
}

export interface Symptom {
  readonly id: string;
  readonly title: string;
  readonly causes: readonly Cause[];
}
