import type { Source } from '../figure/figure.ts';

export type SealWayId = 'hot water' | 'steam' | 'warm nickel' | 'mid temperature' | 'cold nickel';

export interface SealWay {
  readonly id: SealWayId;
  readonly title: string;
  readonly temperatureK: { readonly low: number; readonly high: number };
  readonly ph: { readonly low: number; readonly high: number } | null;
  /** Seconds for each metre of film, at the warm and the cold end of the temperature range. */
  readonly perThicknessSPerM: { readonly warm: number; readonly cold: number } | null;
  /** Where the time does not follow thickness. */
  readonly fixedS: { readonly low: number; readonly high: number } | null;
  readonly leastS: number;
  readonly bath: string;
  readonly after: string;
  /** Where it is run when nobody says otherwise, K. */
  readonly usualK: number;
  /** What is in it that wants a caution. */
  readonly nickel: boolean;
  readonly fluoride: boolean;
  readonly source: Source;
}

/** Of open steam at sea level; above it there is pressure. */
export const STEAM_K = 373.15;

const memory = (text: string): Source => ({ standing: 'from memory', text });
const MINUTE_PER_UM = 60 / 1e-6;

export const SEAL_WAYS: readonly SealWay[] = [
  {
    id: 'hot water',
    title: 'Hot water',
    temperatureK: { low: 369.15, high: 373.15 },
    ph: { low: 5.5, high: 6.5 },
    perThicknessSPerM: { warm: 2 * MINUTE_PER_UM, cold: 3 * MINUTE_PER_UM },
    fixedS: null,
    leastS: 600,
    bath: 'Deionised or distilled water at a rolling near-boil. Silicate over 10 ppm, phosphate or fluoride over 5 ppm, chloride over 100 ppm spoil it (from memory).',
    after: 'Wipe off any bloom when dry.',
    usualK: 371.15,
    nickel: false,
    fluoride: false,
    source: memory('handbooks and Qualanod: at least 96 °C, pH 5.5-6.5, 2-3 min/µm'),
  },
  {
    id: 'steam',
    title: 'Steam',
    temperatureK: { low: 373.15, high: 393.15 },
    ph: null,
    perThicknessSPerM: { warm: 2 * MINUTE_PER_UM, cold: 3 * MINUTE_PER_UM },
    fixedS: null,
    leastS: 1800,
    bath: 'Saturated steam at 100 °C in a vented vessel, never a closed one. Hotter steam is under pressure: that takes an autoclave rated for it, run by licensed practice.',
    after: 'Let it cool before touching.',
    usualK: STEAM_K,
    nickel: false,
    fluoride: false,
    source: memory(
      'handbooks: 2-3 min/µm from 100 to 120 °C, at least 30 min; open steam counted at the slow end',
    ),
  },
  {
    id: 'warm nickel',
    title: 'Warm, with nickel acetate',
    temperatureK: { low: 338.15, high: 368.15 },
    ph: { low: 5.5, high: 5.8 },
    perThicknessSPerM: null,
    fixedS: { low: 420, high: 1200 },
    leastS: 420,
    bath: '5-6 g/L nickel acetate in deionised water, 80-95 °C (65-75 °C in some baths).',
    after: 'Rinse; keep the rinse out of the drain.',
    usualK: 353.15,
    nickel: true,
    fluoride: false,
    source: memory(
      'handbooks: 5-6 g/L, 80-95 °C, 10-20 min; Sci. Rep. 2021 (s41598-021-01577-9): 65-75 °C, 7-13 min',
    ),
  },
  {
    id: 'mid temperature',
    title: 'Mid-temperature salts',
    temperatureK: { low: 333.15, high: 358.15 },
    ph: null,
    perThicknessSPerM: { warm: 0.8 * MINUTE_PER_UM, cold: 2 * MINUTE_PER_UM },
    fixedS: null,
    leastS: 300,
    bath: 'As the maker’s sheet says; salts with or without nickel.',
    after: 'Rinse and dry.',
    usualK: 346.15,
    nickel: true,
    fluoride: false,
    source: memory('handbooks: 60-85 °C, 0.8-2 min/µm'),
  },
  {
    id: 'cold nickel',
    title: 'Cold, with nickel fluoride',
    temperatureK: { low: 298.15, high: 303.15 },
    ph: { low: 5.5, high: 6.5 },
    perThicknessSPerM: { warm: 0.8 * MINUTE_PER_UM, cold: 1.2 * MINUTE_PER_UM },
    fixedS: null,
    leastS: 300,
    bath: '1-1.2 g/L nickel, 0.5-0.65 g/L fluoride.',
    after: 'Age a day before testing, or dip in hot water for 5-30 min.',
    usualK: 300.65,
    nickel: true,
    fluoride: true,
    source: memory('EURAS and Qualanod: 25-30 °C, 0.8-1.2 min/µm; hot dip after US 5,891,269'),
  },
];

export function sealWay(id: SealWayId): SealWay {
  return SEAL_WAYS.find((way) => way.id === id)!;
}
