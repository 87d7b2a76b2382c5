import type { FieldScene, InnerCathode, SceneContact, ScenePart } from '../field/field-scene.ts';
import { CATHODE_LAW_DEFAULT, filmLaw, type FilmLaw } from '../field/film-law.ts';
import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { fnv1a } from '../fnv1a.ts';
import { pinsOn } from '../mesh/mesh-triangles.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { wettedBusEnds } from '../racking/bus-ends.ts';
import { raisedLevelM } from '../racking/cathode-shape.ts';
import type { Plugs } from '../racking/plugs.ts';
import { USUAL_TANK_RULES, type Tank } from '../racking/tank.ts';
import {
  sulfuricConductivity,
  SULFURIC_CONDUCTIVITY_SOURCE,
} from '../reference/sulfuric-acid-conductivity.ts';
import { strengthFromConcentration } from '../reference/sulfuric-density.ts';
import { failure, success, type Result } from '../result.ts';
import { drawnShare } from './drawn-share.ts';
import { setPlacements } from './edit-hanging.ts';
import { hungCopies, raised, turned, wettedOf } from './field-hanging.ts';
import { FIELD_GRIDS } from './job-field.ts';
import type { Attitude } from './job-hanging.ts';
import { hungParts, sizeAsHung } from './hung-wires.ts';
import { loadItems } from './load-items.ts';
import type { Job, Part } from './job.ts';
import type { PartMeasure } from './measure-part.ts';

/** What is known of one part's surface. */
export interface FieldGround {
  readonly geometry: PartGeometry;
  readonly measure: PartMeasure;
  /** What stands in its masked bores, see part-plugs.ts. */
  readonly plugs: Plugs | null;
  /** Another word whenever the mesh is another. */
  readonly meshKey: string;
}

/** What is to be different from the job, for a what-if. */
export interface FieldVariant {
  readonly tank?: Tank;
  /** Of the mapped part, all its copies. */
  readonly attitude?: Attitude;
  readonly currentDensityAPerM2?: number;
  /** Rods inside the part, tank axes. */
  readonly innerCathodes?: readonly InnerCathode[];
  readonly mostCells?: number;
}

/** One thing to be solved: the scene, and what to call it by. */
export interface FieldSetting {
  readonly partId: string;
  /** The same for the same scene, whatever the planned thickness: a solution is found again by it. */
  readonly key: string;
  readonly scene: FieldScene;
  readonly film: FilmLaw;
  readonly conductivity: Figure;
  readonly currentDensityAPerM2: number;
  /** By the plan, for the true area; the scene's own is for the area as drawn, see drawn-share.ts. */
  readonly plannedCurrentA: number;
  /** Aluminium wire below the level, share of the load's area by the plan. */
  readonly plannedWireShare: number;
  /** What was taken because nobody has said it, one sentence each. */
  readonly assumed: readonly string[];
}

/** Conductivity of the job's bath: as typed, or of the acid's strength and temperature. Fails with `outside-table`. */
export function bathConductivity(job: Job): Result<Figure> {
  const { acidKgPerM3, temperatureK } = job.bath;
  if (job.field.conductivitySPerM !== null) {
    return success({
      label: 'Conductivity of the bath',
      kind: 'conductivity',
      valueSi: job.field.conductivitySPerM,
      formula: 'κ as measured',
      inputs: [],
      source: { standing: 'your entry', text: '' },
    });
  }
  const strength = strengthFromConcentration(acidKgPerM3, temperatureK);
  if (!strength.ok) return strength;
  const read = sulfuricConductivity(strength.value, temperatureK);
  if (!read.ok) return read;
  const { value, uncertainty } = read.value;
  return success({
    label: 'Conductivity of the bath',
    kind: 'conductivity',
    valueSi: value,
    lowSi: value - uncertainty,
    highSi: value + uncertainty,
    formula: 'κ = κ₁₈(w) · (1 + a(w) · (T − 18 °C))',
    inputs: [
      figureInput('w', 'strength of the acid', 'fraction', strength.value, '%'),
      figureInput('T', 'temperature of the bath', 'temperature', temperatureK, '°C'),
    ],
    source: SULFURIC_CONDUCTIVITY_SOURCE,
  });
}

