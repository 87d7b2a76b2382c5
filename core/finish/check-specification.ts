import type { CoatingSpecification } from '../reference/coating-specifications.ts';

export interface CoatingFacts {
  readonly thicknessM: number;
  /** Thinnest place expected; null where it is not known. */
  readonly thinnestM: number | null;
  /** Weighed; null where it was not. */
  readonly massPerAreaKgPerM2: number | null;
  readonly sealed: boolean;
}

export interface SpecificationMessage {
  readonly level: 'note' | 'check';
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

const um = (metres: number): string => `${Number((metres * 1e6).toPrecision(3))} µm`;

/** Where a planned or measured coating misses a specification; empty when it meets what can be told. */
export function checkSpecification(
  specification: CoatingSpecification,
  facts: CoatingFacts,
): SpecificationMessage[] {
  const { thicknessM: range, leastLocalM, massPerAreaKgPerM2, massPerVolumeKgPerM3 } = specification;
  const messages: SpecificationMessage[] = [];
  const add = (level: SpecificationMessage['level'], code: string, message: string, remedy: string) =>
    messages.push({ level, code, message, remedy });
  const slack = 1e-9;
  if (range.low !== null && facts.thicknessM < range.low * (1 - slack)) {
    add(
      'check',
      'too-thin',
      `${specification.id} asks for at least ${um(range.low)}.`,
      'Plan a thicker film.',
    );
  }
  if (range.high !== null && facts.thicknessM > range.high * (1 + slack)) {
    add(
      'check',
      'too-thick',
      `${specification.id} goes up to ${um(range.high)}.`,
      'Plan a thinner film, or ask.',
    );
  }
  if (leastLocalM !== null && facts.thinnestM !== null && facts.thinnestM < leastLocalM * (1 - slack)) {
    add(
      'check',
      'too-thin-locally',
      `${specification.id} asks for at least ${um(leastLocalM)} everywhere, and the thinnest place gets ${um(facts.thinnestM)}.`,
      'Turn the part, add a cathode or plan a thicker film.',
    );
  }
  if (leastLocalM !== null && facts.thinnestM === null) {
    add(
      'note',
      'thinnest-unknown',
      `${specification.id} asks for at least ${um(leastLocalM)} everywhere; the thinnest place is not worked out.`,
      'Work out the thickness map to see.',
    );
  }
  const leastMass = Math.max(
    massPerAreaKgPerM2 ?? 0,
    massPerVolumeKgPerM3 === null ? 0 : massPerVolumeKgPerM3 * facts.thicknessM,
  );
  if (
    leastMass > 0 &&
    facts.massPerAreaKgPerM2 !== null &&
    facts.massPerAreaKgPerM2 < leastMass * (1 - slack)
  ) {
    add(
      'check',
      'too-light',
      `${specification.id} asks for at least ${(leastMass * 1e4).toFixed(0)} mg/dm² of film here.`,
      'Coat longer or colder: a light film is a porous one.',
    );
  }
  if (specification.sealed === true && !facts.sealed) {
    add('note', 'not-sealed', `${specification.id} expects the film sealed.`, 'Plan a seal.');
  }
  if (specification.sealed === false && facts.sealed) {
    add(
      'note',
      'sealed',
      `${specification.id} is not sealed unless asked for; sealing softens it.`,
      'Leave the seal out, or ask.',
    );
  }
  return messages;
}
