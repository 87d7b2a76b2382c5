/**
 * Symptoms, their causes and the way back: facts of the trade (common practice), in one table so that causes shared by
 * several symptoms are worded once and the whole can be read through. That is why it is longer than other files.
 */
import { LOST_CONTACT_WAY_BACK } from '../run/watch-advice.ts';
import type { Cause, Evidence, Symptom, TroubleFlags, TroubleNumbers } from './trouble-facts.ts';

const above = (
  fact: keyof TroubleNumbers,
  limit: number,
  because: string,
  raises = 4,
  otherwise = 0.4,
): Evidence => ({
  fact,
  side: 'above',
  limit,
  raises,
  otherwise,
  because,
});
const below = (
  fact: keyof TroubleNumbers,
  limit: number,
  because: string,
  raises = 4,
  otherwise = 0.4,
): Evidence => ({
  fact,
  side: 'below',
  limit,
  raises,
  otherwise,
  because,
});
const is = (
  fact: keyof TroubleFlags,
  limit: boolean,
  because: string,
  raises = 4,
  otherwise = 0.4,
): Evidence => ({
  fact,
  side: 'is',
  limit,
  raises,
  otherwise,
  because,
});

const REDO = 'Strip, clean and coat again; count the metal it takes against the fits first.';

const lostContact: Cause = {
  id: 'lost-contact',
  text: 'The hanger lost its grip and the part stopped coating.',
  usual: 3,
  evidence: [
    above('contactLoad', 0.8, 'the contacts carried nearly all they can'),
    is('suddenStep', true, 'the readings show a sudden step', 8, 0.3),
  ],
  check:
    'Look for a bare or burnt spot at the clamp, and measure resistance from hanger to part: a bare contact reads under an ohm.',
  wayBack: LOST_CONTACT_WAY_BACK,
};
const gasTrapped: Cause = {
  id: 'gas-trapped',
  text: 'A bubble of gas kept the acid away.',
  usual: 2,
  evidence: [is('gasPocket', true, 'the hanging plan has a pocket open downwards', 6, 0.2)],
  check: 'The bare place has a sharp, round edge and lies at the top of a recess.',
  wayBack: `Turn the part so that the pocket vents. ${REDO}`,
};
const notClean: Cause = {
  id: 'not-clean',
  text: 'Grease, silicone or fingerprints were left on the part.',
  usual: 3,
  evidence: [is('waterBreakHeld', false, 'the water-break test did not hold', 6, 0.3)],
  check: 'Rinse a bare spot and watch the water for a minute: it draws back where it is not clean.',
  wayBack: `Degrease until the water film holds a minute. ${REDO}`,
};
const alloyItself: Cause = {
  id: 'alloy-itself',
  text: 'The alloy is the cause: silicon or copper goes into the film.',
  usual: 1.5,
  evidence: [
    above('siliconFraction', 0.02, 'the alloy holds much silicon', 6, 0.4),
    above('copperFraction', 0.02, 'the alloy holds much copper', 4, 0.6),
  ],
  check: 'A scrap of a known good alloy run beside it comes out right.',
  wayBack: 'Stripping does not help. Dye black, leave it plain, or make it from another alloy.',
};
const fillerDark: Cause = {
  id: 'filler-dark',
  text: 'The weld was made with a filler full of silicon.',
  usual: 0.8,
  evidence: [above('fillerSiliconFraction', 0.03, 'the filler holds much silicon', 10, 0.05)],
  check: 'Only the seam is dark, with a sharp border along the weld.',
  wayBack: 'There is none for this seam. Dye black, or weld the next part with 5356.',
};
const smutLeft: Cause = {
  id: 'smut-left',
  text: 'Smut from the etch was left on the part.',
  usual: 1.5,
  evidence: [is('desmutted', false, 'there was no desmut step', 5, 0.4)],
  check: 'A white cloth wiped over an etched scrap comes away grey.',
  wayBack: `Desmut after every etch. ${REDO}`,
};
const warmBath: Cause = {
  id: 'warm-bath',
  text: 'The bath was too warm, so the acid ate the film as it grew.',
  usual: 2,
  evidence: [
    above('bathEndK', 297.15, 'the bath ended above 24 °C', 5, 0.3),
    is('stirred', false, 'the bath was not stirred', 2, 0.7),
  ],
  check: 'The film rubs off as white dust, most where the part was warmest; a run at 20 °C does not.',
  wayBack: `Cool and stir, or shorter runs with pauses. ${REDO}`,
};
const strongBath: Cause = {
  id: 'strong-bath',
  text: 'The bath holds too much acid.',
  usual: 1,
  evidence: [above('freeAcidKgPerM3', 210, 'free acid is above 210 g/L', 4, 0.4)],
  check: 'Titrate the free acid; a hydrometer alone also counts dissolved aluminium.',
  wayBack: 'Draw some bath off and add water.',
};
const tiredBath: Cause = {
  id: 'tired-bath',
  text: 'The bath holds too much dissolved aluminium.',
  usual: 1,
  evidence: [above('aluminiumKgPerM3', 15, 'aluminium is above 15 g/L', 5, 0.3)],
  check: 'Titrate with and without fluoride.',
  wayBack: 'Replace part of the bath; the bath page says how much.',
};
const tooLong: Cause = {
  id: 'too-long',
  text: 'The film is thicker than a bath near 20 °C can carry.',
  usual: 1,
  evidence: [above('thicknessM', 27e-6, 'more than 27 µm was planned', 5, 0.3)],
  check: 'A shorter run of the same part is hard and clear.',
  wayBack: 'Plan 25 µm or less, or a cold bath.',
};
const shortCharge: Cause = {
  id: 'short-charge',
  text: 'The part got less charge than planned.',
  usual: 2,
  evidence: [below('chargeShare', 0.93, 'less charge was delivered than planned', 8, 0.1)],
  check: 'Compare ampere-hours delivered with the plan; measure the film.',
  wayBack:
    'If it never left the bath and its contact never let go, run the missing charge. Otherwise strip and coat again.',
};
const areaWrong: Cause = {
  id: 'area-wrong',
  text: 'The true area is larger than the one planned with.',
  usual: 2,
  evidence: [
    above('areaSpread', 1.1, 'the area is uncertain by more than 10 %', 4, 0.4),
    below('voltageShare', 0.9, 'the voltage was below what was expected', 3, 0.7),
  ],
  check:
    'At the planned current the voltage is low; film measured thinner by the same share as the area is larger.',
  wayBack:
    'Correct the area (inner faces, threads, hangers below the liquid) and plan the next run with it. Where this film is too thin for its use, strip and coat again.',
};
const areaSmaller: Cause = {
  id: 'area-smaller',
  text: 'The true area is smaller than the one planned with, so each spot got more current.',
  usual: 1,
  evidence: [
    above('areaSpread', 1.1, 'the area is uncertain by more than 10 %', 4, 0.4),
    above('voltageShare', 1.15, 'the voltage was above what was expected', 3, 0.7),
  ],
  check:
    'At the planned current the voltage is high; film measured thicker by the same share as the area is smaller.',
  wayBack: `Correct the area (masked faces, a wrong unit, hollows full of gas) and plan the current anew. ${REDO}`,
};
const thinFilm: Cause = {
  id: 'thin-film',
  text: 'The film is too thin for this colour.',
  usual: 2,
  evidence: [below('thicknessM', 9e-6, 'the film is under 9 µm', 5, 0.4)],
  check: 'Longer dyeing makes it no darker.',
  wayBack: 'Strip and coat thicker; the dye alone can not make it up.',
};
const coolDye: Cause = {
  id: 'cool-dye',
  text: 'The dye was too cool.',
  usual: 2,
  evidence: [below('dyeK', 321.15, 'the dye was below 48 °C', 4, 0.4)],
  check: 'Another minute in dye at 60 °C goes visibly darker.',
  wayBack: 'Rinse and dye again, warmer, as long as it has not been sealed.',
};
const dyePh: Cause = {
  id: 'dye-ph',
  text: 'The dye’s pH is off.',
  usual: 1.5,
  evidence: [
    above('dyePh', 6.5, 'pH of the dye is above 6.5'),
    below('dyePh', 4.5, 'pH of the dye is below 4.5'),
  ],
  check: 'Test paper; correct a cup of the dye and dip a scrap.',
  wayBack: 'Bring it to pH 5-6 with a few drops of acetic acid or ammonia, then dye again.',
};
const weakDye: Cause = {
  id: 'weak-dye',
  text: 'The dye is worn out, or acid was carried into it.',
  usual: 1.5,
  evidence: [],
  check: 'A scrap from the same run goes right in fresh dye.',
  wayBack: 'Make the dye up fresh or add some; rinse longer before it.',
};
const filmClosed: Cause = {
  id: 'film-closed',
  text: 'The film closed before the dye: it stood too long or in hot water.',
  usual: 1,
  evidence: [above('waitBeforeDyeS', 1800, 'it waited more than half an hour', 5, 0.3)],
  check: 'A scrap dyed straight after coating takes the colour.',
  wayBack: 'Ten minutes in cold bath acid without current can reopen it; otherwise strip.',
};
const hardFilm: Cause = {
  id: 'cold-film',
  text: 'The film grew cold and hard, with pores too fine for this dye.',
  usual: 0.8,
  evidence: [below('bathStartK', 290.15, 'the bath was below 17 °C', 4, 0.3)],
  check: 'The same dye takes on a film grown at 21 °C.',
  wayBack: 'Coat at 20-22 °C for dyed parts.',
};
const acidLeft: Cause = {
  id: 'acid-left',
  text: 'Acid left in seams, holes or threads ran out again.',
  usual: 1.5,
  evidence: [is('holdsAcid', true, 'the part has seams or blind holes', 5, 0.3)],
  check: 'Pale streaks start at a seam, hole or thread.',
  wayBack: 'Rinse and dip in a weak soda rinse, then dye again if it is not sealed.',
};
const sealCool: Cause = {
  id: 'seal-cool',
  text: 'The seal was too cool or too short to close the film.',
  usual: 3,
  evidence: [below('sealK', 366.15, 'the seal was below 93 °C', 4, 0.4)],
  check: 'A drop of dye on the sealed part leaves a stain.',
  wayBack: 'Seal again at the right temperature, for the whole time.',
};
const sealPh: Cause = {
  id: 'seal-ph',
  text: 'The seal’s pH is off.',
  usual: 1.5,
  evidence: [
    below('sealPh', 5.3, 'pH of the seal is below 5.3'),
    above('sealPh', 6.7, 'pH of the seal is above 6.7'),
  ],
  check: 'Test paper in the cooled seal.',
  wayBack: 'Correct it with acetic acid or ammonia and seal again.',
};
const surfaceDye: Cause = {
  id: 'surface-dye',
  text: 'Dye sat on the surface and was not rinsed off.',
  usual: 1.5,
  evidence: [],
  check: 'The colour comes off on a wet cloth before sealing, and the part below is evenly coloured.',
  wayBack: 'Rinse until it runs clear, then seal; wipe the part afterwards.',
};
const overCurrent: Cause = {
  id: 'over-current',
  text: 'The current density was more than this bath cools away.',
  usual: 2,
  evidence: [
    above('currentDensityAPerM2', 220, 'the density was above 2.2 A/dm²'),
    is('stirred', false, 'the bath was not stirred', 3, 0.6),
  ],
  check: 'Burns sit on edges, corners and the side near the cathode.',
  wayBack: `Lower the density, stir harder, move the cathode away. ${REDO}`,
};
const contactBurnt: Cause = {
  id: 'contact-burnt',
  text: 'The contact was too small and got hot.',
  usual: 2,
  evidence: [above('contactLoad', 0.8, 'the contacts carried nearly all they can', 6, 0.4)],
  check: 'Pitted or melted metal under the clamp.',
  wayBack: 'More or larger contacts; clean the clamp to bare metal before every run.',
};
const fastRamp: Cause = {
  id: 'fast-ramp',
  text: 'The current came on too fast.',
  usual: 1,
  evidence: [below('rampS', 60, 'the ramp was under a minute', 4, 0.4)],
  check: 'Burns appear in the first minutes; copper alloys first.',
  wayBack: 'Ramp over five minutes.',
};
const chlorides: Cause = {
  id: 'chlorides',
  text: 'Chloride from tap water got into the bath.',
  usual: 1.5,
  evidence: [above('chlorideKgPerM3', 0.1, 'chloride is above 0.1 g/L', 8, 0.1)],
  check: 'Pits all over, sharp and bright; a silver-nitrate test of the water clouds.',
  wayBack: 'Make the bath up fresh with distilled water and keep pool and tap water out.',
};
const overEtch: Cause = {
  id: 'over-etch',
  text: 'Etching or stripping went on too long.',
  usual: 1.5,
  evidence: [is('redone', true, 'the part was stripped before', 3, 0.6)],
  check: 'The surface is rough and matte before it goes into the tank.',
  wayBack: 'Shorter or weaker etch; polish or blast the part to even it out.',
};
const maskLeak: Cause = {
  id: 'mask-leak',
  text: 'A mask leaked.',
  usual: 1,
  evidence: [is('masked', true, 'faces were masked', 4, 0.02)],
  check: 'The fault follows the rim of a plug, cap or tape.',
  wayBack: 'Dry the part fully before masking, press the rim down, larger plugs.',
};
const unevenLoad: Cause = {
  id: 'uneven-load',
  text: 'The pieces did not all get the same current.',
  usual: 2,
  evidence: [
    above('pieces', 1, 'several pieces hung together', 3, 0.05),
    above('contactLoad', 0.8, 'contacts ran near their limit', 2, 0.7),
  ],
  check:
    'Measure the film on each piece; weak ones hang farthest from the cathode or by the poorest contact.',
  wayBack: 'Same hanger, same grip, same distance for all; cathodes on both sides.',
};
const mixedAlloys: Cause = {
  id: 'mixed-alloys',
  text: 'The pieces are not of the same alloy or temper.',
  usual: 1.5,
  evidence: [
    above('alloys', 1, 'different alloys hung together', 6, 0.6),
    above('unsortedPieces', 1, 'several pieces hung together', 2, 0.05),
  ],
  check: 'Pieces from one bar match each other.',
  wayBack: 'Sort by bar or supplier and run them apart.',
};
const supplyLimit: Cause = {
  id: 'supply-limit',
  text: 'The supply ran out of volts or amps.',
  usual: 2,
  evidence: [
    is('supplyAtLimit', true, 'the supply stood at its limit', 8, 0.1),
    above('supplyShare', 0.9, 'the plan takes nearly all that the supply gives', 4, 0.1),
  ],
  check: 'The limit lamp is lit; voltage or current stands exactly at the dial.',
  wayBack: 'Run on until the charge is reached, or fewer pieces at once.',
};
const shorted: Cause = {
  id: 'short-circuit',
  text: 'Part or hanger touched the cathode.',
  usual: 0.7,
  evidence: [below('voltageShare', 0.3, 'the voltage was far below what was expected', 10, 0.1)],
  check: 'Voltage falls to a few volts with full current.',
  wayBack: 'Power off at once, part them, look for burns, then run the remaining charge.',
};
const weakBath: Cause = {
  id: 'weak-bath',
  text: 'The bath is too weak or too cold for this voltage.',
  usual: 1,
  evidence: [
    below('freeAcidKgPerM3', 140, 'free acid is below 140 g/L', 5, 0.4),
    below('bathStartK', 289.15, 'the bath was below 16 °C', 3, 0.6),
  ],
  check: 'Titrate; read the temperature at the part.',
  wayBack: 'Add acid (acid into the bath, slowly, power off) or warm it to 20 °C.',
};
const grownShut: Cause = {
  id: 'grown-shut',
  text: 'The film grew into the clearance: four times the build-up on a thread, twice on a bore.',
  usual: 4,
  evidence: [above('thicknessM', 15e-6, 'the film is over 15 µm', 3, 0.6)],
  check: 'A go gauge that passed before coating stops now, evenly all round.',
  wayBack:
    'Chase a thread with a sharp tap (it bares the crests), hone a bore, or strip and machine to the size the plan gives.',
};

