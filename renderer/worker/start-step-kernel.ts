import type { StepKernel } from '../../core/model-files/step-kernel.ts';

/**
 * The CAD kernel for STEP files: 23 MB of WebAssembly in a file of its own, fetched from the page's own origin when the
 * first STEP file comes and never before. It lives in the worker that loads, and ends with it.
 */
export async function startStepKernel(): Promise<StepKernel> {
  const { default: start } = await import('replicad-opencascadejs');
  const quiet = (): void => {};
  // Typed over: the library's own types name every class of the kernel, core's only what it uses.
  return (await start({ print: quiet, printErr: quiet })) as unknown as StepKernel;
}
