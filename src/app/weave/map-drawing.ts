/** A map drawn by WebGL: sigma draws nodes, links and labels; dots, regions and dashed links lie on layers of their own under it. */
import { UndirectedGraph } from 'graphology';
import Sigma from 'sigma';
import { EdgeRectangleProgram } from 'sigma/rendering';
import { lookOf } from './cloth-lay';
import { DotLayer } from './dot-layer';
import { glyphAtlas } from './glyph-atlas';
import { glyphProgram } from './glyph-program';
import { LabelRoom } from './label-room';
import {
  boxOf,
  colourOf,
  tokenColour,
  widthOf,
  type Box,
  type Corner,
  type Scene,
  type SceneNode,
} from './map-scene';

export interface MapEvents {
  /** A node is under the pointer, or none. */
  over: (key: string | undefined) => void;
  /** A node was pressed; with `more` it is added to what is chosen. */
  press: (key: string | undefined, more: boolean) => void;
  open: (key: string) => void;
  /** A node was dragged to a place, y downward. */
  moved: (key: string, x: number, y: number) => void;
  /** The camera came to rest: pixels of a unit, and the part of the plane in view. */
  rested: (
    unit: number,
    view: { left: number; top: number; right: number; bottom: number },
  ) => void;
}

/** How nodes look just now; what is not named looks plain. */
export interface Marks {
  chosen: ReadonlySet<string>;
  /** Where something is lit, all else is dimmed. */
  lit?: ReadonlySet<string>;
  focus?: string;
  pinned: ReadonlySet<string>;
}

/** Whether this browser draws by WebGL at all. */
export function drawsMaps(): boolean {
  try {
    const gl = document.createElement('canvas').getContext('webgl');
    gl?.getExtension('WEBGL_lose_context')?.loseContext();
    return gl !== null;
  } catch {
    return false;
  }
}

const REST_MS = 140;
/** From this many pixels a unit on, glyphs have their full size. */
const FULL_UNIT = 2.8;
/** Labels drawn at once. */
const MOST_LABELS = 140;

export class MapDrawing {
  readonly sigma: Sigma;
  readonly #graph = new UndirectedGraph();
  #scene: Scene = { nodes: [], links: [], regions: [] };
  #marks: Marks = { chosen: new Set(), pinned: new Set() };
  #dots: DotLayer | undefined;
  #regions: CanvasRenderingContext2D;
  #dashes: CanvasRenderingContext2D;
  #labels: CanvasRenderingContext2D;
  /** Nodes in the order in which they get their labels. */
  #order: SceneNode[] = [];
  #nearNodes: readonly SceneNode[] = [];
  /** Where names of regions stand, so that labels keep clear of them. */
  #named: [x: number, y: number, wide: number][] = [];
  /** Pixels of a unit when all is shown. */
  #base = 0;
  #rest: ReturnType<typeof setTimeout> | undefined;
  #colours = palette();
  #drawn: Box | undefined;

  static async over(into: HTMLElement, events: MapEvents): Promise<MapDrawing> {
    return new MapDrawing(into, events, await glyphAtlas());
  }

