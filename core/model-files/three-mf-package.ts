import { unzipSync, type UnzipFileInfo } from 'fflate';
import { failure, success, type Failure, type Result } from '../result.ts';
import { scanXml } from './xml-scanner.ts';

/** The parts of a 3MF container, unpacked one at a time and only when asked for. */
export interface ThreeMfPackage {
  /** Name of the part the container starts with, as `3D/3dmodel.model`. */
  readonly root: string;
  /** Failures: `3mf-part-missing`, `3mf-damaged`, `3mf-too-large`. */
  part(name: string): Result<Uint8Array>;
}

const MOST_ENTRIES = 10_000;
/** All parts together: five million triangles are about half of it. */
const MOST_BYTES = 2 ** 30;
/** Model text shrinks to between a tenth and a twentieth; a bomb to a thousandth. */
const MOST_SHRINKAGE = 200;
const SMALL_BYTES = 2 ** 20;
const MODEL_TYPE = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';
const START_PARTS = '_rels/.rels';
const USUAL_ROOT = '3D/3dmodel.model';

const damaged = (message: string): { ok: false; error: Failure } =>
  failure('3mf-damaged', message, 'Copy or export the model again.');

/** Failures: `3mf-damaged`, `3mf-unsafe-names`, `3mf-too-large`, `3mf-part-missing`, and those of scanXml. */
export function openThreeMf(bytes: Uint8Array): Result<ThreeMfPackage> {
  const entries = new Map<string, UnzipFileInfo>();
  let problem: { ok: false; error: Failure } | null = null;
  try {
    unzipSync(bytes, {
      filter: (entry) => {
        problem ??=
          entries.size >= MOST_ENTRIES ? tooLarge('more parts than any model') : checkName(entry, entries);
        entries.set(entry.name, entry);
        return false;
      },
    });
  } catch {
    return damaged('The 3MF container is cut short or damaged.');
  }
  if (problem) return problem;
  let unpacked = 0;
  const part = (name: string): Result<Uint8Array> => {
    const entry = findEntry(entries, name);
    if (!entry) {
      return failure(
        '3mf-part-missing',
        `The 3MF container holds no “${printable(name)}”, though it refers to it.`,
        'The file was written wrongly or stripped: export the model again.',
      );
    }
    unpacked += entry.originalSize;
    if (unpacked > MOST_BYTES) return tooLarge(`more than ${MOST_BYTES / 2 ** 30} GB`);
    if (entry.originalSize > SMALL_BYTES && entry.originalSize > MOST_SHRINKAGE * entry.size) {
      return tooLarge('more than a model of its size can');
    }
    try {
      const content = unzipSync(bytes, { filter: ({ name: other }) => other === entry.name })[entry.name];
      if (!content || content.length !== entry.originalSize) throw new Error('length');
      return success(content);
    } catch {
      return damaged(`“${printable(name)}” inside the 3MF container is damaged.`);
    }
  };
  const root = rootOf(entries, part);
  return root.ok ? success({ root: root.value, part }) : root;
}

function tooLarge(what: string): { ok: false; error: Failure } {
  return failure(
    '3mf-too-large',
    `The 3MF container claims to hold ${what}, and was not unpacked.`,
    'Do not unpack it elsewhere; export the model again.',
  );
}

const printable = (name: string): string => name.slice(0, 60).replace(/[^\x20-\x7e]/g, '?');

function checkName(
  { name }: UnzipFileInfo,
  entries: ReadonlyMap<string, UnzipFileInfo>,
): { ok: false; error: Failure } | null {
  const steps = name.split('/');
  if (
    /[\\:\u0000-\u001f]/.test(name) ||
    name.startsWith('/') ||
    steps.includes('..') ||
    steps.includes('.')
  ) {
    return failure(
      '3mf-unsafe-names',
      `The 3MF container names a place outside itself (“${printable(name)}”), and was not unpacked.`,
      'Do not unpack it elsewhere; export the model again.',
    );
  }
  return entries.has(name) ? damaged(`The 3MF container holds “${printable(name)}” twice.`) : null;
}

/** Names of parts are compared without case (OPC, ECMA-376 part 2, 6.2.2). */
function findEntry(entries: ReadonlyMap<string, UnzipFileInfo>, name: string): UnzipFileInfo | undefined {
  const plain = name.replace(/^\//, '');
  const exact = entries.get(plain);
  if (exact) return exact;
  const folded = plain.toLowerCase();
  return [...entries.values()].find((entry) => entry.name.toLowerCase() === folded);
}

function rootOf(
  entries: ReadonlyMap<string, UnzipFileInfo>,
  part: (name: string) => Result<Uint8Array>,
): Result<string> {
  let target: string | undefined;
  if (findEntry(entries, START_PARTS)) {
    const text = part(START_PARTS);
    if (!text.ok) return text;
    const scanned = scanXml(text.value, 'The list of parts in the 3MF container', {
      open(tag) {
        if (tag.name === 'Relationship' && tag.text('Type') === MODEL_TYPE) target ??= tag.text('Target');
      },
    });
    if (!scanned.ok) return scanned;
  }
  target ??= USUAL_ROOT;
  const entry = findEntry(entries, target);
  if (entry) return success(entry.name);
  return failure(
    '3mf-part-missing',
    'The 3MF container holds no model.',
    'The file was written wrongly or is another kind of container: export the model again.',
  );
}
