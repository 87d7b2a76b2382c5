import type { SolidKit } from '../../core/mesh/solid-kit.ts';

/**
 * manifold-3d: half a megabyte of WebAssembly in a file of its own, fetched from the page's own origin when bodies are
 * fused or a shape is drawn for the first time, and kept while the worker lives.
 */
let started: Promise<SolidKit> | null = null;

export function startSolidKit(): Promise<SolidKit> {
  started ??= import('manifold-3d').then(async ({ default: load }) => {
    const kit = await load();
    kit.setup();
    return kit;
  });
  // A start that failed (no memory) is tried again the next time.
  started.catch(() => (started = null));
  return started;
}
