import type { StepKernel } from '../../core/model-files/step-kernel.ts';

/**
 * The CAD kernel for STEP files, out of node_modules. Loaded when the first STEP file comes: it is 23 MB of
 * WebAssembly. Its own output is kept quiet; what it has to say comes as failures and notes.
 */
export async function startStepKernel(): Promise<StepKernel> {
  const { default: start } = await import('replicad-opencascadejs');
  const quiet = (): void => {};
  // Typed over: the library's own types name every class of the kernel, core's only what it uses.
  return (await start({ print: quiet, printErr: quiet })) as unknown as StepKernel;
}
