/** Runs the yardstick (tests/bench/judge/main.ts) with the project's own sources as they are. See `npm run judge`. */
import { runnerImport } from 'vite';

const { module } = await runnerImport('./tests/bench/judge/main.ts', { configFile: false });
process.exitCode = await module.run(process.argv.slice(2));
