import { markLevelWords } from '../../core/job/hung-depth.ts';
import { formatIn, readableUnit } from '../../core/units/format-quantity.ts';
import { gatherParts, isMeshed } from './gather-parts.ts';
import { parseHangOptions } from './hang-options.ts';
import { hangReport, type HangReport } from './hang-report.ts';
import { hangSettings, savedDepthM, savedPins, savedTank } from './hung-as-saved.ts';
import { proposalText } from './plan-text.ts';
import { printFailure } from './print-failure.ts';
import type { Verb } from './verb.ts';

const HELP = `tankside hang: where to clamp a part, what it weighs, and what it traps the way it hangs.

tankside hang FILE [FILE…] --unit UNIT [options]
tankside hang JOB.tankside [options]

  FILE             a model; each file is a part of its own
  JOB.tankside     a saved job: each part as it hangs there, with its pins, alloy, current and tank
  --job FILE       a saved job, whatever its ending; other options win over it
  --unit UNIT      unit of the model: mm, cm, m, in or ft; once for all files or once for each
  --up X,Y,Z       the model's direction that points up in the bath (default: the job's, else 0,0,1)
  --alloy NAME     for the weight: 6061, 5052, 7075 … (default: the job's, else 6061)
  --current I      through the part: 4A; places are judged by the contact area it wants (default: the job's)
  --pad D          width of the clamp's tip (default 3mm)
  --mask FACES     faces not to be clamped or coated, as the plan lists them: f3,f7; with several parts 2:f3
  --search         look for the attitudes that trap least
  --directions N   how many attitudes to look at (default 500)
  --json           print one JSON object instead of text: one part's own, or { "parts": [ … ] } for several
  --help           show this

Exit code: 0 done; 2 something is wrong with the input, such as a surface that is not closed (weight and traps
are null then); 1 a fault in the program.
`;

/** From model files to contacts, weight and traps. */
export const hangVerb: Verb = {
  name: 'hang',
  summary: 'where to clamp, what it weighs, what gas and liquid it traps as it hangs',
  help: HELP,
  async run(args, output) {
    const options = parseHangOptions(args);
    if (!options.ok) {
      printFailure(output, options.error);
      return 2;
    }
    const { files, jobFile, units, masks } = options.value;
    const gathered = await gatherParts({ files, jobFile, units, masks });
    for (const { about, error, proposal } of gathered.problems) {
      printFailure(output, error, about);
      if (proposal) output.err(proposalText(proposal));
    }
    if (gathered.problems.length > 0) return 2;
    const { job, parts } = gathered;
    for (const { part } of parts.filter((one) => !isMeshed(one))) {
      output.err(`${part.name}: only its area is known, so nothing can be said of how it hangs\n`);
    }
    const tank = job ? savedTank(job) : null;
    const reports = parts.filter(isMeshed).map((part): HangReport => {
      let tenths = 0;
      const settings = hangSettings(part, options.value, job);
      const report = hangReport(part, options.value, settings, (done, total) => {
        if (Math.floor((10 * done) / total) <= tenths) return;
        tenths = Math.floor((10 * done) / total);
        output.err(`${part.file}: ${10 * tenths} % of the attitudes\n`);
      });
      if (!job || !part.fromJob) return report;
      const depthM = options.value.up ? null : savedDepthM(part);
      return {
        ...report,
        ...(depthM === null ? {} : { hangsDeepMm: Number((1000 * depthM).toPrecision(9)) }),
        pins: savedPins(job, part),
        ...(tank === null ? {} : { tank }),
      };
    });
    if (reports.length === 0) return 2;
    output.out(
      options.value.json
        ? `${JSON.stringify(reports.length === 1 ? reports[0] : { parts: reports }, null, 2)}\n`
        : reports.map((report) => hangText(report)).join('\n'),
    );
    for (const { file, warnings } of reports) {
      for (const { message } of warnings) output.err(`${file}: ${message}\n`);
    }
    return reports.some(({ volumeMm3 }) => volumeMm3 === null) ? 2 : 0;
  },
};

const round = (value: number, digits = 4): string => {
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.max(Math.abs(value), 1e-12))));
  return value === 0 ? '0' : value.toFixed(Math.min(6, decimals));
};
/** Without the sign of a zero. */
const fixed = (value: number, decimals: number): string =>
  (Number(value.toFixed(decimals)) + 0).toFixed(decimals);