  private constructor(into: HTMLElement, events: MapEvents, atlas: HTMLCanvasElement) {
    this.sigma = new Sigma(this.#graph, into, {
      allowInvalidContainer: true,
      nodeProgramClasses: { glyph: glyphProgram(atlas) as never },
      nodeHoverProgramClasses: { glyph: glyphProgram(atlas) as never },
      edgeProgramClasses: { line: EdgeRectangleProgram },
      defaultNodeType: 'glyph',
      defaultEdgeType: 'line',
      renderLabels: false,
      zoomToSizeRatioFunction: (ratio) => 1 / this.#grown(ratio),
      minEdgeThickness: 0.8,
      stagePadding: 34,
      zIndex: true,
      minCameraRatio: 0.002,
      maxCameraRatio: 2.5,
      enableCameraRotation: false,
      defaultDrawNodeHover: (context, data) => this.#hover(context, data),
      nodeReducer: (key, data) => this.#node(key, data),
      edgeReducer: (_, data) => this.#edge(data),
    });
    this.#regions = this.#layer('regions', 'edges');
    this.#dashes = this.#layer('dashes', 'nodes');
    this.#labels = this.#layer('words', 'hovers');
    this.sigma.on('afterRender', () => this.#after());
    this.sigma.getCamera().on('updated', () => this.#resting(events));
    this.#listen(events);
  }

  /** Shows a scene; with `hold` the camera stays where it is. */
  show(scene: Scene, hold: boolean): void {
    this.#scene = scene;
    this.#colours = palette();
    const graph = this.#graph;
    graph.clear();
    for (const node of scene.nodes) graph.mergeNode(node.key, attributesOf(node));
    for (const { from, to, weight, proposed, faint } of scene.links) {
      if (proposed || !graph.hasNode(from) || !graph.hasNode(to) || graph.hasEdge(from, to))
        continue;
      graph.addEdge(from, to, {
        size: widthOf(weight),
        color: faint ? this.#colours.faint : this.#colours.line,
        from,
        to,
      });
    }
    const box = boxOf(scene);
    // The plane keeps its measure while what is on it stays within what was drawn before.
    const same = hold && this.#drawn !== undefined && within(box, this.#drawn);
    if (!same) this.#drawn = box;
    const { left, right, top, bottom } = this.#drawn ?? box;
    this.#order = ordered(scene.nodes);
    this.#nearNodes = [];
    const bounds = {
      x: [left, right] as [number, number],
      y: [-bottom, -top] as [number, number],
    };
    this.sigma.setCustomBBox(bounds);
    if (scene.dots) {
      this.#dots ??= DotLayer.over(this.sigma, {
        ink: this.#colours.ink,
        act: this.#colours.act,
      });
      const colours = scene.dots.strands.map(colourOf);
      this.#dots?.set(scene.dots, (region) => colours[region] ?? this.#colours.ink, bounds);
    } else this.#dots?.clear();
    if (!same) this.sigma.getCamera().setState({ x: 0.5, y: 0.5, angle: 0, ratio: 1 });
    this.sigma.refresh();
  }

  /** Puts further nodes on, or takes those off that `show` did not bring: entries that come near. */
  near(nodes: readonly SceneNode[], hidden: (dot: number) => number): void {
    const keys = new Set(nodes.map(({ key }) => key));
    const own = new Set(this.#scene.nodes.map(({ key }) => key));
    for (const key of this.#graph.nodes()) {
      if (!own.has(key) && !keys.has(key)) this.#graph.dropNode(key);
    }
    for (const node of nodes) {
      if (!own.has(node.key)) this.#graph.mergeNode(node.key, attributesOf(node));
    }
    this.#nearNodes = nodes;
    this.#dots?.mark(hidden);
    this.sigma.refresh();
  }

  mark(marks: Marks, dotState?: (dot: number) => number): void {
    this.#marks = marks;
    if (dotState) this.#dots?.mark(dotState);
    this.sigma.refresh({ skipIndexation: true });
  }

  /** Lines from one node to others, drawn until the next: what hangs on what is looked at. */
  lines: { from: Corner; to: Corner }[] = [];

  zoom(by: 'in' | 'out' | 'all'): void {
    const camera = this.sigma.getCamera();
    const duration = matchMedia('(prefers-reduced-motion: reduce)').matches ? 0 : 160;
    if (by === 'in') void camera.animatedZoom({ duration });
    else if (by === 'out') void camera.animatedUnzoom({ duration });
    else void camera.animatedReset({ duration });
  }

  /** Brings a place into view, y downward; nearer when `unit` pixels to a unit are asked for. */
  centre(x: number, y: number, unit?: number): void {
    const at = this.sigma.viewportToFramedGraph(this.sigma.graphToViewport({ x, y: -y }));
    const camera = this.sigma.getCamera();
    const ratio = unit === undefined ? camera.ratio : (camera.ratio * this.unit()) / unit;
    const duration = matchMedia('(prefers-reduced-motion: reduce)').matches ? 0 : 200;
    void camera.animate({ x: at.x, y: at.y, ratio }, { duration });
  }

  /** Whether a place is in view with some room round it. */
  sees(x: number, y: number): boolean {
    const at = this.sigma.graphToViewport({ x, y: -y });
    const { width, height } = this.sigma.getDimensions();
    return at.x > 30 && at.y > 30 && at.x < width - 30 && at.y < height - 30;
  }

  /** Pixels of a unit of the plane. */
  unit(): number {
    const a = this.sigma.graphToViewport({ x: 0, y: 0 });
    const b = this.sigma.graphToViewport({ x: 1, y: 0 });
    return Math.abs(b.x - a.x);
  }

  /** A point of the screen on the plane, y downward. */
  toPlane(x: number, y: number): Corner {
    const at = this.sigma.viewportToGraph({ x, y });
    return [at.x, -at.y];
  }

  kill(): void {
    clearTimeout(this.#rest);
    this.#dots?.kill();
    const canvases = this.sigma.getCanvases();
    const held = ['edges', 'nodes', 'hoverNodes'].flatMap((name) => {
      const canvas = canvases[name];
      return canvas?.getContext('webgl2') ?? canvas?.getContext('webgl') ?? [];
    });
    this.sigma.kill();
    // Browsers keep only some sixteen contexts; waiting for them to be collected loses those of maps to come.
    for (const gl of held) gl.getExtension('WEBGL_lose_context')?.loseContext();
  }

  #layer(id: string, before: string): CanvasRenderingContext2D {
    const canvas = this.sigma.createLayer<HTMLCanvasElement>(id, 'canvas', { beforeLayer: before });
    canvas.style.pointerEvents = 'none';
    return canvas.getContext('2d')!;
  }

  #node(key: string, data: Record<string, unknown>): Record<string, unknown> {
    const { chosen, lit, focus } = this.#marks;
    const out: Record<string, unknown> = { ...data, zIndex: 1 };
    const stands = chosen.has(key) || key === focus || (lit?.has(key) ?? false);
    if (lit && !stands) {
      out['color'] = this.#colours.dim;
      out['zIndex'] = 0;
    }
    if (stands) {
      out['zIndex'] = 2;
      if (lit) out['color'] = this.#colours.ink;
    }
    if (chosen.has(key) || key === focus) out['color'] = this.#colours.act;
    return out;
  }

  #edge(data: Record<string, unknown>): Record<string, unknown> {
    const { focus, lit } = this.#marks;
    const own = focus !== undefined && (data['from'] === focus || data['to'] === focus);
    if (own) return { ...data, color: this.#colours.ink, zIndex: 1 };
    return lit ? { ...data, color: this.#colours.faint } : data;
  }

  /** Under the pointer: a ring round the node and its words whole, over everything else. */
  #hover(
    context: CanvasRenderingContext2D,
    data: { x: number; y: number; size: number; label?: string | null | undefined },
  ): void {
    const half = data.size + 4;
    context.lineWidth = 2;
    context.strokeStyle = this.#colours.act;
    context.strokeRect(data.x - half, data.y - half, half * 2, half * 2);
    if (!data.label) return;
    context.font = fontOf(true);
    context.textAlign = 'left';
    const said = fitted(context, data.label, 420);
    const wide = context.measureText(said).width;
    const { width } = this.sigma.getDimensions();
    const right = data.x + half + 6;
    const x = right + wide > width ? Math.max(4, data.x - half - 6 - wide) : right;
    context.fillStyle = this.#colours.ground;
    context.fillRect(x - 4, data.y - 12, wide + 8, 24);
    context.fillStyle = this.#colours.act;
    context.fillText(said, x, data.y + 5);
  }

  /** Labels where there is room, the weightiest first; what is looked at, chosen or lit always has its own. */
  #drawLabels(context: CanvasRenderingContext2D): void {
    const { chosen, lit, focus, pinned } = this.#marks;
    const { width, height } = this.sigma.getDimensions();
    const taken = new LabelRoom(width, height);
    for (const [x, y, wide] of this.#named) taken.take(x, y, wide, 18, true);
    const grown = this.#grown(this.sigma.getCamera().ratio);
    const stands = ({ key }: SceneNode): boolean =>
      key === focus || chosen.has(key) || (lit?.has(key) ?? false);
    const draw = (node: SceneNode, force: boolean): void => {
      const at = this.sigma.graphToViewport({ x: node.x, y: -node.y });
      if (at.x < -40 || at.y < -10 || at.x > width + 40 || at.y > height + 10) return;
      context.font = fontOf(node.first ?? false);
      const kept = pinned.has(node.key) ? ' ▪' : '';
      const said = `${fitted(context, node.label, node.first ? 230 : 170)}${kept}`;
      const wide = context.measureText(said).width;
      const size = node.size * grown;
      const left = node.side === 'left';
      const right = at.x + size + 6;
      const x = left || right + wide > width ? at.x - size - 6 - wide : right;
      if (!taken.take(x, at.y - 9, wide, 18, force)) return;
      context.lineWidth = 4;
      context.strokeStyle = this.#colours.ground;
      context.strokeText(said, x, at.y + 5);
      context.fillStyle = force && !lit ? this.#colours.act : this.#colours.ink;
      context.fillText(said, x, at.y + 5);
    };
    context.lineJoin = 'round';
    context.textAlign = 'left';
    const all = [...this.#order, ...this.#nearNodes];
    let forced = 0;
    for (const node of all) {
      if (stands(node) && forced < MOST_LABELS) {
        draw(node, true);
        forced += 1;
      }
    }
    if (lit) return;
    for (const node of all) {
      if (taken.count >= MOST_LABELS) break;
      if (!stands(node)) draw(node, false);
    }
  }

  /** Glyphs of a whole journal grow as one comes near, up to their full size, so that from afar they do not cover each other. */
  #grown(ratio: number): number {
    if (!this.#scene.dots || this.#base === 0) return 1;
    return Math.max(0.4, Math.min(1, this.#base / ratio / FULL_UNIT));
  }

  #after(): void {
    const base = this.unit() * this.sigma.getCamera().ratio;
    if (Math.abs(base - this.#base) > 0.01 * base) {
      this.#base = base;
      this.sigma.scheduleRender();
    }
    this.#dots?.draw(this.sigma);
    this.#fit(this.#regions);
    this.#fit(this.#dashes);
    this.#drawRegions(this.#regions);
    this.#drawDashes(this.#dashes);
    this.#fit(this.#labels);
    this.#drawLabels(this.#labels);
  }

  #fit(context: CanvasRenderingContext2D): void {
    const { width, height } = this.sigma.getDimensions();
    const ratio = window.devicePixelRatio || 1;
    const { canvas } = context;
    if (
      canvas.width !== Math.round(width * ratio) ||
      canvas.height !== Math.round(height * ratio)
    ) {
      [canvas.width, canvas.height] = [Math.round(width * ratio), Math.round(height * ratio)];
      [canvas.style.width, canvas.style.height] = [`${width}px`, `${height}px`];
    }
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    context.clearRect(0, 0, width, height);
  }

  #drawRegions(context: CanvasRenderingContext2D): void {
    const unit = this.unit();
    this.#named = [];
    const { width, height } = this.sigma.getDimensions();
    const room = new LabelRoom(width, height);
    // In the order of dyes and sizes: where names would meet, that of the lesser strand waits until one comes nearer.
    for (const { name, x, y, radius, strand } of this.#scene.regions) {
      const at = this.sigma.graphToViewport({ x, y: -y });
      const far = radius * unit;
      if (at.x + far < 0 || at.x - far > width || at.y + far < 0 || at.y - far > height) continue;
      const look = lookOf(strand);
      context.strokeStyle = tokenColour(look.thread);
      context.lineWidth = 1.4;
      context.setLineDash(look.double ? [] : look.dash.split(' ').filter(Boolean).map(Number));
      for (const inset of look.double ? [0, 4] : [0]) {
        context.beginPath();
        context.arc(at.x, at.y, Math.max(1, far - inset), 0, 2 * Math.PI);
        context.stroke();
      }
      context.setLineDash([]);
      if (far < 26) continue;
      context.font = 'italic 400 17px "Alegreya Variable", Alegreya, Georgia, serif';
      context.textAlign = 'center';
      context.lineJoin = 'round';
      context.lineWidth = 5;
      context.strokeStyle = this.#colours.ground;
      // Over the region while that is in view, else at the top of the screen.
      const top = Math.max(20, at.y - far + 5);
      const said = fitted(context, name, Math.max(90, far * 1.8));
      const middle = Math.max(90, Math.min(width - 90, at.x));
      const wide = context.measureText(said).width;
      if (!room.take(middle - wide / 2, top - 14, wide, 18)) continue;
      this.#named.push([middle - wide / 2, top - 14, wide]);
      context.strokeText(said, middle, top);
      context.fillStyle = tokenColour(look.word);
      context.fillText(said, middle, top);
    }
  }

  #drawDashes(context: CanvasRenderingContext2D): void {
    const place = new Map(this.#scene.nodes.map(({ key, x, y }) => [key, { x, y }]));
    const line = (from: Corner, to: Corner): void => {
      const a = this.sigma.graphToViewport({ x: from[0], y: -from[1] });
      const b = this.sigma.graphToViewport({ x: to[0], y: -to[1] });
      context.beginPath();
      context.moveTo(a.x, a.y);
      context.lineTo(b.x, b.y);
      context.stroke();
    };
    context.strokeStyle = this.#colours.ink2;
    context.lineWidth = 1.4;
    context.setLineDash([5, 4]);
    for (const { from, to, proposed } of this.#scene.links) {
      const [a, b] = [place.get(from), place.get(to)];
      if (proposed && a && b) line([a.x, a.y], [b.x, b.y]);
    }
    context.setLineDash([]);
    context.lineWidth = 1.2;
    for (const { from, to } of this.lines) line(from, to);
  }

  #resting(events: MapEvents): void {
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => this.rest(events), REST_MS);
  }

  rest(events: Pick<MapEvents, 'rested'>): void {
    const { width, height } = this.sigma.getDimensions();
    const [left, top] = this.toPlane(0, 0);
    const [right, bottom] = this.toPlane(width, height);
    events.rested(this.unit(), { left, top, right, bottom });
  }

  #listen(events: MapEvents): void {
    let dragged: string | undefined;
    let far = false;
    this.sigma.on('enterNode', ({ node }) => events.over(node));
    this.sigma.on('leaveNode', () => events.over(undefined));
    this.sigma.on('downNode', ({ node }) => {
      dragged = node;
      far = false;
    });
    this.sigma.on('moveBody', ({ event, preventSigmaDefault }) => {
      if (!dragged || this.#scene.dots) return;
      preventSigmaDefault();
      far = true;
      const at = this.sigma.viewportToGraph(event);
      this.#graph.mergeNodeAttributes(dragged, { x: at.x, y: at.y });
    });
    const drop = (): void => {
      if (dragged && far) {
        const { x, y } = this.#graph.getNodeAttributes(dragged);
        events.moved(dragged, Number(x), -Number(y));
      }
      dragged = undefined;
    };
    this.sigma.on('upNode', drop);
    this.sigma.on('upStage', drop);
    this.sigma.on('clickNode', ({ node, event }) => {
      const { shiftKey = false, ctrlKey = false } = event.original as Partial<MouseEvent>;
      if (!far) events.press(node, shiftKey || ctrlKey);
    });
    this.sigma.on('clickStage', () => events.press(undefined, false));
    this.sigma.on('doubleClickNode', ({ node, preventSigmaDefault }) => {
      preventSigmaDefault();
      events.open(node);
    });
  }
}

