import type { Alloy } from '../reference/alloys.ts';
import { uncapital } from '../units/first-letter.ts';

export interface AlloyPlan {
  readonly dyed: boolean;
  readonly brightColour: boolean;
  /** Dyed black: what the alloy does to a colour is not seen. */
  readonly black?: boolean;
  /** Parts of another alloy, or of none that is known, are in the same job. */
  readonly amongOthers?: boolean;
  /** The charge constant was measured on this alloy, so the film is what is planned. */
  readonly chargeOfItsOwn?: boolean;
  readonly hardCoat: boolean;
  /** Filler of the welds; null where nothing is welded. */
  readonly filler: Alloy | null;
}

export interface AlloyMessage {
  readonly level: 'note' | 'check';
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

/** Metal Finishing Guidebook: over about 5 % silicon not for bright colours, over 2 % magnesium or copper dull. */
const BRIGHT_SILICON = 0.05;
const DULL_PERCENT = 0.02;
/** MIL-A-8625F 3.4.3, from memory: type III only up to 5 % copper and 8 % silicon unless allowed. */
const HARD_COPPER = 0.05;
const HARD_SILICON = 0.08;

/** What to expect of an alloy (castings: common practice) for what is planned with it. */
export function alloyMessages(alloy: Alloy, plan: AlloyPlan): AlloyMessage[] {
  const messages: AlloyMessage[] = [];
  if (plan.dyed && (alloy.dyes === 'poor' || alloy.dyes === 'not for colour')) {
    messages.push({
      level: plan.black ? 'note' : 'check',
      code: 'alloy-not-for-colour',
      message: `${alloy.name} takes colour badly: ${uncapital(alloy.note)}`,
      remedy: plan.black
        ? 'Black hides most of it; try a scrap of the same piece first.'
        : 'Dye it black or leave it plain, and try a scrap of the same piece first.',
    });
  } else if (plan.dyed && plan.brightColour && alloy.siliconHigh > BRIGHT_SILICON) {
    messages.push({
      level: 'check',
      code: 'alloy-too-much-silicon',
      message: 'Above about 5 % silicon bright colours come out grey.',
      remedy: 'Choose a dark colour or another alloy.',
    });
  } else if (
    plan.dyed &&
    plan.brightColour &&
    Math.max(alloy.copperHigh, alloy.magnesiumHigh) > DULL_PERCENT
  ) {
    messages.push({
      level: 'note',
      code: 'alloy-dull',
      message: 'Above about 2 % magnesium or copper colours come out a little dull.',
      remedy: 'Compare on a scrap of the same alloy.',
    });
  }
  if (alloy.yieldFactor.low < 1 && !plan.chargeOfItsOwn) {
    messages.push({
      level: 'check',
      code: 'alloy-low-yield',
      message: `${alloy.name} makes ${Math.round(alloy.yieldFactor.low * 100)} to ${Math.round(alloy.yieldFactor.high * 100)} % of the film the charge would make on 6061.`,
      remedy: plan.amongOthers
        ? 'Run it as a load of its own, from a job of its own, with a charge constant measured on a test piece: the constant here counts for all parts. Its fits are counted with this range.'
        : 'Measure a test piece and enter your own charge constant for this alloy. Its fits are counted with this range.',
    });
  }
  if (alloy.form === 'casting') {
    const silicon = Math.round(alloy.siliconHigh * 100);
    messages.push({
      level: 'note',
      code: 'casting',
      message:
        alloy.siliconHigh > BRIGHT_SILICON
          ? `A casting with up to ${silicon} % silicon: lye leaves thick dark smut, silicon stays in the film as grey, pores hold acid and weep it out as stains for days.`
          : 'A casting: its pores hold acid and weep it out as stains for days.',
      remedy:
        alloy.siliconHigh > BRIGHT_SILICON
          ? 'Blast rather than etch, or etch half a minute at most; coat 5 to 10 µm at 0.8 to 1 A/dm²; soak in baking soda solution and rinse long before the dye; try an offcut first.'
          : 'Soak in baking soda solution and rinse long before the dye and the seal; try an offcut first.',
    });
  }
  if (plan.hardCoat && (alloy.copperHigh > HARD_COPPER || alloy.siliconHigh > HARD_SILICON)) {
    messages.push({
      level: 'check',
      code: 'alloy-not-for-hard-coat',
      message:
        'Hard coat is limited to alloys with at most 5 % copper and 8 % silicon unless the customer allows more.',
      remedy: 'Ask the customer, or plan an ordinary film.',
    });
  }
  if (plan.filler !== null && plan.filler.siliconHigh > BRIGHT_SILICON) {
    messages.push({
      level: 'check',
      code: 'filler-dark-weld',
      message: `Welds made with ${plan.filler.name} turn dark grey whatever the dye.`,
      remedy: 'Weld with 5356 where the seam will be seen, or dye the part black.',
    });
  }
  return messages;
}
