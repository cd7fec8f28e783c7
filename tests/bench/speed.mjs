/** Measures how fast the engine answers (tests/bench/speed/main.ts), with the project's own sources as they are. See `npm run bench`. */
import { runnerImport } from 'vite';

const { module } = await runnerImport('./tests/bench/speed/main.ts', { configFile: false });
process.exitCode = module.run(process.argv.slice(2));
