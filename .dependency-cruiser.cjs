/* The arrows of the house (DEVELOPERS.md): app and command over engine, engine over the pure rooms, those over journal and language. */
const PURE = '(gather|find|weave|plan|reading|publish|keep)';

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true, dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'language-is-the-ground',
      comment: 'language may take types from journal, nothing else of ours',
      severity: 'error',
      from: { path: '^src/language/' },
      to: { path: '^src/(?!language/)', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'language-takes-types-from-journal-only',
      severity: 'error',
      from: { path: '^src/language/' },
      to: { path: '^src/(?!language/|journal/)' },
    },
    {
      name: 'journal-stands-on-language',
      severity: 'error',
      from: { path: '^src/journal/' },
      to: { path: '^src/(?!journal/|language/)' },
    },
    {
      name: 'pure-rooms-stand-on-the-ground',
      severity: 'error',
      from: { path: `^src/${PURE}/` },
      to: { path: '^src/', pathNot: ['^src/$1/', '^src/(journal|language)/'] },
    },
    {
      name: 'engine-under-app-and-command',
      severity: 'error',
      from: { path: '^src/engine/' },
      to: { path: '^src/(app|command)/' },
    },
    {
      name: 'app-asks-the-engine',
      comment: 'screens reach a pure room only through the engine; types of answers may be named',
      severity: 'error',
      from: { path: '^src/app/' },
      to: { path: `^src/(${PURE}|command)/`, dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'command-asks-the-engine',
      severity: 'error',
      from: { path: '^src/command/' },
      to: { path: `^src/(${PURE}|app)/`, dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'no-node-in-pure-rooms',
      severity: 'error',
      from: { path: '^src/(?!command/)' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'no-tests-in-src',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^tests/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.svelte', '.js', '.mjs', '.json'] },
  },
};
