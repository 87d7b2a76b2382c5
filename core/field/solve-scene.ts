import type { Traps } from '../racking/find-traps.ts';
import { plugPart, trapsOf, type PluggedPart } from '../racking/plugged-traps.ts';
import { poseVertices, rotate, rotateBack, type Pose } from '../racking/pose.ts';
import { prepareTrapMesh, type TrapMesh } from '../racking/trap-mesh.ts';
import { castRay } from '../racking/ray-cast.ts';
import { add, scale, type Vec3 } from '../racking/vec3.ts';
import { success, type Result } from '../result.ts';
import type { Bath, ContactSpot, FieldBody } from './bath-bodies.ts';
import { bathOfTank } from './bath-of-tank.ts';
import { rodBody } from './body-shapes.ts';
import type { FieldScene, ScenePart } from './field-scene.ts';
import { sceneSurface, type SceneSurface } from './scene-surface.ts';
import { gasPieces } from './gas-pieces.ts';
import { hangerRods } from './hanger-rods.ts';
import { planFieldGrid, solveField, type FieldProgress, type FieldResult } from './solve-field.ts';
import { splitTriangles } from './split-triangles.ts';
import { cutAtLevel } from './cut-at-level.ts';

/** A solved scene. The map's triangles are pieces of the part's own, small enough to show it. */
export interface SceneField {
  /** 9 numbers a piece, model units of the mapped part. */
  readonly positions: Float32Array;
  /** Per piece, the triangle of the part it was cut from; ascending. */
  readonly source: Uint32Array;
  readonly result: FieldResult;
  /** Surface of the mapped part that gas keeps dry, m². */
  readonly gasM2: number;
}

/** The coarse grid's answer, told while the fine one is under way. */
export interface ScenePreview {
  readonly positions: Float32Array;
  readonly source: Uint32Array;
  readonly triangleAPerM2: Float32Array;
}

export type SceneProgress = Omit<FieldProgress, 'coarse'> & { readonly preview?: ScenePreview };

const MOST_PIECES = 120_000;
/** Pieces are about as long as the grid is wide at the part. */
const PIECE_PER_SPACING = 1.2;
const RAY_SLIP = 1e-6;

/**
 * Puts the scene's bodies into its tank and solves for the current. Parts hang as posed; gas that an attitude keeps, masks, plugs
 * and contacts carry no current; titanium wires stand as insulators in the way. Failures are those of solveField and of
 * prepareTrapMesh (an open or inside-out surface has no inside to keep liquid out of).
 */
export function solveScene(
  scene: FieldScene,
  onProgress: (progress: SceneProgress) => boolean | void = () => true,
): Result<SceneField> {
  const built = buildScene(scene);
  if (!built.ok) return built;
  const { bath, positions, source, gasM2 } = built.value;
  const solved = solveField(
    { bath, part: 0, totalCurrentA: scene.totalCurrentA },
    { mostCells: scene.mostCells },
    ({ coarse, ...progress }) =>
      onProgress({
        ...progress,
        ...(coarse ? { preview: { positions, source, triangleAPerM2: coarse.triangleAPerM2 } } : {}),
      }),
  );
  return solved.ok ? success({ positions, source, result: solved.value, gasM2 }) : solved;
}

interface BuiltScene {
  readonly bath: Bath;
  readonly positions: Float32Array;
  readonly source: Uint32Array;
  readonly gasM2: number;
}