export const SYMPTOMS: readonly Symptom[] = [
  {
    id: 'no-film',
    title: 'No film at all',
    causes: [lostContact, supplyLimit, shorted, { ...alloyItself, usual: 0.3 }],
  },
  {
    id: 'partly-coated',
    title: 'Only part of it is coated, or bare spots',
    causes: [lostContact, gasTrapped, notClean, maskLeak],
  },
  {
    id: 'soft',
    title: 'Soft, chalky or powdery film',
    causes: [warmBath, strongBath, tooLong, tiredBath, overCurrent],
  },
  {
    id: 'burnt',
    title: 'Dark, burnt or pitted spots at edges or clamps',
    causes: [overCurrent, contactBurnt, fastRamp, warmBath, areaSmaller],
  },
  {
    id: 'thin',
    title: 'Film thinner than planned',
    causes: [shortCharge, areaWrong, lostContact, warmBath, alloyItself],
  },
  {
    id: 'pale',
    title: 'Colour too light',
    causes: [thinFilm, coolDye, dyePh, weakDye, filmClosed, hardFilm, shortCharge],
  },
  {
    id: 'blotchy',
    title: 'Blotchy or streaked colour',
    causes: [notClean, acidLeft, smutLeft, gasTrapped, { ...dyePh, usual: 0.8 }],
  },
  {
    id: 'dark-weld',
    title: 'Dark weld or grey patches',
    causes: [fillerDark, alloyItself, smutLeft, { ...overEtch, usual: 0.5 }],
  },
  {
    id: 'differs',
    title: 'Pieces of one load differ in colour',
    causes: [unevenLoad, mixedAlloys, lostContact, { ...weakDye, usual: 0.5 }],
  },
  { id: 'bleeds', title: 'Colour washes out in the seal', causes: [sealCool, sealPh, surfaceDye, thinFilm] },
  {
    id: 'bloom',
    title: 'White bloom or rainbow after the seal',
    causes: [sealPh, { ...sealCool, usual: 1 }, surfaceDye, smutLeft],
  },
  {
    id: 'stains-later',
    title: 'Fingerprints and stains stay after the seal',
    causes: [sealCool, sealPh, warmBath],
  },
  {
    id: 'voltage-up',
    title: 'Voltage jumped up (or current fell) during the run',
    causes: [lostContact, weakBath, supplyLimit, { ...gasTrapped, usual: 1 }],
  },
  {
    id: 'current-up',
    title: 'Current ran up (or voltage fell) during the run',
    causes: [shorted, warmBath, overCurrent, areaWrong],
  },
  { id: 'pits', title: 'Pits all over', causes: [chlorides, overEtch, alloyItself, contactBurnt] },
  { id: 'binds', title: 'A thread or bore binds', causes: [grownShut, maskLeak, overCurrent] },
  { id: 'oozes', title: 'White or wet spots come out days later', causes: [acidLeft, sealCool, smutLeft] },
];
