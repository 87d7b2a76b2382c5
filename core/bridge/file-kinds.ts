/** Ending of a job file, in lower case with its dot. */
export const jobFileExtension = '.tankside';

/** Endings of the model files that can be opened, in lower case with their dots. */
export const modelFileExtensions: readonly string[] = ['.step', '.stp', '.stl', '.obj', '.ply', '.3mf'];

/** Only a job file is ever written back to the path it came from: a model stays as its maker left it. */
export function isJobFileName(name: string): boolean {
  return name.toLowerCase().endsWith(jobFileExtension);
}
