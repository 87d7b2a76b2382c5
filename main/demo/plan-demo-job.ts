import { packJob } from '../../core/job/container.ts';
import { emptyJob, newPart } from '../../core/job/default-job.ts';
import { fileOf } from '../../core/job/part-source.ts';
import { addPart } from '../../core/job/edit-job.ts';
import type { Contact } from '../../core/job/job.ts';
import { FACE_KINDS } from '../../core/faces/face-table.ts';
import { runsOfFaces } from '../../core/faces/runs-of-faces.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { readModel } from '../../core/model-files/read-model.ts';
import { restUnderTwo, solidMoments } from '../../core/racking/balance.ts';
import { USUAL_TANK_RULES } from '../../core/racking/tank.ts';
import { pointOnFace } from '../../core/racking/point-on-face.ts';
import { modelLoaders } from '../terminal/model-loaders.ts';
import { FIRST_HANGER } from '../../core/job/job-hanging.ts';

const MINIMUM_BORES = 4;

/** Whole round bores of the least radius, ordered along x; the round ends of slots have less area than those. */
function smallBores(geometry: PartGeometry): number[] {
  const { faces } = geometry;
  const bores = Array.from({ length: faces.count }, (_, row) => row).filter(
    (row) => FACE_KINDS[faces.kind[row]!] === 'cylinder' && faces.inward[row] === 1,
  );
  const leastRadius = Math.min(...bores.map((row) => faces.size[row]!));
  const small = bores.filter((row) => faces.size[row]! < leastRadius * 1.01);
  const whole = Math.max(...small.map((row) => faces.area[row]!));
  const along = (row: number): number => pointOnFace(geometry, row).at[0];
  return small.filter((row) => faces.area[row]! > whole * 0.99).sort((a, b) => along(a) - along(b));
}

/**
 * A bore with the recess it opens into and the step between them: a plug in the bore alone would leave the recess, which looks down
 * as the plate hangs, a pocket for gas.
 */
function withRecess({ faces }: PartGeometry, bore: number): number[] {
  const { a, b } = faces.borders;
  const beside = (row: number): number[] =>
    Array.from(a.keys()).flatMap((i) => (a[i] === row ? [b[i]!] : b[i] === row ? [a[i]!] : []));
  const flats = beside(bore).filter((row) => FACE_KINDS[faces.kind[row]!] === 'plane');
  const step = flats.reduce((least, row) => (faces.area[row]! < faces.area[least]! ? row : least));
  return [bore, step, ...beside(step).filter((row) => row !== bore)];
}

/**
 * The job shown at the first start: the dovetail plate, planned. It hangs from wires through its two outer holes, the
 * two inner holes are masked as close fits with their recesses, and its largest flat is the face that will be seen.
 */
export function planDemoJob(fileName: string, bytes: Uint8Array): Uint8Array {
  const model = readModel({ name: fileName, bytes, loaders: modelLoaders() });
  if (!model.ok) throw new Error(`${fileName}: ${model.error.message}`);
  const part = newPart('dovetail-plate', fileName, bytes.length, 'mm', true);
  const { positions, bodies } = model.value;
  const geometry = analysePart(positions, bodies, { splitAngleRad: part.splitAngleRad });
  const bores = smallBores(geometry);
  if (bores.length < MINIMUM_BORES)
    throw new Error(`${fileName}: ${bores.length} small bores, ${MINIMUM_BORES} wanted`);
  const outer = [bores[0]!, bores.at(-1)!];
  const inner = bores.slice(1, -1);
  const contacts = outer.map((row, index): Contact => {
    const { triangle, at } = pointOnFace(geometry, row);
    return {
      id: `wire-${index + 1}`,
      at,
      triangle,
      patchDiameterM: 0.003,
      // Just under the level, as it hangs in a usual tank: that much of the wire takes current too.
      hanger: {
        ...FIRST_HANGER,
        material: 'Al 5356',
        diameterM: 0.0024,
        wetLengthM: USUAL_TANK_RULES.partToSurfaceM,
      },
    };
  });
  const areas = geometry.faces.area;
  const largest = areas.indexOf(Math.max(...areas));
  const coverage = {
    mask: runsOfFaces(
      geometry.faces,
      inner.flatMap((row) => withRecess(geometry, row)),
    ),
    contact: [],
    show: runsOfFaces(geometry.faces, [largest]),
  };
  const moments = solidMoments(geometry.graph.indexed);
  if (!moments.ok) throw new Error(`${fileName}: ${moments.error.message}`);
  const size = Math.hypot(...geometry.max.map((end, k) => end - geometry.min[k]!));
  // As it comes to rest on its two wires, so that what it traps is judged as it hangs.
  const rest = restUnderTwo([contacts[0]!.at, contacts[1]!.at], moments.value.centre, [0, 0, 1], size);
  if (!rest.ok) throw new Error(`${fileName}: ${rest.error.message}`);
  const [x, y, z] = rest.value.up;
  const attitude = { up: [x, y, z] as [number, number, number], turnRad: 0 };
  const planned = { ...part, name: 'Dovetail plate', coverage, contacts, attitude };
  const job = addPart(emptyJob('Demo: dovetail plate'), planned);
  const process = { ...job.process, supplyCurrentLimitA: 10, supplyVoltageLimitV: 30 };
  return packJob({ ...job, process }, new Map([[fileOf(part)!.entry, bytes]]));
}