/**
 * The job as the solver sees it, or what is missing: `no-tank`, `no-model`, `not-measured`, `outside-table`.
 * Hangs the part alone in the middle where the job has hung nothing yet, and says so.
 * @param grounds per part id
 * @param copy which of the part's copies in the tank is mapped, from 0; the last where there are fewer
 */
export function fieldSetting(
  given: Job,
  partId: string,
  measured: Readonly<Record<string, FieldGround>>,
  copy = 0,
  variant: FieldVariant = {},
): Result<FieldSetting> {
  const said = given.parts.find(({ id }) => id === partId);
  if (!said) throw new RangeError(`fieldSetting: no part "${partId}"`);
  const { job, part, grounds } = turned(given, said, measured, variant.attitude);
  const tank = variant.tank ?? job.tank?.tank;
  if (!tank) {
    return failure(
      'no-tank',
      'The job has no tank yet, and where the current goes depends on its walls and cathodes.',
      'Set up your tank, or take a usual one around the part.',
    );
  }
  if (part.source.kind === 'typed') {
    return failure(
      'no-model',
      `“${part.name}” is only an area, so there is no shape to show the current on.`,
      'Open its model, or draw its shape.',
    );
  }
  const conductivity = bathConductivity(job);
  if (!conductivity.ok) return conductivity;
  const density = variant.currentDensityAPerM2 ?? job.process.currentDensityAPerM2;
  const assumed: string[] = [];
  const hung = hungCopies(job, part, tank, grounds, variant.attitude, assumed);
  if (!hung.ok) return hung;
  const parts = job.parts.filter(({ id }) => hung.value.some((other) => other.partId === id));
  const missing = parts.find(({ id }) => !grounds[id]);
  if (missing) {
    return failure(
      'not-measured',
      `The model of “${missing.name}” is not read yet.`,
      'Wait until it is, or take it out of the tank.',
    );
  }
  const measures = Object.fromEntries(parts.map(({ id }) => [id, grounds[id]!.measure]));
  const rules = job.tank?.rules ?? USUAL_TANK_RULES;
  const asHung = setPlacements(
    { ...job, parts, tank: { shopTankId: null, tank, rules } },
    hung.value.map((other, i) => ({ id: `${i}`, ...other })),
  );
  const items = loadItems(
    hungParts(asHung, (id) => grounds[id]?.geometry),
    measures,
  );
  const indexOf = new Map(parts.map(({ id }, i) => [id, i]));
  const mine = hung.value.flatMap((other, i) => (other.partId === partId ? [i] : []));
  const under = new Map(
    parts.flatMap((other) => {
      if (other.surface.immersedDepth === null) return [];
      const { depthM } = sizeAsHung(other, grounds[other.id]!.geometry);
      return depthM === undefined ? [] : [[other.id, wettedOf(other, grounds[other.id]!.geometry, depthM)]];
    }),
  );
  const metalM3 = hung.value.reduce((sum, { partId: id }) => {
    const scale = metresPerUnit(parts[indexOf.get(id)!]!.unit);
    const wetted = under.get(id)?.volume;
    return sum + Math.max(0, typeof wetted === 'number' ? wetted * scale ** 3 : measures[id]!.volumeM3);
  }, 0);
  const areaM2 = hung.value.reduce((sum, other) => sum + items[indexOf.get(other.partId)!]!.areaM2, 0);
  const drawn = new Map(
    parts.map((other) => {
      const { geometry, measure } = grounds[other.id]!;
      const scale = metresPerUnit(other.unit);
      return [other.id, drawnShare(geometry, measure, scale, under.get(other.id)?.shareOfTriangle)];
    }),
  );
  /** The same as the meshes draw it, which is what the solver sees. */
  const drawnM2 = hung.value.reduce((sum, { partId: id }) => {
    const { areaM2: takingM2, hangersM2 = 0 } = items[indexOf.get(id)!]!;
    return sum + hangersM2 + (takingM2 - hangersM2) * drawn.get(id)!;
  }, 0);
  const wireM2 = hung.value.reduce(
    (sum, other) => sum + (items[indexOf.get(other.partId)!]!.hangersM2 ?? 0),
    0,
  );
  if (!(areaM2 > 0)) {
    return failure('no-area', 'There is no area to coat.', 'Leave at least one face set to coat.');
  }
  if (wettedBusEnds(job.hanging.busEnds).areaM2 > 0)
    assumed.push('The bus ends below the level, and the current they take, are left out of the map.');
  for (const { id, name } of parts) {
    const count = grounds[id]!.plugs?.count ?? 0;
    if (count === 0) continue;
    const which = count === 1 ? 'The masked bore' : `The ${count} masked bores`;
    assumed.push(
      `${which} of “${name}” ${count === 1 ? 'is' : 'are'} taken as plugged: nothing behind a plug is coated.`,
    );
  }
  const film = filmLaw(job.field.filmReadings);
  const levelM = Math.min(tank.vessel.heightM, raisedLevelM(tank, metalM3));
  const scene: FieldScene = {
    tank,
    levelM,
    conductivitySPerM: conductivity.value.valueSi,
    filmLaw: film.law,
    filmSource: film.source,
    cathodeLaw: CATHODE_LAW_DEFAULT,
    parts: parts.map((other) => scenePart(other, grounds[other.id]!)),
    copies: hung.value.map(({ partId: id, pose }) => ({
      part: indexOf.get(id)!,
      // What hangs to a mark is hung by the liquid as it stands then.
      pose: under.has(id) ? raised(pose, levelM - tank.levelM) : pose,
    })),
    mapped: mine[Math.min(copy, mine.length - 1)]!,
    innerCathodes: variant.innerCathodes ?? [],
    totalCurrentA: density * drawnM2,
    mostCells: variant.mostCells ?? FIELD_GRIDS[job.field.grid],
  };
  return success({
    partId,
    key: keyOf(
      scene,
      parts.map(({ id }) => grounds[id]!),
    ),
    scene,
    film,
    conductivity: conductivity.value,
    currentDensityAPerM2: density,
    plannedCurrentA: density * areaM2,
    plannedWireShare: wireM2 / areaM2,
    assumed,
  });
}

