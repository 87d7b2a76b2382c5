import type { Dip } from '../finish/colour-book.ts';
import type { Job } from '../job/job.ts';
import { failure, success, type Result } from '../result.ts';
import { stepTimers } from '../run/step-clock.ts';
import { measuredFilm } from './measured-film.ts';
import type { RunRecord } from './run-record.ts';
import { dyeStrength } from '../finish/dye-recipe.ts';

/**
 * What a finished run teaches of its dye, as a dip of the colour book: the time its dye step took, the film that was measured or
 * reckoned, the colour that came out. Failures: `dip-without-dye`, `dip-without-colour`, `dip-by-camera`, `dip-without-film`.
 */
export function dipFromRun(record: RunRecord, job: Job): Result<Omit<Dip, 'id' | 'dyeId'>> {
  const { clock, endedAtMs, lab } = record;
  const look = clock.lastLook ?? { wallMs: endedAtMs ?? record.createdAtMs, forwardMs: 0, start: '' };
  const dyed = stepTimers(clock, look).find(({ step }) => step.kind === 'dye');
  if (endedAtMs === null || !dyed || !(dyed.elapsedMs > 0)) {
    return failure(
      'dip-without-dye',
      'This run had no dye step.',
      'Note the dip in the colour book by hand.',
    );
  }
  if (!lab) {
    return failure(
      'dip-without-colour',
      'The colour that came out is not measured.',
      'Add a photo of the part beside white paper and read the colour in it.',
    );
  }
  if (record.labFrom === 'camera') {
    return failure(
      'dip-by-camera',
      'The colour of this run is as the camera saw it: lamp and exposure are in it, and would be in every time worked out from it.',
      'Read it again in a photo with white paper, or note the dip in the colour book by hand.',
    );
  }
  const filmM = measuredFilm(record)?.valueSi ?? record.film?.valueM ?? null;
  if (filmM === null) {
    return failure('dip-without-film', 'The film of this run is not known.', 'Type its measured film above.');
  }
  return success({
    at: new Date(endedAtMs).toISOString(),
    alloy: job.parts[0]?.alloy ?? '',
    timeS: dyed.elapsedMs / 1000,
    temperatureK: job.finish.dye.temperatureK,
    thicknessM: filmM,
    ph: job.finish.dye.ph,
    dyeKgPerM3: dyeStrength(job.finish.dye.recipe),
    colour: lab,
    colourFrom: 'photo',
    note: record.name,
  });
}
