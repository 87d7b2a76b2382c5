import { faceId } from '../faces/face-table.ts';
import { formatIn, formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { BoreSummary, FieldReading } from './field-reading.ts';
import type { JobMessage } from './job-messages.ts';
import type { Job, Part } from './job.ts';

/** Less than this share of the area is edges and corners of the grid. */
const AREA_SHARE = 0.01;
/** Wire that takes so much more or less than the plan has it moves the parts' mean. */
const WIRE_SHARE = 0.02;
/** A bore that holds less than this share of its length stays bare enough to say so. */
const BORE_SHARE = 0.98;

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
  if (reading && leastM !== null && reading.askedLeastM < leastM * (1 - 1e-6)) {
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
        message: `${((100 * below) / reading.map.areaM2).toPrecision(2)} % of “${part.name}” stays thinner than ${film(reading.limitM)}.`,
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
  for (const { bore, heldM, bare } of bores?.bores ?? []) {
    if (bare || heldM === null || heldM >= BORE_SHARE * bore.depthM) continue;
    const name = bore.faceIds.join(' + ') || faceId(bore.rows[0] ?? 0);
    const across = formatQuantity('length', 2 * bore.radiusM, system).text;
    messages.push({
      ...base,
      level: leastM === null ? 'note' : 'check',
      code: 'bore-bare',
      message: `The hole ${name} of “${part.name}” (${across} across) holds ${film(reading!.limitM)} on ${formatQuantity('length', heldM, system).text} of its ${formatQuantity('length', bore.depthM, system).text}.`,
      remedy: 'Mask it if it need not be coated, or put a cathode rod through it.',
    });
  }
  return messages;
}
