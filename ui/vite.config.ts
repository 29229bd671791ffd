import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// The words that the core says live with the core; the dev server may read that one folder.
const core = new URL('../core/words', import.meta.url).pathname;
const here = new URL('.', import.meta.url).pathname;

export default defineConfig({
  plugins: [svelte()],
  clearScreen: false,
  server: { port: 5173, strictPort: true, fs: { allow: [here, core] } },
  build: {
    target: ['es2022', 'chrome105', 'safari16'],
    // Everything is on the phone: one script is read sooner than many small ones.
    assetsInlineLimit: 0,
    modulePreload: false,
    sourcemap: false,
  },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
});
