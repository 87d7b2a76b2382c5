import { formatIn, formatNumber, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { BoreReading, BoreSummary, FieldReading } from './field-reading.ts';
import type { JobMessage } from './job-messages.ts';
import type { Job, Part } from './job.ts';

/** Less than this share of the area is edges and corners of the grid. */
const AREA_SHARE = 0.01;
/** Wire that takes so much more or less than the plan has it moves the parts' mean. */
const WIRE_SHARE = 0.02;
/** A bore that holds less than this share of its length stays bare enough to say so. */
const BORE_SHARE = 0.98;

/** A map was there once and is not kept: what it warned of must not vanish without a word. */
export function mapForgotten(part: Part): JobMessage {
  return {
    stage: 'thickness',
    partId: part.id,
    level: 'check',
    code: 'map-forgotten',
    message: `The thickness map of “${part.name}” has not been worked out since the program was opened, so what it warned of is not known now.`,
    remedy: 'Work out the map again at the thickness stage.',
  };
}

/**
 * What a part's thickness has to say before the power goes on.
 * @param reading of the job as it stands; null where there is none, then only what follows without a solution is said
 */
export function fieldMessages(
  job: Job,
  part: Part,
  reading: FieldReading | null,
  bores: BoreSummary | null,
  system: UnitSystem = 'metric',
): JobMessage[] {
  const base = { stage: 'thickness', partId: part.id } as const;
  const messages: JobMessage[] = [];
  const film = (valueSi: number): string =>
    formatIn('length', valueSi, system === 'metric' ? 'µm' : 'mil').text;
  const { leastM } = job.field;
  if (reading && leastM !== null && reading.askedLeastM === 0) {
    messages.push({
      ...base,
      level: 'check',
      code: 'least-uncoated',
      message: `The faces of “${part.name}” that need ${film(leastM)} get no film at all: they are masked, behind a plug, in gas or above the level.`,
      remedy:
        'Ask it of faces that are coated, or bring these into the bath: take the mask off, or hang the part another way.',
    });
  } else if (reading && leastM !== null && reading.askedLeastM < leastM * (1 - 1e-6)) {
    messages.push({
      ...base,
      level: 'check',
      code: 'too-thin',
      message: `The thinnest place of “${part.name}” gets ${film(reading.askedLeastM)}, less than the ${film(leastM)} you need.`,
      remedy: 'Take the longer time that the thickness stage offers, or move cathodes and part.',
    });
  }
  if (reading) {
    const below = reading.figures.areaBelowM2.valueSi;
    if (below > AREA_SHARE * reading.map.areaM2) {
      messages.push({
        ...base,
        level: leastM === null ? 'note' : 'check',
        code: 'area-too-thin',
        message: `${formatNumber((100 * below) / reading.map.areaM2, 2)} % of “${part.name}” stays thinner than ${film(reading.limitM)}.`,
        remedy:
          'Look at the map: mask what need not be coated, or bring current there with a cathode or another attitude.',
      });
    }
  }
  if (reading && Math.abs(reading.wires.plannedShare - reading.wires.hungShare) > WIRE_SHARE) {
    const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
    const { plannedShare, hungShare } = reading.wires;
    messages.push({
      ...base,
      level: 'note',
      code: 'wires-differ',
      message: `The plan counts ${percent(plannedShare)} of the current for aluminium wire below the level; as the load hangs it takes ${percent(hungShare)}, so the parts get ${hungShare < plannedShare ? 'more' : 'less'} than planned.`,
      remedy: 'Set each wire’s length below the level at the hanging stage to what really hangs in the bath.',
    });
  }
  for (const alike of thinBores(bores?.bores ?? [])) {
    const { bore, heldM } = alike[0]!;
    const names = alike.map((one) => one.bore.faceIds.join(' + ')).join(', ');
    const length = (valueM: number): string => formatQuantity('length', valueM, system).text;
    const [what, each] = alike.length > 1 ? ['holes', 'each hold'] : ['hole', 'holds'];
    messages.push({
      ...base,
      level: leastM === null ? 'note' : 'check',
      code: 'bore-bare',
      message: `The ${what} ${names} of “${part.name}” (${length(2 * bore.radiusM)} across) ${each} ${film(reading!.limitM)} on ${length(heldM!)} of ${length(bore.depthM)}.`,
      remedy: 'Mask what need not be coated, or put a cathode rod into it.',
    });
  }
  return messages;
}

/** Bores of which a part stays too thin; those of one size that hold as much together. */
function thinBores(bores: readonly BoreReading[]): BoreReading[][] {
  const groups = new Map<string, BoreReading[]>();
  for (const one of bores) {
    const { bore, heldM, bare } = one;
    if (bare || heldM === null || heldM >= BORE_SHARE * bore.depthM) continue;
    const key = [bore.radiusM, bore.depthM, heldM].map((x) => x.toPrecision(2)).join();
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}
