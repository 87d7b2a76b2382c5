import type { Figure, Source } from '../figure/figure.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import {
  massFigure,
  restUnderOne,
  restUnderTwo,
  type GasLift,
  type Rest,
  type SolidMoments,
} from '../racking/balance.ts';
import { restUnderMany } from '../racking/rest-under-many.ts';
import { checkHanger, hasWetWire, type HangerCheck, type HangerDuty } from '../racking/check-hanger.ts';
import { contactLoad, type ContactLoad } from '../racking/contact-physics.ts';
import type { Traps } from '../racking/find-traps.ts';
import { HANGER_METALS, resistivityAt } from '../racking/hanger-materials.ts';
import { trapFigures, type TrapFigures } from '../racking/hanging-figures.ts';
import type { Vec3 } from '../racking/vec3.ts';
import { alloyByName } from '../reference/alloys.ts';
import type { Failure, Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { closedOffShare, type ClosedOff } from './closed-off.ts';
import { hangerAreaM2 } from './load-items.ts';
import { partLift } from './part-lift.ts';
import type { Job, Part } from './job.ts';

export const GRAVITY_M_PER_S2 = 9.80665;
/** Taken while nobody has said the alloy. */
const USUAL_ALLOY = '6061';

/** What the worker has found out about one part, as it hangs. Model units. */
export interface HangingGround {
  readonly open: Failure | null;
  readonly moments: SolidMoments | null;
  readonly centre: Vec3;
  /** Diagonal of its box. */
  readonly size: number;
  /** null while they are looked for, and where the mesh is open. */
  readonly traps: Traps | null;
  /** Hollows below the level that no liquid gets into, their rims above it; see traps-in-bath.ts. */
  readonly shutCount?: number;
  /** Hollows that no liquid fills, sealed by metal or by plugs; left out where the part stands out of the bath. */
  readonly sealedVolumeM3?: number;
  /** Bores that have a plug while it hangs. */
  readonly plugCount?: number;
  /** What its plugs shut off, and is not masked. */
  readonly closedOff?: ClosedOff | null;
}

/** One contact with the wires that hold it. */
export interface ContactPlan {
  readonly contactId: string;
  /** An equal share of the part's current; wires share by their resistance, which is not known well enough to say more. */
  readonly currentA: number;
  readonly check: HangerCheck;
  readonly spot: ContactLoad;
  /** Whether any of the wire is in the liquid: the pin of a part that stands out of it may be above. */
  readonly inBath: boolean;
  /** The most of the part's weight that may come to it, N; null where the surface is open, so that bending can't be judged. */
  readonly weightN: number | null;
}

/** How one part hangs: weight, rest, what it traps, what its hangers can carry. */
export interface PartHangingPlan {
  readonly massKg: Figure | null;
  readonly volumeM3: Figure | null;
  /** Under all its contacts; null without contacts. */
  readonly rest: Result<Rest> | null;
  readonly traps: TrapFigures | null;
  readonly shutCount: number;
  readonly plugCount: number;
  readonly closedOff: ClosedOff | null;
  /** Of the coated surface. */
  readonly closedOffShare: number;
  /** Share of the coated surface that gas keeps dry. */
  readonly gasShare: number;
  readonly liquidShare: number;
  readonly lift: GasLift | null;
  readonly contacts: readonly ContactPlan[];
}

export function densityOf(part: Pick<Part, 'alloy'>): { readonly kgPerM3: number; readonly source: Source } {
  const named = part.alloy === null ? undefined : alloyByName(part.alloy);
  const alloy = named ?? alloyByName(USUAL_ALLOY)!;
  const { source } = alloy;
  return {
    kgPerM3: alloy.densityKgPerM3.usual,
    source: named
      ? source
      : { standing: source.standing, text: `${source.text}; as 6061 until an alloy is named` },
  };
}

/**
 * @param coatedM2 coated area of one piece
 * @param unconfirmed why the model's unit is not certain
 */
export function planHanging(
  job: Job,
  part: Part,
  ground: HangingGround,
  coatedM2: number,
  system: UnitSystem,
  unconfirmed?: string,
): PartHangingPlan {
  const scale = metresPerUnit(part.unit);
  const doubt = unconfirmed === undefined ? {} : { unconfirmed };
  const density = densityOf(part);
  const volumeM3 = ground.moments ? ground.moments.volume * scale ** 3 : null;
  const massKg = volumeM3 === null ? null : massFigure(volumeM3, density, unconfirmed);
  const rest = restOf(part, ground);
  const traps = ground.traps ? trapFigures(ground.traps, scale, unconfirmed) : null;
  return {
    massKg,
    volumeM3:
      volumeM3 === null
        ? null
        : {
            label: 'Volume',
            kind: 'volume',
            valueSi: volumeM3,
            formula: 'V = Σ tetrahedra to each triangle',
            inputs: [],
            source: { standing: 'measured on the model', text: 'divergence theorem on the closed mesh' },
            ...doubt,
          },
    rest,
    traps,
    shutCount: ground.shutCount ?? 0,
    plugCount: ground.plugCount ?? 0,
    closedOff: ground.closedOff ?? null,
    closedOffShare: closedOffShare(ground.closedOff, coatedM2),
    gasShare: traps && coatedM2 > 0 ? traps.gasAreaM2.valueSi / coatedM2 : 0,
    liquidShare: traps && volumeM3 ? traps.liquidVolumeM3.valueSi / volumeM3 : 0,
    lift:
      traps && volumeM3
        ? partLift(job.bath, density.kgPerM3, {
            metal: volumeM3,
            gas: traps.gasVolumeM3.valueSi,
            sealed: ground.sealedVolumeM3 ?? 0,
          })
        : null,
    contacts: contactPlans(job, part, coatedM2, massKg?.valueSi ?? null, rest, system),
  };
}

function restOf(part: Part, ground: HangingGround): Result<Rest> | null {
  const [first, second, third] = part.contacts;
  if (!first || ground.open) return null;
  const { centre, size } = ground;
  if (third) {
    return restUnderMany(
      part.contacts.map(({ at }) => at),
      centre,
      part.attitude.up,
    );
  }
  return second
    ? restUnderTwo([first.at, second.at], centre, part.attitude.up, size)
    : restUnderOne(first.at, centre, part.attitude.up, size);
}

function contactPlans(
  job: Job,
  part: Part,
  coatedM2: number,
  massKg: number | null,
  rest: Result<Rest> | null,
  system: UnitSystem,
): ContactPlan[] {
  const count = part.contacts.length;
  // Aluminium wire in the bath takes current of its own, which the dry wire carries as well.
  const takingM2 = coatedM2 + hangerAreaM2(part);
  const currentA = count > 0 ? (job.process.currentDensityAPerM2 * takingM2) / count : 0;
  // Where some hangers go slack, and where it can't be said how they share, each has to hold what may come to it.
  const shareOf = (index: number): number => (rest?.ok ? rest.value.mostShares[index]! : 1);
  const duty: Omit<HangerDuty, 'weightN'> = {
    currentA,
    airK: job.bath.airK,
    bathK: job.bath.temperatureK,
    allowedRiseK: job.hanging.allowedRiseK,
    allowedDropV: job.hanging.allowedDropV,
  };
  const partMetal = HANGER_METALS['Al 6061'];
  // A contact above the level is in the air.
  const standsOut = part.surface.immersedDepth !== null;
  return part.contacts.map(({ id, hanger }, index) => {
    const weightN = massKg === null ? null : massKg * GRAVITY_M_PER_S2 * shareOf(index);
    const metal = HANGER_METALS[hanger.material];
    const inBath = hasWetWire(hanger) || !standsOut;
    const aroundK = inBath ? duty.bathK : duty.airK;
    return {
      contactId: id,
      currentA,
      weightN,
      inBath,
      check: checkHanger(hanger, { ...duty, weightN }, system),
      spot: contactLoad(
        {
          resistivityAOhmM: resistivityAt(metal, aroundK),
          resistivityBOhmM: resistivityAt(partMetal, aroundK),
          hardnessPa: Math.min(metal.hardnessPa, partMetal.hardnessPa),
          forceN: job.hanging.clampForceN,
        },
        currentA,
        aroundK,
      ),
    };
  });
}
