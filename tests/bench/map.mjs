/**
 * Times of the map at 2,000, 20,000 and 200,000 nodes, as ratios to plain sigma with one circle program in the same run:
 * `npm run bench:map`, or with other sizes `npm run bench:map -- 2000 20000`. Without a graphics card all of it is drawn in software.
 */
import { chromium } from '@playwright/test';
import { createServer } from 'vite';

const sizes = process.argv.slice(2).map(Number).filter(Boolean);
const server = await createServer({
  configFile: false,
  root: '.',
  logLevel: 'error',
  server: { port: 0, host: 'localhost' },
  optimizeDeps: {
    noDiscovery: true,
    include: ['graphology', 'sigma', 'sigma/rendering', 'sigma/utils', 'd3-hierarchy'],
  },
});
await server.listen();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: [
    '--no-sandbox',
    '--use-gl=angle',
    '--use-angle=swiftshader',
    '--enable-unsafe-swiftshader',
    '--ignore-gpu-blocklist',
  ],
});
try {
  const page = await browser.newPage({ viewport: { width: 1000, height: 720 } });
  page.on('pageerror', (error) => console.error(error.message));
  const { port } = server.httpServer.address();
  await page.goto(`http://localhost:${port}/tests/bench/map/index.html`);
  await page.waitForFunction(() => 'measure' in window);
  const told = (value) => `${value.toFixed(value < 10 ? 1 : 0)} ms`.padStart(9);
  console.log('   nodes   laying  showing    frame | plain: showing    frame | ratio of frames');
  for (const size of sizes.length > 0 ? sizes : [2000, 20_000, 200_000]) {
    const one = await page.evaluate((nodes) => window.measure(nodes), size);
    const ratio = (one.frameMs / one.plainFrameMs).toFixed(2);
    console.log(
      `${String(size).padStart(8)}${told(one.layoutMs)}${told(one.showMs)}${told(one.frameMs)} |       ${told(one.plainShowMs)}${told(one.plainFrameMs)} | ${ratio}`,
    );
  }
} finally {
  await browser.close();
  await server.close();
}
