/**
 * 3MF. The library's loader needs the browser's DOMParser, which neither a worker nor Node has, builds a tree of the
 * whole text, follows components that contain themselves for ever, and ignores the unit. A stand-in for the DOM would
 * be a larger dependency than the format; so the container is read here: unpacked within bounds
 * (three-mf-package.ts), walked tag by tag without a tree (xml-scanner.ts, three-mf-model.ts), and put together below.
 */
import type { ModelUnit } from '../job/job.ts';
import type { Body } from '../mesh/mesh.ts';
import { failure, success, type Failure, type Result } from '../result.ts';
import { MAX_TRIANGLES, type ModelNote, type ReportLoading } from './loaded-model.ts';
import { tooManyTriangles } from './read-binary-stl.ts';
import {
  readThreeMfModel,
  type ThreeMfModel,
  type ThreeMfObject,
  type ThreeMfTransform,
  type ThreeMfUse,
} from './three-mf-model.ts';
import { openThreeMf } from './three-mf-package.ts';

export interface ThreeMf {
  /** In `unit`. */
  readonly positions: Float32Array<ArrayBuffer>;
  readonly bodies: readonly Body[];
  readonly unit: ModelUnit;
  readonly notes: readonly ModelNote[];
}

/** The units of the core specification; a micron has no place among the program's, so it becomes a thousandth of a mm. */
const UNITS: Readonly<Record<string, readonly [unit: ModelUnit, scale: number]>> = {
  micron: ['mm', 1e-3],
  millimeter: ['mm', 1],
  centimeter: ['cm', 1],
  inch: ['in', 1],
  foot: ['ft', 1],
  meter: ['m', 1],
};
/** Extensions that add no surface of their own, or are read here. */
const KNOWN_EXTENSIONS = [
  'http://schemas.microsoft.com/3dmanufacturing/production/2015/06',
  'http://schemas.microsoft.com/3dmanufacturing/material/2015/02',
];
const DEEPEST = 32;
const MOST_BODIES = 100_000;
const SOLID_TYPES = ['model', 'surface'];

const UNMOVED: ThreeMfTransform = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

/** What `inner`, then `outer` does to a row: 4 × 3 matrices multiplied from the left. */
function after(inner: ThreeMfTransform, outer: ThreeMfTransform): ThreeMfTransform {
  return Array.from({ length: 12 }, (_, i) => {
    const row = Math.floor(i / 3) * 3;
    const column = i % 3;
    const sum =
      inner[row]! * outer[column]! +
      inner[row + 1]! * outer[3 + column]! +
      inner[row + 2]! * outer[6 + column]!;
    return row === 9 ? sum + outer[9 + column]! : sum;
  });
}

function turnsOver(m: ThreeMfTransform): boolean {
  return (
    m[0]! * (m[4]! * m[8]! - m[5]! * m[7]!) -
      m[1]! * (m[3]! * m[8]! - m[5]! * m[6]!) +
      m[2]! * (m[3]! * m[7]! - m[4]! * m[6]!) <
    0
  );
}

interface Placed {
  readonly object: ThreeMfObject;
  readonly transform: ThreeMfTransform;
}

/**
 * Reads a 3MF file: every mesh that is built becomes a body, put where the build puts it. Failures: those of
 * openThreeMf and readThreeMfModel, `3mf-unit-unknown`, `3mf-object-missing`, `3mf-cycle`, `3mf-too-many-bodies`,
 * `no-triangles`, `too-many-triangles`.
 */
