import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** `vite build` makes the app in dist/app; `vite build --mode command` makes the command line in dist/command. */
export default defineConfig(({ mode }) =>
  mode === 'command'
    ? {
        build: {
          ssr: here('src/command/main.ts'),
          outDir: here('dist/command'),
          emptyOutDir: true,
          target: 'node20',
          minify: false,
        },
        ssr: { noExternal: true, target: 'node' },
      }
    : {
        root: here('src/app'),
        base: './',
        plugins: [svelte()],
        build: { outDir: here('dist/app'), emptyOutDir: true, target: 'es2023' },
        worker: { format: 'es' },
        test: {
          root: here('.'),
          include: ['tests/{unit,outside,faults}/**/*.test.ts'],
          testTimeout: 20_000,
        },
      },
);
