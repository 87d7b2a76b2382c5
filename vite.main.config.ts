/**
 * Builds everything that runs on Node: Electron's main process, its preload, the launcher, the
 * terminal command, the demo drawer and the benchmark. Electron loads a sandboxed preload as
 * CommonJS only, so it is a build of its own.
 */
import { defineConfig } from 'vite';

/** Loaded from node_modules: each brings WebAssembly or a browser that it looks for beside itself. */
const external = [
  'electron',
  'manifold-3d',
  'replicad-opencascadejs',
  'playwright-core',
  '@sparticuz/chromium',
];

const entries: Record<string, Record<string, string>> = {
  main: {
    main: 'main/main.ts',
    start: 'main/start.ts',
    tankside: 'main/tankside.ts',
    'draw-demo': 'main/draw-demo.ts',
  },
  preload: { preload: 'main/preload.ts' },
  bench: { bench: 'tests/bench/bench.ts' },
};

export default defineConfig(({ mode }) => {
  const input = entries[mode];
  if (!input) throw new Error(`unknown build mode "${mode}"; one of ${Object.keys(entries).join(', ')}`);
  const preload = mode === 'preload';
  return {
    publicDir: false,
    ssr: { noExternal: true, external },
    build: {
      ssr: true,
      outDir: mode === 'bench' ? 'dist/bench' : 'dist/main',
      emptyOutDir: false,
      target: 'node20',
      minify: false,
      rolldownOptions: {
        input,
        external,
        output: {
          format: preload ? 'cjs' : 'es',
          entryFileNames: preload ? '[name].cjs' : '[name].js',
          chunkFileNames: 'shared/[name].js',
        },
      },
    },
  };
});