export function readThreeMf(bytes: Uint8Array, onProgress: ReportLoading = () => {}): Result<ThreeMf> {
  const opened = openThreeMf(bytes);
  if (!opened.ok) return opened;
  const { root, part } = opened.value;
  const models = new Map<string, ThreeMfModel>();
  const modelAt = (name: string): Result<ThreeMfModel> => {
    const plain = name.replace(/^\//, '').toLowerCase();
    const known = models.get(plain);
    if (known) return success(known);
    const text = part(name);
    if (!text.ok) return text;
    const model = readThreeMfModel(text.value, (fraction) => onProgress(0.8 * fraction));
    if (model.ok) models.set(plain, model.value);
    return model;
  };
  const start = modelAt(root);
  if (!start.ok) return start;
  const unit = Object.hasOwn(UNITS, start.value.unit) ? UNITS[start.value.unit] : undefined;
  if (!unit) {
    return failure(
      '3mf-unit-unknown',
      `The 3MF model states its unit as “${start.value.unit.slice(0, 30)}”, which the format does not know.`,
      'Export the model again, in millimetres.',
    );
  }
  const placed: Placed[] = [];
  let triangles = 0;
  const skipped = new Set<string>();
  let visits = 0;

  const place = (
    { objectId, path, transform = UNMOVED }: ThreeMfUse,
    from: string,
    outer: ThreeMfTransform,
    above: readonly ThreeMfObject[],
  ): Failure | null => {
    const home = path ?? from;
    const model = modelAt(home);
    if (!model.ok) return model.error;
    const object = model.value.objects.get(objectId);
    if (!object) {
      return failure(
        '3mf-object-missing',
        `The 3MF model uses object ${objectId.slice(0, 20)}, which it does not hold.`,
        'The file is damaged or was cut: export the model again.',
      ).error;
    }
    if (above.includes(object) || above.length >= DEEPEST) {
      return failure(
        '3mf-cycle',
        `Object ${objectId.slice(0, 20)} in the 3MF model ${above.includes(object) ? 'contains itself' : 'is nested too deeply'}.`,
        'The file was written wrongly: export the model again.',
      ).error;
    }
    if (++visits > MOST_BODIES) {
      return failure(
        '3mf-too-many-bodies',
        `The 3MF model puts more than ${MOST_BODIES} bodies in place.`,
        'Export the part alone, without its copies.',
      ).error;
    }
    if (!SOLID_TYPES.includes(object.type)) {
      skipped.add(`${home}#${objectId}`);
      return null;
    }
    const total = after(transform, outer);
    if (object.triangles.length > 0) {
      triangles += object.triangles.length / 3;
      if (triangles > MAX_TRIANGLES) return tooManyTriangles(`more than ${MAX_TRIANGLES}`).error;
      placed.push({ object, transform: total });
    }
    for (const component of object.components) {
      const problem = place(component, home, total, [...above, object]);
      if (problem) return problem;
    }
    return null;
  };

  const notes: ModelNote[] = [];
  let { items } = start.value;
  if (items.length === 0) {
    items = looseObjects(start.value);
    if (items.length > 0) {
      notes.push({
        code: '3mf-no-build',
        level: 'check',
        message: 'The 3MF model does not say which of its objects are built; all of them were taken.',
        remedy: 'Look whether the part is as it should be; otherwise export it again.',
      });
    }
  }
  for (const item of items) {
    const problem = place(item, root, UNMOVED, []);
    if (problem) return { ok: false, error: problem };
  }
  if (triangles === 0) {
    return failure(
      'no-triangles',
      'The 3MF model holds no triangles.',
      'Export the part again as a mesh of its surface, not as an empty build.',
    );
  }
  const extensions = [...models.values()]
    .flatMap((model) => model.requiredExtensions)
    .filter((name) => !KNOWN_EXTENSIONS.includes(name));
  if (extensions.length > 0) {
    notes.push({
      code: '3mf-extension',
      level: 'check',
      message: `The 3MF file says it needs an extension that is not read here (${extensions[0]!.slice(0, 80)}), so some of its surface may be missing.`,
      remedy: 'Compare the part with the program it comes from, or export it as plain triangles.',
    });
  }
  if ([...models.values()].some((model) => model.unit !== start.value.unit)) {
    notes.push({
      code: '3mf-units-differ',
      level: 'check',
      message: `Parts of the 3MF file state different units; ${unit[0]} was used for all of them.`,
      remedy: 'Check the size of the part.',
    });
  }
  if (skipped.size > 0) {
    notes.push({
      code: '3mf-support-left-out',
      level: 'note',
      message: `${skipped.size} objects that only support the part while it is printed were left out.`,
      remedy: 'Nothing to do if the part looks right.',
    });
  }
  return success({ ...assemble(placed, triangles, unit[1]), unit: unit[0], notes });
}

/** Objects that no other object is made of. */
function looseObjects({ objects }: ThreeMfModel): ThreeMfUse[] {
  const used = new Set([...objects.values()].flatMap(({ components }) => components.map((c) => c.objectId)));
  return [...objects.keys()].filter((id) => !used.has(id)).map((objectId) => ({ objectId }));
}

function assemble(
  placed: readonly Placed[],
  triangles: number,
  scale: number,
): { positions: Float32Array<ArrayBuffer>; bodies: Body[] } {
  const positions = new Float32Array(triangles * 9);
  const bodies: Body[] = [];
  let at = 0;
  for (const { object, transform: m } of placed) {
    const { vertices, triangles: corners } = object;
    bodies.push({
      name: object.name.trim() || `object ${bodies.length + 1}`,
      firstTriangle: at / 9,
      triangleCount: corners.length / 3,
    });
    const over = turnsOver(m);
    for (let i = 0; i < corners.length; i += 3) {
      for (let k = 0; k < 3; k++) {
        // A mirrored object keeps its outside outside.
        const v = corners[i + (over && k > 0 ? 3 - k : k)]! * 3;
        const [x, y, z] = [vertices[v]!, vertices[v + 1]!, vertices[v + 2]!];
        for (let axis = 0; axis < 3; axis++) {
          positions[at++] = scale * (x * m[axis]! + y * m[3 + axis]! + z * m[6 + axis]! + m[9 + axis]!);
        }
      }
    }
  }
  return { positions, bodies };
}
