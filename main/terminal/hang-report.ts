import { closedOffBy } from '../../core/job/closed-off.ts';
import { levelOnPart } from '../../core/job/hung-depth.ts';
import { sizeAsHung } from '../../core/job/hung-wires.ts';
import { liftMessage, partLift } from '../../core/job/part-lift.ts';
import { sealedVolumeOf } from '../../core/job/sealed-volume.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { ContactAdvice } from '../../core/racking/judge-place.ts';
import { rankContactPairs } from '../../core/racking/contact-pairs.ts';
import type { Pocket } from '../../core/racking/find-traps.ts';
import { PART_AXES, prepareHanging } from '../../core/racking/hang-part.ts';
import { plugPart, trapsOf } from '../../core/racking/plugged-traps.ts';
import { trapsInBath } from '../../core/racking/traps-in-bath.ts';
import { searchAttitudes } from '../../core/racking/search-attitudes.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import type { GatheredPart } from './gather-parts.ts';
import { gatheredPlugs } from './gathered-plugs.ts';
import type { HangOptions } from './hang-options.ts';
import type { HangSettings, SavedPin } from './hung-as-saved.ts';

interface JsonPocket {
  readonly volumeMm3: number;
  readonly areaMm2: number;
  readonly depthMm: number;
  readonly opensAtMm: Vec3;
}

/** What `hang --json` prints for one part. Lengths in millimetres, in the model's own axes; null where the mesh does not tell. */
export interface HangReport {
  readonly file: string;
  /** The model's direction that points up in the bath. */
  readonly up: Vec3;
  /** What the weight is of. */
  readonly alloy: string;
  /** Of a saved job alone: how deep it hangs in the bath, from its lowest point up, where that is not all of it. */
  readonly hangsDeepMm?: number;
  /** Of a saved job alone: the pins it sets on the part. */
  readonly pins?: readonly SavedPin[];
  /** Of a saved job with a tank alone: what to keep clear in it. */
  readonly tank?: string;
  readonly volumeMm3: number | null;
  readonly massKg: number | null;
  readonly centreMm: Vec3 | null;
  readonly gas: readonly JsonPocket[] | null;
  readonly liquid: readonly JsonPocket[] | null;
  /** Bores that are masked and so get a plug. */
  readonly plugs: number | null;
  /** Counted as coated although plugs keep the bath from it. */
  readonly behindPlugs: { readonly areaMm2: number; readonly faces: string } | null;
  readonly lastDripMm: Vec3 | null;
  /** `score` is for hanging by that one alone, `place` for it as one of several. */
  readonly contacts: readonly {
    readonly atMm: Vec3;
    readonly score: number;
    readonly place: number;
    readonly kind: string;
    readonly reasons: readonly string[];
  }[];
  /** Two together; `contacts` are their numbers in the list above, from 1. */
  readonly pairs: readonly {
    readonly contacts: readonly [number, number];
    readonly score: number;
    readonly reasons: readonly string[];
  }[];
  readonly attitudes?: readonly {
    readonly up: Vec3;
    readonly score: number;
    readonly gasMm3: number;
    readonly gasAreaMm2: number;
    readonly liquidMm3: number;
    readonly reasons: readonly string[];
  }[];
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}

const MOST_CONTACTS = 10;
const MOST_PAIRS = 3;

