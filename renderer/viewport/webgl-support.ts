let known: boolean | undefined;

/** Whether the browser gives WebGL 2, asked once. */
export function hasWebGl2(): boolean {
  if (known === undefined) {
    const context = document.createElement('canvas').getContext('webgl2');
    known = context !== null;
    context?.getExtension('WEBGL_lose_context')?.loseContext();
  }
  return known;
}
