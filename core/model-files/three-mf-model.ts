import { failure, success, type Failure, type Result } from '../result.ts';
import { MAX_TRIANGLES } from './loaded-model.ts';
import { tooManyTriangles } from './read-binary-stl.ts';
import { scanXml, type XmlTag } from './xml-scanner.ts';

/** 12 numbers, as written: rows of the turn and scale, then the shift. A place is a row that is multiplied from the left. */
export type ThreeMfTransform = readonly number[];

/** Another object put in place: a component of an object, or an item of the build. */
export interface ThreeMfUse {
  readonly objectId: string;
  /** The part that holds the object, where it is another one. */
  readonly path?: string;
  readonly transform?: ThreeMfTransform;
}

export interface ThreeMfObject {
  readonly id: string;
  readonly name: string;
  /** `model`, `surface`, `support`, `solidsupport` or `other`. */
  readonly type: string;
  /** 3 numbers a vertex, in the file's unit. */
  readonly vertices: Float64Array;
  /** 3 vertex numbers a triangle. */
  readonly triangles: Uint32Array;
  readonly components: readonly ThreeMfUse[];
}

export interface ThreeMfModel {
  /** As written; millimetres where nothing is written, as the format says. */
  readonly unit: string;
  /** Names of extensions without which the file is not whole. */
  readonly requiredExtensions: readonly string[];
  readonly objects: ReadonlyMap<string, ThreeMfObject>;
  readonly items: readonly ThreeMfUse[];
}

const MOST_OBJECTS = 100_000;
const MOST_USES = 100_000;

class Numbers<A extends Float64Array | Uint32Array> {
  length = 0;
  private held: A;
  private readonly make: (size: number) => A;

  constructor(make: (size: number) => A) {
    this.make = make;
    this.held = make(96);
  }

  push3(a: number, b: number, c: number): void {
    if (this.length + 3 > this.held.length) {
      const larger = this.make(this.held.length * 2);
      larger.set(this.held);
      this.held = larger;
    }
    this.held[this.length] = a;
    this.held[this.length + 1] = b;
    this.held[this.length + 2] = c;
    this.length += 3;
  }

  done(): A {
    return this.held.slice(0, this.length) as A;
  }
}

interface Making {
  id: string;
  name: string;
  type: string;
  vertices: Numbers<Float64Array>;
  triangles: Numbers<Uint32Array>;
  components: ThreeMfUse[];
}

/**
 * Reads one model part of a 3MF container (3MF core specification 1.3; `path` from its production extension). Failures:
 * those of scanXml, `3mf-not-a-number`, `3mf-corner-missing`, `3mf-transform-wrong`, `3mf-damaged`,
 * `too-many-triangles`.
 */
export function readThreeMfModel(
  bytes: Uint8Array,
  onProgress: (fraction: number) => void = () => {},
): Result<ThreeMfModel> {
  const objects = new Map<string, ThreeMfObject>();
  const items: ThreeMfUse[] = [];
  let unit = 'millimeter';
  let requiredExtensions: string[] = [];
  let making: Making | null = null;
  let uses = 0;
  let triangleTotal = 0;

  const use = (tag: XmlTag, into: ThreeMfUse[]): Failure | void => {
    if (++uses > MOST_USES) return damagedModel('The 3MF model puts too many objects in place.');
    const objectId = tag.text('objectid') ?? '';
    const path = tag.text('path');
    const written = tag.text('transform');
    const transform = written?.trim().split(/\s+/).map(Number);
    if (transform && (transform.length !== 12 || !transform.every(Number.isFinite))) {
      return failure(
        '3mf-transform-wrong',
        `The place of object ${objectId.slice(0, 20)} in the 3MF model is not twelve numbers.`,
        'The file is damaged or was written wrongly: export the model again.',
      ).error;
    }
    into.push({ objectId, ...(path ? { path } : {}), ...(transform ? { transform } : {}) });
  };

  const scanned = scanXml(
    bytes,
    'The 3MF model',
    {
      open(tag) {
        switch (tag.name) {
          case 'vertex': {
            if (!making) return;
            const [x, y, z] = [tag.number('x'), tag.number('y'), tag.number('z')];
            if (!Number.isFinite(x + y + z)) return notANumber('A corner', making.id);
            making.vertices.push3(x, y, z);
            return;
          }
          case 'triangle': {
            if (!making) return;
            const [a, b, c] = [tag.number('v1'), tag.number('v2'), tag.number('v3')];
            if (![a, b, c].every((v) => Number.isInteger(v) && v >= 0))
              return notANumber('A triangle', making.id);
            if (Math.max(a, b, c) >= making.vertices.length / 3) {
              return failure(
                '3mf-corner-missing',
                `A triangle of object ${making.id.slice(0, 20)} uses corner ${Math.max(a, b, c)}, but there are ${making.vertices.length / 3}, counted from 0.`,
                'The file is damaged or was cut: export the model again.',
              ).error;
            }
            if (++triangleTotal > MAX_TRIANGLES) return tooManyTriangles(`more than ${MAX_TRIANGLES}`).error;
            making.triangles.push3(a, b, c);
            return;
          }
          case 'model':
            unit = tag.text('unit') ?? unit;
            requiredExtensions = (tag.text('requiredextensions') ?? '')
              .split(/\s+/)
              .filter((prefix) => prefix !== '')
              .map((prefix) => tag.namespaces().get(prefix) ?? prefix);
            return;
          case 'object':
            if (objects.size >= MOST_OBJECTS) return damagedModel('The 3MF model holds too many objects.');
            making = {
              id: tag.text('id') ?? '',
              name: tag.text('name') ?? tag.text('partnumber') ?? '',
              type: tag.text('type') ?? 'model',
              vertices: new Numbers((size) => new Float64Array(size)),
              triangles: new Numbers((size) => new Uint32Array(size)),
              components: [],
            };
            return;
          case 'component':
            return making ? use(tag, making.components) : undefined;
          case 'item':
            return use(tag, items);
          default:
        }
      },
      close(name) {
        if (name !== 'object' || !making) return;
        const { id } = making;
        if (objects.has(id)) return damagedModel(`The 3MF model holds object ${id.slice(0, 20)} twice.`);
        objects.set(id, {
          ...making,
          vertices: making.vertices.done(),
          triangles: making.triangles.done(),
        });
        making = null;
      },
    },
    onProgress,
  );
  return scanned.ok ? success({ unit, requiredExtensions, objects, items }) : scanned;
}

function damagedModel(message: string): Failure {
  return failure('3mf-damaged', message, 'The file was written wrongly: export the model again.').error;
}

function notANumber(what: string, id: string): Failure {
  return failure(
    '3mf-not-a-number',
    `${what} of object ${id.slice(0, 20)} in the 3MF model has no number where one belongs.`,
    'The file is damaged or was written wrongly: export the model again.',
  ).error;
}
