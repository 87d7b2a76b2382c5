import { COVERAGE_BITS } from '../faces/coverage-flags.ts';
import { depthCoated, estimateBore, wagnerNumber, type BoreEstimate } from '../field/bore-depth.ts';
import { placeBores, type PlacedBore } from '../field/bore-places.ts';
import { fieldFigures, type FieldFigures } from '../field/field-figures.ts';
import { filmSlope } from '../field/film-law.ts';
import type { SceneField } from '../field/solve-scene.ts';
import {
  chargeForLeast,
  metresPerDensity,
  thicknessMap,
  thicknessOfFaces,
  type FaceThickness,
  type ThicknessMap,
} from '../field/thickness-map.ts';
import type { Figure } from '../figure/figure.ts';
import { coverageOn } from '../mesh/mesh-triangles.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { bathConductivity, type FieldGround, type FieldSetting } from './field-setting.ts';
import { filmLaw } from '../field/film-law.ts';
import { success, type Result } from '../result.ts';
import type { Job, Part } from './job.ts';

/** A hole with what is known of it before and after a solution. */
export interface BoreReading {
  readonly bore: PlacedBore;
  readonly estimate: BoreEstimate;
  /** How much of the bore's length has at least the limit, by the map; null before there is one or where it is masked. */
  readonly heldM: number | null;
  /** Nothing in it conducts: masked or full of gas. */
  readonly bare: boolean;
}

/** A solved field read with the job's planned thickness. */
export interface FieldReading {
  readonly setting: FieldSetting;
  readonly figures: FieldFigures;
  readonly map: ThicknessMap;
  readonly perDensityM: number;
  readonly faces: readonly FaceThickness[];
  readonly chargeC: number;
  readonly limitM: number;
  /** Thinnest place over the mean, 0-1. */
  readonly evenness: number;
  /** Thinnest of what the least thickness is asked of; 0 where none of it is coated. */
  readonly askedLeastM: number;
  /** Planned thickness that gives the asked faces the asked least; null while nothing is asked or where it holds. */
  readonly thicknessForLeastM: number | null;
  /** Share of each body and sheet, of what leaves the anodes or enters the cathodes. */
  readonly currents: readonly {
    readonly name: string;
    readonly role: 'anode' | 'cathode';
    readonly currentA: number;
    readonly share: number;
  }[];
  readonly gasM2: number;
  /** Aluminium wire: its share of the load's current by the plan's lengths, and as it hangs in the bath. */
  readonly wires: { readonly plannedShare: number; readonly hungShare: number };
}

const isWire = (name: string): boolean => name.startsWith('wire at pin ');

/** Thinner than this counts as too thin: what the user needs, or half of the planned thickness. */
export function thicknessLimitM(job: Job): number {
  return job.field.leastM ?? job.process.thicknessM / 2;
}

/**
 * @param field of the same setting
 */
export function readField(
  job: Job,
  setting: FieldSetting,
  field: SceneField,
  ground: Pick<FieldGround, 'geometry'>,
): FieldReading {
  const part = job.parts.find(({ id }) => id === setting.partId);
  if (!part) throw new RangeError(`readField: no part "${setting.partId}"`);
  const { thicknessM, chargePerVolumeCPerM3 } = job.process;
  const { totalCurrentA } = setting.scene;
  const { result, source } = field;
  const chargeC = (chargePerVolumeCPerM3 * thicknessM * totalCurrentA) / setting.currentDensityAPerM2;
  const limitM = thicknessLimitM(job);
  const perDensityM = metresPerDensity(totalCurrentA, chargeC, chargePerVolumeCPerM3);
  const map = thicknessMap(result.fine.part, totalCurrentA, chargeC, chargePerVolumeCPerM3);
  const faceOfPiece = source.map((t) => ground.geometry.faces.faceOfTriangle[t]!);
  const asked = askedPieces(part, ground.geometry, field);
  let askedLeastM = asked.length > 0 ? Infinity : 0;
  for (const piece of asked) askedLeastM = Math.min(askedLeastM, map.triangleM[piece]!);
  const { leastM } = job.field;
  const wantedC = leastM === null ? undefined : chargeForLeast(map, asked, leastM, chargeC);
  const currents = result.fine.currents.flatMap(({ name, role, currentA }) =>
    role === 'insulator'
      ? []
      : [
          {
            name,
            role,
            currentA: (currentA * setting.plannedCurrentA) / totalCurrentA,
            share: currentA / totalCurrentA,
          },
        ],
  );
  return {
    setting,
    figures: fieldFigures(result, {
      totalCurrentA,
      chargeC,
      chargePerVolumeCPerM3,
      limitM,
      filmSource: setting.film.source,
      filmUncertaintyV: setting.film.uncertaintyV,
    }),
    map,
    perDensityM,
    faces: thicknessOfFaces(result.fine.part, faceOfPiece, perDensityM),
    chargeC,
    limitM,
    evenness: map.meanM > 0 ? map.leastM / map.meanM : 0,
    askedLeastM,
    thicknessForLeastM:
      wantedC === undefined || wantedC <= chargeC * (1 + 1e-6) ? null : (thicknessM * wantedC) / chargeC,
    currents,
    gasM2: field.gasM2,
    wires: {
      plannedShare: setting.plannedWireShare,
      hungShare: currents.reduce((sum, { name, share }) => sum + (isWire(name) ? share : 0), 0),
    },
  };
}

