/** A map drawn by WebGL: sigma draws nodes, links and labels; dots, regions and dashed links lie on layers of their own under it. */
import { UndirectedGraph } from 'graphology';
import Sigma from 'sigma';
import { EdgeRectangleProgram } from 'sigma/rendering';
import { DotLayer } from './dot-layer';
import { glyphAtlas } from './glyph-atlas';
import { glyphProgram } from './glyph-program';
import { attributesOf, graphOf, ordered, proposedOf } from './map-graph';
import { drawHover, drawLabels, drawRegions, palette, type Marks, type View } from './map-words';
import { boxOf, colourOf, type Box, type Corner, type Scene, type SceneNode } from './map-scene';

interface MapEvents {
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

export class MapDrawing {
  readonly sigma: Sigma;
  #graph = new UndirectedGraph();
  #scene: Scene = { nodes: [], links: [], regions: [] };
  #marks: Marks = { chosen: new Set(), pinned: new Set() };
  #dots: DotLayer | undefined;
  /** By what the dots were marked last. */
  #dotState: ((dot: number) => number) | undefined;
  #regions: CanvasRenderingContext2D;
  #dashes: CanvasRenderingContext2D;
  #labels: CanvasRenderingContext2D;
  /** Nodes in the order in which they get their labels. */
  #order: SceneNode[] = [];
  #nearNodes: readonly SceneNode[] = [];
  /** Ends of the ties that are only proposed. */
  #proposed: [Corner, Corner][] = [];
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
      defaultDrawNodeHover: (context, data) =>
        drawHover(context, data, this.sigma.getDimensions().width, this.#colours),
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
    const box = boxOf(scene);
    // The plane keeps its measure while what is on it stays within what was drawn before.
    const same = hold && this.#drawn !== undefined && within(box, this.#drawn);
    if (!same) this.#drawn = box;
    const { left, right, top, bottom } = this.#drawn ?? box;
    this.#order = ordered(scene.nodes);
    this.#proposed = proposedOf(scene);
    this.#nearNodes = [];
    const bounds = {
      x: [left, right] as [number, number],
      y: [-bottom, -top] as [number, number],
    };
    this.sigma.setCustomBBox(bounds);
    // A whole graph at once: put into one that is drawn, each node would be told of by itself.
    this.#graph = graphOf(scene, this.#colours);
    this.#dotState = undefined;
    if (scene.dots) {
      this.#dots ??= DotLayer.over(this.sigma, this.#colours);
      if (this.#dots) this.#dots.colours = this.#colours;
      const colours = scene.dots.strands.map(colourOf);
      this.#dots?.set(scene.dots, (region) => colours[region] ?? this.#colours.ink, bounds);
    } else this.#dots?.clear();
    if (!same) this.sigma.getCamera().setState({ x: 0.5, y: 0.5, angle: 0, ratio: 1 });
    this.sigma.setGraph(this.#graph);
  }

  /** Puts further nodes on, or takes those off that `show` did not bring: entries that come near. */
  near(nodes: readonly SceneNode[], hidden: (dot: number) => number): void {
    const keys = new Set(nodes.map(({ key }) => key));
    const own = new Set(this.#scene.nodes.map(({ key }) => key));
    for (const key of this.#graph.nodes()) {
      if (!own.has(key) && !keys.has(key)) this.#graph.dropNode(key);
    }
    for (const node of nodes) {
      if (!own.has(node.key))
        this.#graph.mergeNode(node.key, attributesOf(node, colourOf(node.strand)));
    }
    this.#nearNodes = nodes;
    this.#markDots(hidden);
    this.sigma.refresh();
  }

  /** Sets how nodes look, and dots where `dotState` is given; where only some looks change, only those nodes are asked again. */
  mark(marks: Marks, dotState?: (dot: number) => number): void {
    const before = this.#marks;
    this.#marks = marks;
    if (dotState) this.#markDots(dotState);
    if (before.lit !== marks.lit) {
      this.sigma.refresh({ skipIndexation: true });
      return;
    }
    const changed = new Set<string>();
    for (const key of before.chosen) if (!marks.chosen.has(key)) changed.add(key);
    for (const key of marks.chosen) if (!before.chosen.has(key)) changed.add(key);
    const looked = [before.focus, marks.focus].filter((key) => key !== undefined);
    for (const key of looked) changed.add(key);
    const graph = this.#graph;
    this.sigma.refresh({
      partialGraph: {
        nodes: [...changed].filter((key) => graph.hasNode(key)),
        edges: looked.flatMap((key) => (graph.hasNode(key) ? graph.edges(key) : [])),
      },
      skipIndexation: true,
    });
  }

  #markDots(state: (dot: number) => number): void {
    if (state === this.#dotState) return;
    this.#dotState = state;
    this.#dots?.mark(state);
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
    this.#fit(this.#labels);
    const named = drawRegions(
      this.#regions,
      this.#labels,
      this.#scene.regions,
      this.#view(),
      this.#colours.ground,
    );
    this.#drawDashes(this.#dashes);
    const nodes = [...this.#order, ...this.#nearNodes];
    drawLabels(this.#labels, nodes, this.#view(), this.#marks, this.#colours, named);
  }

  #view(): View {
    return {
      ...this.sigma.getDimensions(),
      unit: this.unit(),
      grown: this.#grown(this.sigma.getCamera().ratio),
      at: (x, y) => this.sigma.graphToViewport({ x, y: -y }),
    };
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

  #drawDashes(context: CanvasRenderingContext2D): void {
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
    for (const [from, to] of this.#proposed) line(from, to);
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

const within = (inner: Box, outer: Box): boolean =>
  inner.left >= outer.left - 1 &&
  inner.right <= outer.right + 1 &&
  inner.top >= outer.top - 1 &&
  inner.bottom <= outer.bottom + 1;
