/** Builds the window: one page that runs in Electron and in a plain browser. */
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { embindWithoutEval } from './renderer/build/embind-without-eval.ts';
import { manifoldWithoutNode } from './renderer/build/manifold-without-node.ts';

export default defineConfig({
  root: 'renderer',
  base: './',
  plugins: [react()],
  publicDir: '../assets',
  worker: { format: 'es', plugins: () => [embindWithoutEval(), manifoldWithoutNode()] },
  build: {
    outDir: '../dist/renderer',
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 4096,
  },
});