/** A place given in mm, in inches behind it. */
const point = (mm: readonly number[]): string =>
  `${mm.map((x) => fixed(x, 2)).join(', ')} mm (${mm.map((x) => fixed(x / MM_PER_INCH, 3)).join(', ')} in)`;

const MM_PER_INCH = 25.4;
/** A length, area or volume of mm, mm², mm³ in inches. */
const inches = (value: number, power: 1 | 2 | 3): string =>
  `${round(value / MM_PER_INCH ** power, 3)} ${['in', 'in²', 'in³'][power - 1]}`;

function hangText(report: HangReport): string {
  const lines = [
    report.file,
    `  up in the bath: ${report.up.map((x) => Number(fixed(x, 3))).join(', ')} of the model`,
  ];
  if (report.hangsDeepMm !== undefined) {
    lines.push(`  hangs ${markLevelWords(report.hangsDeepMm / 1000, 'metric')}`);
  }
  if (report.tank !== undefined) lines.push(`  ${report.tank}`);
  if (report.pins)
    lines.push(report.pins.length === 0 ? '  pins of the job: none set yet' : '  pins of the job:');
  for (const { number, place: at, hanger, notes } of report.pins ?? []) {
    lines.push(
      `    ${number}. ${at}`,
      `         ${hanger}`,
      ...notes.map((note) => `         LOOK: ${note}`),
    );
  }
  if (report.volumeMm3 === null || report.massKg === null || report.centreMm === null) {
    lines.push('  weight and traps: not known, the surface does not enclose metal');
  } else {
    lines.push(
      `  volume ${round(report.volumeMm3 / 1000)} cm³ (${inches(report.volumeMm3, 3)}), mass ${round(1000 * report.massKg)} g (${formatIn('mass', report.massKg, readableUnit('mass', report.massKg, 'us'), 4).text}) as ${report.alloy}`,
      `  centre of gravity ${point(report.centreMm)}`,
    );
    for (const [what, pockets] of [
      ['gas that stays, never coated', report.gas ?? []],
      ['liquid that stays, carried over', report.liquid ?? []],
    ] as const) {
      lines.push(`  ${what}: ${pockets.length === 0 ? 'none' : ''}`.trimEnd());
      for (const pocket of pockets.slice(0, 10)) {
        lines.push(
          `    ${round(pocket.volumeMm3 / 1000, 3)} mL (${inches(pocket.volumeMm3, 3)}) over ${round(pocket.areaMm2 / 100, 3)} cm² (${inches(pocket.areaMm2, 2)}), ${round(pocket.depthMm, 3)} mm (${inches(pocket.depthMm, 1)}) deep, opens at ${point(pocket.opensAtMm)}`,
        );
      }
      if (pockets.length > 10) lines.push(`    and ${pockets.length - 10} smaller ones`);
    }
    if (report.plugs)
      lines.push(
        `  with ${report.plugs === 1 ? 'a plug in 1 masked bore' : `plugs in ${report.plugs} masked bores`}`,
      );
    if (report.behindPlugs) {
      const { areaMm2, faces } = report.behindPlugs;
      lines.push(
        `  LOOK: no acid reaches ${faces} behind the plugs, yet ${round(areaMm2 / 100, 3)} cm² (${inches(areaMm2, 2)}) count as coated: mask them too`,
      );
    }
    if (report.lastDripMm) lines.push(`  last drop at ${point(report.lastDripMm)}`);
  }
  lines.push(
    report.contacts.length === 0
      ? '  contacts: no place to clamp was found'
      : '  contacts, each for hanging by it alone (of 100), best first:',
  );
  report.contacts.forEach(({ atMm, score, kind, reasons }, i) => {
    lines.push(
      `    ${i + 1}. ${score.toFixed(0)}  ${kind} at ${point(atMm)}`,
      ...reasons.map((r) => `         ${r}`),
    );
  });
  if (report.pairs.length > 0) lines.push('  two together, best first:');
  for (const { contacts, score, reasons } of report.pairs) {
    lines.push(`    ${score.toFixed(0)}  ${contacts.join(' and ')}`, ...reasons.map((r) => `         ${r}`));
  }
  if (report.attitudes) {
    lines.push('  attitudes that trap least, of 100 (up in the bath):');
    for (const { up: way, score, reasons } of report.attitudes) {
      lines.push(`    ${score.toFixed(1)}  ${way.map((x) => fixed(x, 3)).join(', ')}  ${reasons.join(' ')}`);
    }
  }
  return `${lines.join('\n')}\n`;
}
