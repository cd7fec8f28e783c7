/**
 * Measures how fast the engine answers (tests/bench/speed/main.ts), bundled as it is in the app: unbundled, every name from another file is
 * looked up anew each time a loop comes to it. See `npm run bench`.
 */
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';

const outDir = resolve('dist/bench');
await build({
  configFile: false,
  logLevel: 'error',
  publicDir: false,
  ssr: { noExternal: true },
  build: { ssr: './tests/bench/speed/main.ts', outDir },
});
const { run } = await import(pathToFileURL(resolve(outDir, 'main.js')).href);
process.exitCode = run(process.argv.slice(2));