/** Conducting pieces of the faces the least thickness is asked of; of everything where none are named. */
function askedPieces(part: Part, geometry: PartGeometry, { source, result }: SceneField): number[] {
  const all = part.leastFaces.length === 0;
  const flags = all ? undefined : coverageOn(geometry, { mask: part.leastFaces, contact: [], show: [] });
  const pieces: number[] = [];
  source.forEach((t, piece) => {
    if (!(result.fine.part.conductingM2[piece]! > 0)) return;
    if (!flags || (flags[t]! & COVERAGE_BITS.mask) !== 0) pieces.push(piece);
  });
  return pieces;
}

export interface BoreSummary {
  readonly wagner: Figure;
  readonly bores: readonly BoreReading[];
}

const MOST_SHARE = 0.95;

/**
 * Wagner number of a part and its round holes, with no solution needed; with one, how deep each hole is really coated.
 * Fails as bathConductivity does.
 */
export function readBores(
  job: Job,
  part: Part,
  { geometry, measure }: Pick<FieldGround, 'geometry' | 'measure'>,
  solved?: { readonly reading: FieldReading; readonly field: SceneField },
): Result<BoreSummary> {
  const conductivity = bathConductivity(job);
  if (!conductivity.ok) return conductivity;
  const film = filmLaw(job.field.filmReadings);
  const at = {
    conductivitySPerM: conductivity.value.valueSi,
    filmSlopeVM2PerA: filmSlope(film, job.process.currentDensityAPerM2),
    filmSource: film.source,
  };
  const share = Math.min(MOST_SHARE, thicknessLimitM(job) / job.process.thicknessM);
  const bores = placeBores(geometry, metresPerUnit(part.unit)).map((bore): BoreReading => {
    const held = solved ? heldInBore(bore, geometry, solved) : undefined;
    return {
      bore,
      estimate: estimateBore(bore, at, share),
      heldM:
        held === undefined || held === 'bare' ? null : Math.min(bore.depthM, held * metresPerUnit(part.unit)),
      bare: held === 'bare',
    };
  });
  return success({ wagner: wagnerNumber(Math.max(...measure.sizeM), at), bores });
}

/** Model units; 'bare' where nothing of the wall conducts. A through hole counts from both mouths. */
function heldInBore(
  bore: PlacedBore,
  { faces }: PartGeometry,
  { reading, field }: { readonly reading: FieldReading; readonly field: SceneField },
): number | 'bare' {
  const { conductingM2 } = field.result.fine.part;
  const rows = new Set(bore.rows);
  const pieces: number[] = [];
  field.source.forEach((t, piece) => {
    if (rows.has(faces.faceOfTriangle[t]!) && conductingM2[piece]! > 0) pieces.push(piece);
  });
  if (pieces.length === 0) return 'bare';
  const { mouth, inward, length } = bore;
  const from = (at: typeof mouth, way: typeof inward): number =>
    depthCoated(
      field.positions,
      pieces,
      reading.map.triangleM,
      conductingM2,
      { mouth: at, inward: way, length },
      reading.limitM,
    );
  const first = from(mouth, inward);
  if (first >= length || !bore.through) return first;
  const other = mouth.map((x, n) => x + length * inward[n]!) as [number, number, number];
  const back = inward.map((x) => -x) as [number, number, number];
  return Math.min(length, first + from(other, back));
}
