/**
 * Makes a fresh checkout ready, then does what npm was asked for: `start` or `test`.
 * Plain JavaScript with nothing imported from the registry, because it runs before anything is installed.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const top = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const at = (...parts) => join(top, ...parts);
const bin = (name) => at('node_modules', '.bin', name);

function fail(sentence) {
  process.stderr.write(`${sentence}\n`);
  process.exit(1);
}

/** Whether what npm has installed is, version for version, what the lock file asks for. */
function installedMatches() {
  const installed = at('node_modules', '.package-lock.json');
  if (!existsSync(installed)) return false;
  const held = JSON.parse(readFileSync(installed, 'utf8')).packages;
  const asked = JSON.parse(readFileSync(at('package-lock.json'), 'utf8')).packages;
  return Object.entries(asked).every(
    ([path, { version, optional }]) => path === '' || optional || held[path]?.version === version,
  );
}

/** Installs the locked dependencies when they are missing or the lock file has changed since. */
export function ensureModules() {
  const lock = createHash('sha256')
    .update(readFileSync(at('package-lock.json')))
    .digest('hex');
  const stamp = at('node_modules', '.bookweft-lock');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  if (installedMatches()) {
    writeFileSync(stamp, lock);
    return;
  }
  process.stderr.write('Installing what Bookweft needs (once)…\n');
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const done = spawnSync(npm, ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: top,
    stdio: ['ignore', 'ignore', 'inherit'],
    shell: process.platform === 'win32',
  });
  if (done.status !== 0)
    fail('The parts Bookweft is built from could not be installed; see the lines above.');
  writeFileSync(stamp, lock);
}

function newestUnder(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path).reduce(
    (newest, name) => Math.max(newest, newestUnder(join(path, name))),
    0,
  );
}

/** Builds one half of the project (`command` or `app`) when its sources are newer than what was built last. */
export function ensureBuilt(half) {
  const built =
    half === 'command' ? at('dist', 'command', 'main.js') : at('dist', 'app', 'index.html');
  const sources = ['src', 'shared', 'vite.config.ts', 'package-lock.json'].map((path) => at(path));
  if (existsSync(built) && sources.every((path) => newestUnder(path) <= statSync(built).mtimeMs))
    return;
  const args = [
    'build',
    '--logLevel',
    'error',
    ...(half === 'command' ? ['--mode', 'command'] : []),
  ];
  const done = spawnSync(
    process.execPath,
    [at('node_modules', 'vite', 'bin', 'vite.js'), ...args],
    {
      cwd: top,
      stdio: ['ignore', 'ignore', 'inherit'],
    },
  );
  if (done.status !== 0) fail(`The ${half} could not be built; see the lines above.`);
}

const CHROMIUMS = [
  process.env.CHROMIUM_PATH,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** Finds a Chromium for the browser tests; on Debian it installs the system's own when there is none. */
function ensureChromium() {
  const found = () => CHROMIUMS.find((path) => path && existsSync(path));
  if (found()) return found();
  if (existsSync('/usr/bin/apt-get')) {
    process.stderr.write('Installing Chromium for the browser tests (once)…\n');
    const as = process.getuid?.() === 0 ? [] : ['sudo', '-n'];
    for (const step of [
      ['apt-get', 'update', '-qq'],
      ['apt-get', 'install', '-y', '-qq', 'chromium', 'poppler-utils'],
    ]) {
      const [command, ...args] = [...as, ...step];
      spawnSync(command, args, {
        stdio: ['ignore', 'ignore', 'inherit'],
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      });
    }
  }
  return (
    found() ??
    fail('The browser tests need Chromium. Install it, or set CHROMIUM_PATH to where it is.')
  );
}

/** Each step of `npm test`, in order: what it checks, and the command that checks it. */
function testSteps() {
  return [
    ['form', bin('prettier'), ['--check', '--log-level', 'warn', '.']],
    ['style', bin('eslint'), ['-c', '.eslint.config.mjs', '--max-warnings', '0', '.']],
    ['types', bin('tsc'), ['--noEmit']],
    [
      'arrows',
      bin('depcruise'),
      ['--config', '.dependency-cruiser.cjs', '--output-type', 'err', 'src'],
    ],
    [
      'components',
      bin('svelte-check'),
      ['--tsconfig', './tsconfig.json', '--threshold', 'warning'],
    ],
    ['tests', bin('vitest'), ['run']],
    ['screens', bin('playwright'), ['test', '--config', 'tests/browser/playwright.config.ts']],
  ];
}

function runTests() {
  const chromium = ensureChromium();
  ensureBuilt('command');
  ensureBuilt('app');
  const env = { ...process.env, CHROMIUM_PATH: chromium };
  for (const [name, command, args] of testSteps()) {
    const began = Date.now();
    const done = spawnSync(command, args, {
      cwd: top,
      stdio: ['ignore', 'inherit', 'inherit'],
      env,
    });
    if (done.status !== 0) fail(`npm test stopped at: ${name}.`);
    process.stdout.write(`${name}: good (${((Date.now() - began) / 1000).toFixed(1)} s)\n`);
  }
}

/** Serves the app on this computer alone and says where; a browser is opened where there is somebody to look. */
async function start() {
  ensureBuilt('app');
  const { preview } = await import('vite');
  const server = await preview({
    configFile: false,
    root: at('src', 'app'),
    logLevel: 'error',
    build: { outDir: at('dist', 'app') },
    preview: {
      host: 'localhost',
      port: Number(process.env.PORT ?? 4170),
      open: Boolean(process.stdout.isTTY) && !process.env.CI,
      headers: { 'X-Content-Type-Options': 'nosniff', 'Referrer-Policy': 'no-referrer' },
    },
  });
  const url = server.resolvedUrls?.local[0] ?? 'http://localhost:4170/';
  process.stdout.write(
    `Bookweft is open at ${url}\nIt runs on this computer alone. Ctrl C stops it.\n`,
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  ensureModules();
  if (process.argv[2] === 'test') runTests();
  else await start();
}
