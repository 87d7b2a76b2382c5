import type { Figure, Source } from '../figure/figure.ts';
import type { Process } from '../job/job.ts';
import type { WettedBusEnds } from '../racking/bus-ends.ts';
import { chargeConstantSource } from './charge-source.ts';
import type { PlanItem, PlannedLoad } from './plan-items.ts';

const ENTRY: Source = { standing: 'your entry', text: '' };
const PRACTICE: Source = { standing: 'common practice', text: 'density times area' };

/** The plan's figures with their working: areas and currents of all pieces and of the largest load, times, charge, film. */
export function planFigures(
  items: readonly PlanItem[],
  process: Process,
  totalAreaM2: number,
  loads: readonly PlannedLoad[],
  byTank: boolean,
  busEnds: WettedBusEnds,
) {
  const reasons = new Set(items.flatMap((item) => item.unconfirmed ?? []));
  const unconfirmed = reasons.size > 0 ? [...reasons].join('; ') : undefined;
  const mark = unconfirmed === undefined ? {} : { unconfirmed };
  const j = process.currentDensityAPerM2;
  const fullCurrentS = (process.chargePerVolumeCPerM3 * process.thicknessM) / j;
  const ranged = items.some((item) => item.areaLowM2 !== undefined || item.areaHighM2 !== undefined);
  /** Low and high of something that goes with the area of these pieces, in so many loads. */
  const range = (
    perM2: number,
    pieces: readonly number[],
    inLoads: number,
  ): Pick<Figure, 'lowSi' | 'highSi'> =>
    ranged
      ? {
          lowSi: perM2 * (inLoads * busEnds.areaM2 + sumOver(items, pieces, (item) => item.areaLowM2)),
          highSi: perM2 * (inLoads * busEnds.areaM2 + sumOver(items, pieces, (item) => item.areaHighM2)),
        }
      : {};
  const all = items.map((item) => item.quantity);
  const allAtOnceM2 = totalAreaM2 - (loads.length - 1) * busEnds.areaM2;
  const largest = loads.reduce((a, b) => (b.areaM2 > a.areaM2 ? b : a));
  const constant = chargeConstantSource(process);
  const density = { symbol: 'j', label: 'current density', kind: 'currentDensity', valueSi: j } as const;
  const k = {
    symbol: 'k',
    label: 'charge constant',
    kind: 'chargePerVolume',
    valueSi: process.chargePerVolumeCPerM3,
  } as const;
  const d = {
    symbol: 'd',
    label: 'thickness',
    kind: 'length',
    valueSi: process.thicknessM,
    unit: 'µm',
  } as const;
  const ramp = { symbol: 't_r', label: 'ramp', kind: 'time', valueSi: process.rampS } as const;
  const area = (valueSi: number) =>
    ({ symbol: 'A', label: 'area taking current', kind: 'area', valueSi }) as const;
  const figures = {
    areaM2: {
      label: 'Area taking current',
      kind: 'area',
      valueSi: totalAreaM2,
      ...range(1, all, loads.length),
      formula: busEnds.areaM2 > 0 ? 'A = Σ nᵢ · Aᵢ + N · Σ mᵢ · Bᵢ' : 'A = Σ nᵢ · Aᵢ',
      inputs: [
        ...items.flatMap((item, index) => [
          { symbol: `A${index + 1}`, label: item.name, kind: 'area' as const, valueSi: item.areaM2 },
          ...(item.hangersM2
            ? [
                {
                  symbol: `of A${index + 1}`,
                  label: `aluminium wire below the level at ${item.name}`,
                  kind: 'area' as const,
                  valueSi: item.hangersM2,
                },
              ]
            : []),
          {
            symbol: `n${index + 1}`,
            label: `pieces of ${item.name}`,
            kind: 'count' as const,
            valueSi: item.quantity,
          },
        ]),
        ...busEnds.inputs,
        ...(busEnds.areaM2 > 0
          ? [{ symbol: 'N', label: 'loads', kind: 'count' as const, valueSi: loads.length }]
          : []),
      ],
      source: {
        standing: 'measured on the model',
        text: 'surface of the model, round faces and threads corrected; masked, contact and sealed surface left out, aluminium wire and bus ends in the bath added',
      },
      ...mark,
    },
    currentA: {
      label: 'Current, all pieces at once',
      kind: 'current',
      valueSi: j * allAtOnceM2,
      ...range(j, all, 1),
      formula: 'I = j · A',
      inputs: [density, area(allAtOnceM2)],
      source: PRACTICE,
      ...mark,
    },
    loadCurrentA: {
      label: loads.length > 1 ? 'Current, largest load' : 'Current',
      kind: 'current',
      valueSi: largest.currentA,
      ...range(j, largest.pieces, 1),
      formula: 'I = j · A',
      inputs: [density, area(largest.areaM2)],
      source: PRACTICE,
      ...mark,
    },
    rampS: {
      label: 'Ramp',
      kind: 'time',
      valueSi: process.rampS,
      formula: 't_r as entered, current rising evenly from zero',
      inputs: [],
      source: ENTRY,
    },
    holdS: {
      label: 'Hold',
      kind: 'time',
      valueSi: fullCurrentS - process.rampS / 2,
      formula: 't_h = k · d / j − t_r / 2',
      inputs: [k, d, density, ramp],
      source: constant,
    },
    totalS: {
      label: 'Power on',
      kind: 'time',
      valueSi: fullCurrentS + process.rampS / 2,
      formula: 't = t_r + t_h = k · d / j + t_r / 2',
      inputs: [k, d, density, ramp],
      source: constant,
    },
    chargeC: {
      label: loads.length > 1 ? 'Charge, all loads' : 'Charge',
      kind: 'charge',
      valueSi: process.chargePerVolumeCPerM3 * process.thicknessM * totalAreaM2,
      ...range(process.chargePerVolumeCPerM3 * process.thicknessM, all, loads.length),
      formula: 'Q = k · d · A',
      inputs: [k, d, area(totalAreaM2)],
      source: constant,
      ...mark,
    },
    loadChargeC: {
      label: loads.length > 1 ? 'Charge, largest load' : 'Charge',
      kind: 'charge',
      valueSi: process.chargePerVolumeCPerM3 * process.thicknessM * largest.areaM2,
      ...range(process.chargePerVolumeCPerM3 * process.thicknessM, largest.pieces, 1),
      formula: 'Q = k · d · A',
      inputs: [k, d, area(largest.areaM2)],
      source: constant,
      ...mark,
    },
    thicknessM: {
      label: 'Thickness',
      kind: 'length',
      unit: 'µm',
      valueSi: process.thicknessM,
      ...(ranged ? thicknessRange(items, process.thicknessM, loads, busEnds.areaM2) : {}),
      formula: ranged ? 'd as entered; at a fixed current d · A / A_high to d · A / A_low' : 'd as entered',
      inputs: ranged
        ? [
            area(totalAreaM2),
            {
              symbol: 'A_low',
              label: 'area taking current, at least',
              kind: 'area',
              valueSi: range(1, all, loads.length).lowSi!,
            },
            {
              symbol: 'A_high',
              label: 'area taking current, at most',
              kind: 'area',
              valueSi: range(1, all, loads.length).highSi!,
            },
          ]
        : [],
      source: ENTRY,
      ...mark,
    },
    loadCount: {
      label: 'Loads',
      kind: 'count',
      valueSi: loads.length,
      formula: byTank
        ? 'fewest loads that hang in the tank with j · A ≤ supply current'
        : 'fewest loads with j · A ≤ supply current',
      inputs:
        process.supplyCurrentLimitA === null
          ? []
          : [
              {
                symbol: 'I_max',
                label: 'supply current',
                kind: 'current',
                valueSi: process.supplyCurrentLimitA,
              },
            ],
      source: PRACTICE,
      ...mark,
    },
  } satisfies Record<string, Figure>;
  return figures;
}

function sumOver(
  items: readonly PlanItem[],
  pieces: readonly number[],
  areaOf: (item: PlanItem) => number | undefined,
): number {
  return items.reduce((sum, item, index) => sum + pieces[index]! * (areaOf(item) ?? item.areaM2), 0);
}

/** The charge is fixed: on less area it makes a thicker film. Widest of the loads. */
function thicknessRange(
  items: readonly PlanItem[],
  thicknessM: number,
  loads: readonly PlannedLoad[],
  busEndsM2: number,
): { readonly lowSi: number; readonly highSi: number } {
  const ratios = loads.map(({ pieces }) => {
    const areaM2 = (areaOf: (item: PlanItem) => number | undefined): number =>
      busEndsM2 + sumOver(items, pieces, areaOf);
    const plannedM2 = areaM2((item) => item.areaM2);
    return {
      low: plannedM2 / areaM2((item) => item.areaHighM2),
      high: plannedM2 / areaM2((item) => item.areaLowM2),
    };
  });
  return {
    lowSi: thicknessM * Math.min(...ratios.map(({ low }) => low)),
    highSi: thicknessM * Math.max(...ratios.map(({ high }) => high)),
  };
}
