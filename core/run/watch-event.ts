/** What the watch can say. `alarm` wants somebody at the tank now, `check` a look, `note` nothing. */
export const WATCH_LEVELS = {
  'contact-lost': 'alarm',
  'contact-drift': 'alarm',
  'contact-loose': 'alarm',
  'contact-total': 'alarm',
  short: 'alarm',
  burning: 'alarm',
  'contact-resistance': 'check',
  'contact-unsure': 'check',
  'reading-doubtful': 'check',
  'loss-unseen': 'check',
  'supply-limit': 'check',
  'wrong-mode': 'check',
  'supply-off': 'check',
  'current-off-plan': 'check',
  'voltage-off-plan': 'check',
  'voltage-high': 'check',
  'voltage-low': 'check',
  'bath-warming': 'check',
  'bath-too-warm': 'check',
  'slow-ramp': 'check',
  'fast-ramp': 'check',
  'fast-again': 'check',
  'contact-back': 'note',
  'reading-was-off': 'note',
  gap: 'note',
} as const satisfies Record<string, 'alarm' | 'check' | 'note'>;

export type WatchKind = keyof typeof WATCH_LEVELS;

export interface WatchEvent {
  /** When it was said, seconds of the run. */
  readonly atS: number;
  /** When it seems to have begun. */
  readonly sinceS: number;
  /** Of a short: the volts stand again from here on; absent while they do not. */
  readonly untilS?: number;
  /** Of a loss while the supply still ramped: it may have contact again unseen, so its film counts as on the whole area at least. */
  readonly mayBeBack?: boolean;
  /** The one reading at `sinceS` alone, which may have been wrong itself, is what it is held against. */
  readonly alone?: true | undefined;
  readonly kind: WatchKind;
  readonly level: 'alarm' | 'check' | 'note';
  /** Share of the area that still has contact, all losses so far; 9 in 10. */
  readonly areaLeft: readonly [low: number, high: number];
  readonly likelyAreaLeft: number;
}

export interface WatchPlan {
  readonly mode: 'current' | 'voltage';
  readonly areaM2: number;
  readonly currentDensityAPerM2: number;
  readonly chargePerVolumeCPerM3: number;
  /** null where not known. */
  readonly rampS: number | null;
  readonly supplyVoltageLimitV: number | null;
  readonly supplyCurrentLimitA: number | null;
  /** The bath as planned, for what the handbook has its voltage at; absent where not known. */
  readonly bathTemperatureK?: number | undefined;
  readonly acidKgPerM3?: number | undefined;
  /** What the bath is to be kept below, K; absent where not known. */
  readonly bathLimitK?: number | undefined;
  /** Voltage at the planned density as the shop's own runs have it; see learn-voltage.ts. */
  readonly learntVoltage?: {
    readonly voltageV: number;
    readonly voltageSdV: number;
    readonly slopeVM2PerA: number;
    readonly slopeSdVM2PerA: number;
  };
}