function scenePart(part: Part, { geometry, measure, plugs }: FieldGround): ScenePart {
  const { normals } = geometry.graph;
  return {
    name: part.name,
    mesh: geometry.graph.indexed,
    metresPerUnit: metresPerUnit(part.unit),
    insulated: measure.flags.map((flags) => ((flags & 3) === 0 ? 0 : 1)),
    plugs,
    contacts: pinsOn(geometry, part.contacts).map(
      ({ at, triangle, patchDiameterM, hanger }): SceneContact => ({
        at,
        facing: [normals[3 * triangle]!, normals[3 * triangle + 1]!, normals[3 * triangle + 2]!],
        patchRadiusM: patchDiameterM / 2,
        wireDiameterM: hanger.diameterM,
        wires: hanger.count,
        insulates: hanger.material.startsWith('Ti'),
      }),
    ),
  };
}

function keyOf(scene: FieldScene, grounds: readonly FieldGround[]): string {
  const parts = scene.parts.map(({ contacts, insulated, plugs, metresPerUnit: scale }, i) => ({
    mesh: grounds[i]!.meshKey,
    scale,
    contacts,
    insulated: fnv1a(insulated),
    ...(plugs ? { plugs: plugs.key } : {}),
  }));
  return JSON.stringify({ ...scene, parts, filmSource: undefined }, inOrder);
}

/** Names in order of the alphabet: a job read from its file has the same ones in another order. */
function inOrder(_name: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
