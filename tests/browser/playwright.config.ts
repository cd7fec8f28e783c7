import { defineConfig } from '@playwright/test';

const PORT = Number(process.env['BROWSER_TEST_PORT'] ?? 4179);

/** Screens are tested in Debian's Chromium against the built app, as a reader would have it. */
export default defineConfig({
  testDir: '.',
  outputDir: '../../test-results',
  timeout: 90_000,
  // Shared machines are slow now and then; what is measured is measured in speed.spec.
  expect: { timeout: 20_000 },
  workers: 1,
  // A key pressed while a slow machine still draws may be lost by a test, not by the app: it is tried once more, and the report calls it flaky.
  // What must never fail a first time says so itself (keep.spec).
  retries: 1,
  reporter: [['line']],
  use: {
    baseURL: `http://localhost:${PORT}/`,
    viewport: { width: 1440, height: 900 },
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    launchOptions: {
      executablePath: process.env['CHROMIUM_PATH'] ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  webServer: {
    command: 'node src/command/ready.mjs start',
    cwd: '../..',
    port: PORT,
    env: { PORT: String(PORT), CI: 'true' },
    reuseExistingServer: true,
    timeout: 120_000,
  },
});
