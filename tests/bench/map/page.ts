/** Measures the map in a browser: laying it, showing it, and frames while one moves; beside plain sigma with its one circle program. */
import '../../../src/app/look/tokens.css';
import { UndirectedGraph } from 'graphology';
import Sigma from 'sigma';
import { NodeCircleProgram } from 'sigma/rendering';
import { MapDrawing } from '../../../src/app/weave/map-drawing';
import type { Scene } from '../../../src/app/weave/map-scene';
import { regionPlaces, type Region } from '../../../src/weave/regions';

export interface Measured {
  nodes: number;
  layoutMs: number;
  showMs: number;
  frameMs: number;
  plainShowMs: number;
  plainFrameMs: number;
}

const FRAMES = 16;
/** So long frames are waited for: software draws two hundred thousand circles in many seconds, and its middle is known from fewer. */
const FRAMES_MS = 40_000;
const LEAST_FRAMES = 3;
const STRANDS = 12;
const KINDS = ['book', 'theme', 'person'] as const;

/** Nine entries to a heading, as in a lived-in journal; a few headings hold many. */
function regionsOf(nodes: number): { regions: Region[]; entries: number } {
  const headings = Math.round(nodes / 10);
  const entries = nodes - headings;
  const sizes = Array.from({ length: headings }, (_, at) => 1 / (1 + at) ** 0.6);
  const sum = sizes.reduce((a, b) => a + b, 0);
  const regions = Array.from({ length: STRANDS }, () => ({
    headings: [] as { entries: number[]; size: number }[],
    loose: [] as number[],
  }));
  let next = 0;
  sizes.forEach((share, at) => {
    const many = Math.min(entries - next, Math.round((share / sum) * entries));
    const own = Array.from({ length: many }, () => next++);
    regions[at % STRANDS]!.headings.push({ entries: own, size: many });
  });
  while (next < entries) regions[next % STRANDS]!.loose.push(next++);
  return { regions, entries };
}

const frame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));

/** Milliseconds of a frame while the camera moves, the middle one of several. */
async function framesOf(sigma: Sigma): Promise<number> {
  const camera = sigma.getCamera();
  const took: number[] = [];
  const began = await frame();
  let last = began;
  for (let at = 0; at < FRAMES; at++) {
    if (at > LEAST_FRAMES && last - began > FRAMES_MS) break;
    camera.setState({ x: 0.5 + 0.01 * (at % 4), y: 0.5, ratio: 1 - 0.02 * (at % 5) });
    const now = await frame();
    took.push(now - last);
    last = now;
  }
  // The first still bears what showing left to do.
  const settled = took.slice(1).sort((a, b) => a - b);
  return settled[Math.floor(settled.length / 2)]!;
}

async function measure(nodes: number): Promise<Measured> {
  const into = document.getElementById('map')!;
  const { regions, entries } = regionsOf(nodes);
  const began = performance.now();
  const placed = regionPlaces(regions, entries);
  const layoutMs = performance.now() - began;
  const regionOf = new Uint16Array(entries);
  regions.forEach(({ headings, loose }, at) => {
    for (const one of [...headings.flatMap((heading) => [...heading.entries]), ...loose]) {
      regionOf[one] = at;
    }
  });
  const scene: Scene = {
    nodes: placed.headings.flatMap((row, region) =>
      row.map(({ x, y }, at) => ({
        key: `h${region} ${at}`,
        kind: KINDS[at % 3]!,
        label: `Heading ${at}`,
        x,
        y,
        size: 5,
        first: at < 2,
      })),
    ),
    links: [],
    regions: placed.regions.map((region, at) => ({ ...region, name: `Strand ${at}` })),
    dots: {
      places: placed.entries,
      regionOf,
      strands: placed.regions.map(() => undefined),
      shown: () => true,
    },
  };
  const none = (): void => undefined;
  const drawing = await MapDrawing.over(into, {
    over: none,
    press: none,
    open: none,
    moved: none,
    rested: none,
  });
  const shown = performance.now();
  drawing.show(scene, false);
  await frame();
  const showMs = performance.now() - shown;
  const frameMs = await framesOf(drawing.sigma);
  drawing.kill();
  into.replaceChildren();

  const graph = new UndirectedGraph();
  for (const { key, x, y } of scene.nodes) graph.addNode(key, { x, y, size: 5, color: '#1f4690' });
  for (let at = 0; at < entries; at++) {
    const [x, y] = [placed.entries[at * 2]!, placed.entries[at * 2 + 1]!];
    graph.addNode(at, { x, y, size: 2, color: '#1f4690' });
  }
  const plainBegan = performance.now();
  const plain = new Sigma(graph, into, {
    nodeProgramClasses: { circle: NodeCircleProgram },
    renderLabels: false,
  });
  await frame();
  const plainShowMs = performance.now() - plainBegan;
  const plainFrameMs = await framesOf(plain);
  plain.kill();
  into.replaceChildren();
  return { nodes, layoutMs, showMs, frameMs, plainShowMs, plainFrameMs };
}

Object.assign(window, { measure });
