/** Builds the related words anew (tests/bench/thesaurus/build.ts). See `npm run thesaurus`. */
import { runnerImport } from 'vite';

const { module } = await runnerImport('./tests/bench/thesaurus/build.ts', { configFile: false });
await module.run(process.argv.slice(2));