const fontOf = (heavy: boolean): string =>
  `${heavy ? 500 : 400} ${heavy ? 16.5 : 15}px "Alegreya Variable", Alegreya, Georgia, serif`;

const within = (inner: Box, outer: Box): boolean =>
  inner.left >= outer.left - 1 &&
  inner.right <= outer.right + 1 &&
  inner.top >= outer.top - 1 &&
  inner.bottom <= outer.bottom + 1;

const ordered = (nodes: readonly SceneNode[]): SceneNode[] =>
  [...nodes].sort((a, b) => Number(b.first ?? false) - Number(a.first ?? false) || b.size - a.size);

function attributesOf({ key: _, ...node }: SceneNode): Record<string, unknown> {
  return {
    ...node,
    y: -node.y,
    color: colourOf(node.strand),
    type: 'glyph',
  };
}

function palette(): Record<'ink' | 'ink2' | 'act' | 'dim' | 'faint' | 'line' | 'ground', string> {
  return {
    ink: tokenColour('--ink'),
    ink2: tokenColour('--ink-2'),
    act: tokenColour('--act-fill'),
    dim: tokenColour('--rule'),
    // Links that only hint: what they join is told in the list.
    faint: tokenColour('--hair'),
    line: tokenColour('--rule'),
    ground: tokenColour('--ground'),
  };
}

/** As much of a text as fits a width. */
function fitted(context: CanvasRenderingContext2D, text: string, wide: number): string {
  if (context.measureText(text).width <= wide) return text;
  let end = text.length;
  while (end > 3 && context.measureText(`${text.slice(0, end)}…`).width > wide) end -= 1;
  return `${text.slice(0, end).trimEnd()}…`;
}
