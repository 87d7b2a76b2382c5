import type { SolidKit } from '../../core/mesh/solid-kit.ts';

/** manifold-3d out of node_modules, for fusing bodies and for shapes drawn in a job. Loaded when first needed. */
export async function startSolidKit(): Promise<SolidKit> {
  const { default: load } = await import('manifold-3d');
  const kit = await load();
  kit.setup();
  return kit;
}
