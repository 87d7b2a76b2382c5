import type { StageId } from '../state/app-state.ts';

/** Short title in sight, and the rest of the full one for screen readers. */
export const STAGE_TITLES: Readonly<Record<StageId, readonly [title: string, rest: string]>> = {
  part: ['Part', ''],
  faces: ['Faces', ''],
  hanging: ['Hanging', ''],
  tank: ['Tank', ' and loads'],
  current: ['Current', ' and time'],
  thickness: ['Thickness', ' map'],
  bath: ['Bath', ''],
  fits: ['Fits', ' and masks'],
  finish: ['Dye', ' and seal'],
  sheet: ['Run sheet', ''],
  run: ['The run', ''],
  logbook: ['Logbook', ''],
};
