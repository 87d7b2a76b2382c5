import type { AdviceRequest, PinsRequest } from '../../core/job/advice-request.ts';
import type { PackedLoads, PackingHelp, PackRequest } from '../../core/job/pack-request.ts';
import type { IndexedMesh } from '../../core/mesh/mesh.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { SolidMoments } from '../../core/racking/balance.ts';
import type { ContactPair } from '../../core/racking/contact-pairs.ts';
import type { PinVerdicts } from '../../core/racking/judge-pins.ts';
import type { ContactAdvice } from '../../core/racking/judge-place.ts';
import type { PluggedTraps } from '../../core/racking/plugged-traps.ts';
import type { Plugs } from '../../core/racking/plugs.ts';
import type { AttitudeSearch, ContactLimit } from '../../core/racking/search-attitudes.ts';
import type { TankCheck, TankPart } from '../../core/racking/tank-clearance.ts';
import type { Placement, Tank, TankRules } from '../../core/racking/tank.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import type { Failure } from '../../core/result.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';

/** What stays the same while a part is turned and its pins are moved. Model units. */
export interface HangingFacts {
  /** Why weight and traps are not known. */
  readonly open: Failure | null;
  readonly moments: SolidMoments | null;
  /** Of gravity, or the middle of the box. */
  readonly centre: Vec3;
}

export interface ContactReport {
  readonly advice: readonly ContactAdvice[];
  readonly pairs: readonly ContactPair[];
}

/**
 * Jobs on how parts hang. Those with a `key` work on what `prepareHanging` or `keepBody` left in their worker under it
 * and fail with `not-kept` where it is gone: dropped, pushed out by newer ones, or ended with its worker by a cancel.
 */
export interface HangingJobs {
  readonly prepareHanging: {
    readonly input: {
      readonly name: string;
      readonly key: string;
      readonly geometry: PartGeometry;
      readonly metresPerUnit: number;
    };
    readonly output: HangingFacts;
  };
  readonly findTraps: {
    readonly input: {
      readonly name: string;
      readonly key: string;
      readonly up: Vec3;
      readonly plugs: Plugs | null;
    };
    readonly output: PluggedTraps;
  };
  readonly adviseContacts: {
    readonly input: { readonly name: string; readonly key: string } & AdviceRequest;
    readonly output: ContactReport;
  };
  /** What is to be said of the user's own pins; needs no proposals, and so a fraction of their time. */
  readonly judgePins: {
    readonly input: { readonly name: string; readonly key: string } & PinsRequest;
    readonly output: PinVerdicts;
  };
  readonly dropHanging: {
    readonly input: { readonly name: string; readonly key: string };
    readonly output: null;
  };
  /** In a worker of its own, which ends with it: stopping it touches nothing that is kept. */
  readonly searchAttitudes: {
    readonly input: {
      readonly name: string;
      readonly mesh: IndexedMesh;
      readonly directions: number;
      readonly extra: readonly Vec3[];
      readonly contacts: readonly ContactLimit[];
      readonly plugs: Plugs | null;
    };
    readonly output: AttitudeSearch;
  };
  readonly packTank: {
    readonly input: { readonly name: string; readonly request: PackRequest };
    readonly output: PackedLoads;
  };
  readonly helpPacking: {
    readonly input: {
      readonly name: string;
      readonly request: PackRequest;
      readonly plan: PackedLoads['plan'];
    };
    readonly output: PackingHelp;
  };
  readonly keepBody: {
    readonly input: {
      readonly name: string;
      readonly key: string;
      readonly mesh: IndexedMesh;
      readonly metresPerUnit: number;
    };
    readonly output: null;
  };
  readonly dropBody: {
    readonly input: { readonly name: string; readonly key: string };
    readonly output: null;
  };
  readonly checkTank: {
    readonly input: {
      readonly name: string;
      readonly tank: Tank;
      readonly rules: TankRules;
      readonly parts: readonly (Omit<TankPart, 'body' | 'below'> & {
        readonly partId: string;
        readonly key: string;
        /** From its lowest point up to the level, of one that stands out of the liquid. */
        readonly depthM?: number;
      })[];
      readonly placements: readonly Placement[];
      readonly system: UnitSystem;
      readonly swingRad: number;
      /** While it is dragged: only its own clearances. */
      readonly onlyId?: string;
    };
    readonly output: TankCheck;
  };
}
