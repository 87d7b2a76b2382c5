/**
 * The usual cautions, each at the work it belongs to. They remind; they do not replace the safety data sheets, local
 * codes or a licensed practitioner. Facts of the trade (common practice) unless a source is named.
 */
export const CAUTION_TOPICS = [
  'acid',
  'current',
  'etch',
  'dye',
  'seal',
  'fluoride',
  'steam',
  'waste',
  'lead',
  'laboratory',
  'general',
] as const;
export type CautionTopic = (typeof CAUTION_TOPICS)[number];

export interface Caution {
  readonly id: string;
  readonly topic: CautionTopic;
  readonly text: string;
  /** 'common practice', or the document the figure in the text is from. */
  readonly source: string;
}

export const CAUTIONS: readonly Caution[] = [
  {
    id: 'protection',
    topic: 'general',
    text: 'Goggles and face shield, acid-proof gloves and apron; eyewash and water within ten seconds’ reach.',
    source: 'ANSI/ISEA Z358.1, from memory',
  },
  {
    id: 'acid-into-water',
    topic: 'acid',
    text: 'Always acid into water, slowly, stirring, never water into acid. Keep baking soda at hand for spills.',
    source: 'common practice',
  },
  {
    id: 'mist-and-hydrogen',
    topic: 'acid',
    text: 'The running tank gives off hydrogen and acid mist: ventilate to the open air, no flame, sparks or smoking. Hydrogen burns from 4 % in air.',
    source: 'NFPA lower flammable limit of hydrogen',
  },
  {
    id: 'power-off-to-touch',
    topic: 'current',
    text: 'Power off before touching part, hanger or leads: arcs light hydrogen. Dry hands; keep to your local rules for direct current, above 60 V as for mains.',
    source: 'IEC 61140, from memory',
  },
  {
    id: 'lye',
    topic: 'etch',
    text: 'Lye (caustic soda) blinds and burns, heats up as it dissolves, and makes hydrogen on aluminium: lye into cold water, cover the eyes, ventilate.',
    source: 'common practice',
  },
  {
    id: 'desmut',
    topic: 'etch',
    text: 'Desmutting acids (nitric above all) give poisonous fumes; work in moving air and never mix them with lye.',
    source: 'common practice',
  },
  {
    id: 'dye-hot',
    topic: 'dye',
    text: 'Hot dye and seal baths scald: tongs, long gloves, face shield.',
    source: 'common practice',
  },
  {
    id: 'nickel',
    topic: 'seal',
    text: 'Nickel seals are poisonous and can cause cancer: gloves, no dust, no steam in the room, no drain.',
    source: 'OSHA limit for soluble nickel 1 mg/m³, from memory',
  },
  {
    id: 'fluoride-seal',
    topic: 'fluoride',
    text: 'A nickel fluoride seal holds fluoride: poisonous swallowed, breathed and through the skin, and acid in it makes hydrofluoric acid, which burns deep and unfelt. Rubber gloves, goggles, plastic vessels, no acid into it, calcium gluconate gel at hand.',
    source: 'safety data sheets of nickel fluoride seals, from memory',
  },
  {
    id: 'steam-pressure',
    topic: 'steam',
    text: 'Steam in a vented vessel only, never a closed one or a pressure cooker. Above 100 °C it is under pressure: that takes an autoclave rated for it, run by licensed practice.',
    source: 'common practice',
  },
  {
    id: 'lead',
    topic: 'lead',
    text: 'Lead cathodes put lead into the bath and its sludge: gloves, wash before eating, collect as hazardous waste.',
    source: '29 CFR 1910.1025, from memory',
  },
  {
    id: 'fluoride',
    topic: 'laboratory',
    text: 'Fluoride in an acid sample makes hydrofluoric acid, which burns deep and unfelt: plastic vessels, gloves, a hood, calcium gluconate gel at hand; better left to a laboratory.',
    source: 'common practice',
  },
  {
    id: 'chromium',
    topic: 'laboratory',
    text: 'Mass-loss and stripping tests use chromium VI, which causes cancer: a laboratory’s work, not a small shop’s.',
    source: 'ASTM B137 and B680',
  },
  {
    id: 'waste',
    topic: 'waste',
    text: 'Spent bath, rinse and sludge hold acid and metals: neutralise slowly (it foams and warms) and hand in by your local rules.',
    source: 'common practice',
  },
  {
    id: 'kitchen',
    topic: 'general',
    text: 'Keep children, food and kitchen pots away from every bath.',
    source: 'common practice',
  },
  {
    id: 'defer',
    topic: 'general',
    text: 'Local codes, the makers’ safety data sheets and a licensed electrician’s or hygienist’s word come before this sheet.',
    source: 'common practice',
  },
];

export function cautionsFor(topics: readonly CautionTopic[]): Caution[] {
  return CAUTIONS.filter((caution) => topics.includes(caution.topic));
}