/** @param onProgress share of the search done */
export function hangReport(
  gathered: GatheredPart,
  options: Pick<HangOptions, 'patchDiameterM' | 'search' | 'directions'>,
  { up, alloy, currentA, bath }: HangSettings,
  onProgress: (done: number, total: number) => void,
): HangReport {
  const { file, part, geometry, measure } = gathered;
  const scale = metresPerUnit(part.unit);
  const toMm = 1000 * scale;
  const place = (p: Vec3): Vec3 => [p[0] * toMm, p[1] * toMm, p[2] * toMm];
  const pocket = ({ volume, area, depth, spillAt }: Pocket): JsonPocket => ({
    volumeMm3: volume * toMm ** 3,
    areaMm2: area * toMm ** 2,
    depthMm: depth * toMm,
    opensAtMm: place(spillAt),
  });
  const warnings = measure.findings
    .filter(({ level }) => level !== 'note')
    .map(({ code, message }) => ({ code, message }));
  const hanging = prepareHanging(geometry, scale);
  // The depth was said of the attitude that is saved with it.
  const level = up === part.attitude.up ? levelOnPart(sizeAsHung(part, geometry), part) : undefined;
  const advice = hanging
    .adviser(measure.flags, {
      up,
      level,
      ...(currentA === undefined ? {} : { currentA }),
      patchDiameterM: options.patchDiameterM,
      allowShown: false,
      allowMasked: false,
      most: MOST_CONTACTS,
    })
    .advise();
  const contacts = advice.map((one: ContactAdvice) => ({
    atMm: place(one.at),
    score: one.score,
    place: one.place,
    kind: one.kind,
    reasons: one.reasons,
  }));
  const size = Math.hypot(...geometry.max.map((high, axis) => high - geometry.min[axis]!));
  const pairs = rankContactPairs(advice, hanging.centre, up, size)
    .slice(0, MOST_PAIRS)
    .map(({ first, second, score, reasons }) => ({
      contacts: [first + 1, second + 1] as const,
      score,
      reasons,
    }));
  const plugs = gatheredPlugs(gathered);
  const plugged = plugPart(geometry.graph.indexed, hanging.trapMesh, plugs);
  if (!plugged.ok || !hanging.moments.ok) {
    const error = plugged.ok ? undefined : plugged.error;
    return {
      file,
      up,
      alloy: alloy.name,
      volumeMm3: null,
      massKg: null,
      centreMm: null,
      gas: null,
      liquid: null,
      plugs: null,
      behindPlugs: null,
      lastDripMm: null,
      contacts,
      pairs,
      warnings: [...warnings, ...(error ? [{ code: error.code, message: error.message }] : [])],
    };
  }
  const traps = trapsInBath(trapsOf(plugged.value, up), scale, level);
  const closedOff = closedOffBy(geometry, traps.closedOff, measure.flags, scale);
  const { volume, centre } = hanging.moments.value;
  const lift = liftMessage(
    `“${part.name}”`,
    partLift(bath, alloy.densityKgPerM3.usual, {
      metal: volume * scale ** 3,
      gas: traps.gas.reduce((sum, one) => sum + one.volume, 0) * scale ** 3,
      sealed: sealedVolumeOf(part, measure, traps),
    }),
  );
  if (lift) warnings.push({ code: lift.code, message: `${lift.message} ${lift.remedy}` });
  const report = {
    file,
    up,
    alloy: alloy.name,
    volumeMm3: volume * toMm ** 3,
    massKg: volume * scale ** 3 * alloy.densityKgPerM3.usual,
    centreMm: place(centre),
    gas: traps.gas.map(pocket),
    liquid: traps.liquid.map(pocket),
    plugs: plugs?.count ?? 0,
    behindPlugs: closedOff && { areaMm2: closedOff.areaM2 * 1e6, faces: closedOff.faces },
    lastDripMm: place(traps.lastDripAt),
    contacts,
    pairs,
  };
  if (!options.search) return { ...report, warnings };
  const found = searchAttitudes(
    plugged.value.mesh,
    { directions: options.directions, extra: [up, ...PART_AXES], contacts: [] },
    { onProgress },
  );
  if (!found.ok) return { ...report, warnings: [...warnings, found.error] };
  return {
    ...report,
    attitudes: found.value.distinct.map(({ up: way, score, gasVolume, gasArea, liquidVolume, reasons }) => ({
      up: way,
      score,
      gasMm3: gasVolume * toMm ** 3,
      gasAreaMm2: gasArea * toMm ** 2,
      liquidMm3: liquidVolume * toMm ** 3,
      reasons,
    })),
    warnings,
  };
}