function buildScene(scene: FieldScene): Result<BuiltScene> {
  const mapped = scene.copies[scene.mapped];
  if (!mapped) throw new RangeError(`solveScene: mapped is ${scene.mapped} of ${scene.copies.length} copies`);
  const ready = new Map<number, ReadyPart>();
  for (const { part } of scene.copies) {
    if (ready.has(part)) continue;
    const made = readyPart(scene.parts[part]!);
    if (!made.ok) return made;
    ready.set(part, made.value);
  }
  const order = [scene.mapped, ...scene.copies.keys()].filter((copy, i, all) => all.indexOf(copy) === i);
  const bodies: FieldBody[] = [];
  const wires: FieldBody[] = [];
  let map: Pick<BuiltScene, 'positions' | 'source' | 'gasM2'> | undefined;
  for (const copy of order) {
    const { part: index, pose } = scene.copies[copy]!;
    const part = scene.parts[index]!;
    const { plugged, surface, traps } = ready.get(index)!;
    const up = rotateBack(pose.rotation, [0, 0, 1]);
    const upKey = up.map((x) => x.toFixed(6)).join();
    const held = traps.get(upKey) ?? trapsOf(plugged, up);
    traps.set(upKey, held);
    const isMapped = copy === scene.mapped;
    const name = order.length > 1 ? `${part.name} (${copy + 1})` : part.name;
    // What stands out of the liquid takes no current; a piece is either in it or not.
    const level = (scene.levelM - pose.offsetM[2]) / part.metresPerUnit;
    const cut = isMapped
      ? cutAtLevel(
          splitTriangles(
            surface.positions,
            (PIECE_PER_SPACING * spacingFor(scene, part, pose)) / part.metresPerUnit,
            Math.max(MOST_PIECES, part.mesh.triangles.length / 3),
          ),
          up,
          level,
        )
      : null;
    const pieces = cut
      ? { positions: cut.positions, source: cut.source.map((t) => surface.source[t]!) }
      : surface;
    const { gas, area } = gasPieces(pieces, held, level, part.metresPerUnit);
    bodies.push({
      name,
      role: 'anode',
      positionsM: poseVertices(pieces.positions, part.metresPerUnit, pose),
      insulated: Uint8Array.from(pieces.source, (t, piece) => part.insulated[t]! | gas[piece]!),
      spots: part.contacts.map((contact): ContactSpot => ({
        atM: place(contact.at, part.metresPerUnit, pose),
        radiusM: contact.patchRadiusM,
        facing: rotate(pose.rotation, contact.facing),
      })),
      law: scene.filmLaw,
    });
    wires.push(...wiresOf(scene, part, plugged.mesh, pose, name));
    if (isMapped) {
      map = { positions: Float32Array.from(pieces.positions), source: pieces.source, gasM2: area };
    }
  }
  scene.innerCathodes.forEach(({ fromM, toM, diameterM }, i) => {
    wires.push({
      name: `inner cathode ${i + 1}`,
      role: 'cathode',
      positionsM: rodBody(fromM, toM, diameterM, 24),
      law: scene.cathodeLaw,
    });
  });
  const bath = bathOfTank(
    scene.tank,
    scene.levelM,
    [...bodies, ...wires],
    scene.conductivitySPerM,
    scene.cathodeLaw,
  );
  return success({ bath, ...map! });
}

interface ReadyPart {
  readonly plugged: PluggedPart;
  readonly surface: SceneSurface;
  /** By the direction that is up. */
  readonly traps: Map<string, Traps>;
}

function readyPart({ mesh, plugs }: ScenePart): Result<ReadyPart> {
  const plugged = plugPart(mesh, prepareTrapMesh(mesh), plugs ?? null);
  if (!plugged.ok) return plugged;
  const { surface, triangleOf } = plugged.value;
  return success({ plugged: plugged.value, surface: sceneSurface(surface, triangleOf), traps: new Map() });
}

const place = (p: Vec3, metresPerUnit: number, { rotation, offsetM }: Pose): Vec3 =>
  add(rotate(rotation, scale(p, metresPerUnit)), offsetM);

/** What the grid's cells measure at the part; for a part outside the bath, which fails later, its own size. */
function spacingFor(scene: FieldScene, part: ScenePart, pose: Pose): number {
  const positionsM = poseVertices(part.mesh.vertices, part.metresPerUnit, pose);
  const bare = bathOfTank(scene.tank, scene.levelM, [], scene.conductivitySPerM, scene.cathodeLaw);
  const body: FieldBody = { name: part.name, role: 'anode', positionsM, law: scene.filmLaw };
  const grid = planFieldGrid(
    { bath: { ...bare, bodies: [body] }, part: 0, totalCurrentA: scene.totalCurrentA },
    { mostCells: scene.mostCells },
  );
  return grid.ok ? grid.value.spacingM : scene.levelM / 10;
}

function wiresOf(scene: FieldScene, part: ScenePart, mesh: TrapMesh, pose: Pose, name: string): FieldBody[] {
  const up = rotateBack(pose.rotation, [0, 0, 1]);
  const posed = poseVertices(part.mesh.vertices, part.metresPerUnit, pose);
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  posed.forEach((x, i) => {
    low[i % 3] = Math.min(low[i % 3]!, x);
    high[i % 3] = Math.max(high[i % 3]!, x);
  });
  const isBlocked = (from: Vec3): boolean => {
    const back = rotateBack(pose.rotation, [
      from[0] - pose.offsetM[0],
      from[1] - pose.offsetM[1],
      from[2] - pose.offsetM[2],
    ]);
    const model = scale(back, 1 / part.metresPerUnit);
    const origin: Vec3 = [model[0] - mesh.origin[0], model[1] - mesh.origin[1], model[2] - mesh.origin[2]];
    return castRay(mesh, origin, up, RAY_SLIP * mesh.size) !== undefined;
  };
  return part.contacts.flatMap((contact, pin) =>
    hangerRods(
      {
        atM: place(contact.at, part.metresPerUnit, pose),
        facing: rotate(pose.rotation, contact.facing),
        diameterM: contact.wireDiameterM,
        count: contact.wires,
      },
      scene.levelM,
      isBlocked,
      { low, high },
    ).map((positionsM): FieldBody => ({
      name: `wire at pin ${pin + 1} of ${name}`,
      role: contact.insulates ? 'insulator' : 'anode',
      positionsM,
      ...(contact.insulates ? {} : { law: scene.filmLaw }),
    })),
  );
}
