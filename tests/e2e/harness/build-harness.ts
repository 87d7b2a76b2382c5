import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { build } from 'vite';

/** Builds the harness page into a temporary folder, with the demo parts under demo/, and returns the folder. */
export async function buildHarness(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'tankside-harness-'));
  await build({
    root: fileURLToPath(new URL('.', import.meta.url)),
    configFile: false,
    base: './',
    plugins: [react()],
    publicDir: fileURLToPath(new URL('../../../assets', import.meta.url)),
    worker: { format: 'es' },
    logLevel: 'warn',
    build: {
      outDir: folder,
      emptyOutDir: true,
      target: 'es2023',
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      chunkSizeWarningLimit: 4096,
    },
  });
  return folder;
}
