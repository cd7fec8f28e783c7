import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { citationStyles } from './src/command/citation-styles.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Offline after the first load; a newer version is offered and never takes over by itself. */
const offline = VitePWA({
  registerType: 'prompt',
  injectRegister: false,
  manifest: {
    name: 'Bookweft',
    short_name: 'Bookweft',
    description: 'Notes from reading, gathered, tied and composed into guides.',
    lang: 'en-GB',
    start_url: './',
    scope: './',
    display: 'standalone',
    background_color: '#E6E4D8',
    theme_color: '#E6E4D8',
    icons: [
      { src: 'mark-192.png', sizes: '192x192', type: 'image/png' },
      { src: 'mark-512.png', sizes: '512x512', type: 'image/png', purpose: 'any maskable' },
      { src: 'mark.svg', sizes: 'any', type: 'image/svg+xml' },
    ],
  },
  workbox: {
    globPatterns: [
      '**/*.{html,js,css,svg,png,json,txt,webmanifest}',
      '**/*-latin*.woff2',
      '**/alegreya*-{greek,cyrillic,vietnamese}*.woff2',
    ],
    maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
    cleanupOutdatedCaches: true,
    // The first visit is there offline too, without opening the page anew; a newer version still waits to be taken.
    clientsClaim: true,
  },
});

/** `vite build` makes the app in dist/app; `vite build --mode command` makes the command line in dist/command. */
export default defineConfig(({ mode }) =>
  mode === 'command'
    ? {
        plugins: [citationStyles()],
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
        plugins: [citationStyles(), svelte(), ...(process.env['VITEST'] ? [] : offline)],
        build: {
          outDir: here('dist/app'),
          emptyOutDir: true,
          target: 'es2023',
          assetsInlineLimit: 0,
        },
        worker: {
          format: 'es',
          plugins: () => [citationStyles()],
          // What a worker begins with comes in one file: in parts it would be asked for in three rounds.
          rolldownOptions: {
            output: { codeSplitting: { groups: [{ name: 'begin', tags: ['$initial'] }] } },
          },
        },
        resolve: {
          // Its browser build asks a document, which the worker has not.
          alias: {
            'decode-named-character-reference': here(
              'node_modules/decode-named-character-reference/index.js',
            ),
          },
          ...(process.env['VITEST'] ? { conditions: ['browser'] } : {}),
        },
        test: {
          root: here('.'),
          include: ['tests/{unit,outside,faults}/**/*.test.ts'],
          setupFiles: [here('tests/seed.ts')],
          testTimeout: 20_000,
        },
      },
);
