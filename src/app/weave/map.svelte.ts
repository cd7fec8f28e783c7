import type { Desk } from '../../engine/desk';
import type {
  AroundView,
  JournalMap,
  KeptStrands,
  MapEntry,
  MapWithin,
  Point,
  Span,
  StrandShown,
  ThingSaid,
} from '../../engine/weave-answers';
import { HEADING_KINDS, type EntryId, type TieRole } from '../../journal/records';
import { DOT } from './dot-layer';
import { aroundScene } from './map-around';
import { entriesMeant } from './map-chosen';
import { MapLit } from './map-lit.svelte';
import { MapStanding } from './map-standing.svelte';
import { inside, towards, type Corner, type Scene, type SceneNode } from './map-scene';
import {
  entryNodes,
  entryNumbers,
  keysOn,
  shownDots,
  shownHeadings,
  shownIn,
  wholeScene,
  type MapKind,
} from './map-whole';

/** Entries are drawn as glyphs with words when a unit is this many pixels and no more of them are in view. */
const NEAR_UNIT = 9;
const MOST_NEAR = 700;

/** A map as it is looked at: round something or the whole journal, what is opened, taken off, kept in place, lit and chosen. */
export class MapState extends MapStanding {
  kinds = $state.raw<readonly MapKind[]>(HEADING_KINDS);
  roles = $state.raw<readonly TieRole[] | undefined>();
  strand = $state.raw<string | undefined>();
  view = $state.raw<AroundView | undefined>();
  whole = $state.raw<JournalMap | undefined>();
  /** What of the whole journal lies in a stretch of time or is tied in a role, where that is asked for. */
  within = $state.raw<MapWithin | undefined>();
  scene = $state.raw<Scene | undefined>();
  /** Grows when the camera should show all anew. */
  fresh = $state(0);
  laying = $state(false);
  chosen = $state.raw<ReadonlySet<string>>(new Set());
  focus = $state<string | undefined>();
  near = $state.raw<ReadonlyMap<string, MapEntry>>(new Map());
  #turn = 0;
  #strands: ReadonlyMap<string, StrandShown> = new Map();

  /** The whole map that was looked at before the journal changed: what is chosen is told by its numbers. */
  #before: JournalMap | undefined;
  /** The journal has changed since things were chosen around something. */
  #changed = false;

  constructor(
    readonly desk: Desk,
    readonly lit = new MapLit(desk),
  ) {
    super();
  }

  /** Looked at in the same way, with nothing shown yet. */
  anew(): MapState {
    const { standing, kinds, roles, strand, chosen, focus, steps } = this;
    const looked = { standing, kinds, roles, strand, chosen, focus, steps };
    const next = Object.assign(new MapState(this.desk, this.lit), looked);
    next.past = this.past;
    next.#before = this.whole ?? this.#before;
    next.#changed = true;
    return next;
  }

  back(): boolean {
    const stepped = this.stepBack();
    if (!this.standing.whole) this.lit.out();
    return stepped;
  }

  around(roots: ThingSaid[]): void {
    this.go({ whole: false, roots, opened: [], pruned: [], pinned: {} });
    this.chosen = new Set();
    this.lit.out();
    this.focus = roots[0]?.id;
    this.scene = undefined;
  }

  wholeJournal(): void {
    this.go({ whole: true });
    this.#letGo();
  }

  #letGo(): void {
    this.chosen = new Set();
    this.focus = undefined;
    this.scene = undefined;
  }

  /** Takes nodes off, with what hangs on them alone; what stands in the middle stays. */
  prune(ids: readonly string[]): void {
    const roots = new Set(this.standing.roots.map(({ id }) => id));
    const off = ids.filter((id) => !roots.has(id));
    if (off.length === 0) return;
    this.go({
      pruned: [...this.standing.pruned, ...off],
      opened: this.standing.opened.filter((id) => !off.includes(id)),
    });
    this.chosen = new Set();
    if (this.focus && off.includes(this.focus)) this.focus = this.standing.roots[0]?.id;
  }

  /** Keeps a node where it is, or where it was dragged to; without a place, lets it go or keeps it as it lies. */
  pin(id: string, at?: Point): void {
    const { [id]: held, ...rest } = this.standing.pinned;
    const node = this.node(id);
    const place = at ?? (held ? undefined : node && { x: node.x, y: node.y });
    this.go({ pinned: place ? { ...rest, [id]: place } : rest });
  }

  /** Asks for what the map is to show, lays it, and hands it over when it has come to rest. */
  async ask(span: Span, kept: KeptStrands, strands: readonly StrandShown[]): Promise<void> {
    const turn = ++this.#turn;
    this.#strands = new Map(strands.map((strand) => [strand.id, strand]));
    this.laying = true;
    const scene = this.standing.whole
      ? await this.#wholeScene(span, kept, turn)
      : await this.#aroundScene(span, kept, turn);
    if (turn !== this.#turn || !scene) return;
    this.laying = false;
    if (!this.scene) this.fresh += 1;
    this.scene = scene;
  }

  async #aroundScene(span: Span, kept: KeptStrands, turn: number): Promise<Scene | undefined> {
    const { roots, opened, pruned, pinned } = this.standing;
    const ids = roots.map(({ id }) => id);
    const view = await this.desk.weave.neighbourhood({
      ...{ roots: ids, opened, pruned, span, kept },
      kinds: [...this.kinds],
      ...(this.roles ? { roles: [...this.roles] } : {}),
      ...(this.strand ? { strands: [this.strand] } : {}),
    });
    if (turn !== this.#turn) return undefined;
    const scene = await aroundScene(view, ids, pinned, this.#strands);
    if (turn !== this.#turn || !scene) return undefined;
    this.view = view;
    this.follow(view.nodes);
    if (this.standing.whole) {
      this.#letGo();
      return this.#wholeScene(span, kept, turn);
    }
    if (this.#changed) {
      const there = new Set(view.nodes.map(({ id }) => id));
      this.chosen = new Set([...this.chosen].filter((id) => there.has(id)));
    }
    this.#changed = false;
    return scene;
  }

  async #wholeScene(span: Span, kept: KeptStrands, turn: number): Promise<Scene | undefined> {
    const whole = await this.desk.weave.journalMap(kept);
    const roles = this.roles && [...this.roles];
    const within =
      span.from || span.to || roles
        ? await this.desk.weave.mapWithin(whole.made, { span, ...(roles ? { roles } : {}) })
        : undefined;
    const last = this.whole ?? this.#before;
    const moved =
      last && last.made !== whole.made
        ? await this.desk.weave.mapMoved(last.made, whole.made)
        : undefined;
    if (turn !== this.#turn) return undefined;
    this.whole = whole;
    this.within = within;
    if (last && moved) this.#goOver(last, whole, moved);
    return wholeScene(whole, this, within);
  }

  /** Numbers belong to one map: what is chosen, looked at and lit goes over to the one that took its place. */
  #goOver(last: JournalMap, whole: JournalMap, moved: Int32Array): void {
    this.near = new Map();
    this.chosen = new Set(keysOn(this.chosen, last, whole, moved));
    if (this.focus !== undefined) [this.focus] = keysOn([this.focus], last, whole, moved);
    this.lit.follow(last, whole, moved);
  }

  /** Headings of the whole journal that are shown, with how many entries they have within what is asked for. */
  headings = $derived.by((): JournalMap['headings'] =>
    this.whole ? shownHeadings(this.whole, this, this.within) : [],
  );

  /** Entries shown of the whole journal, by region. */
  counts = $derived.by((): number[] => {
    const { whole } = this;
    return whole ? shownIn(whole, shownDots(whole, this, this.within)) : [];
  });

  /**
   * What a dot is just now: hidden where its entry is drawn as a glyph or is filtered away, chosen, lit by a search, or plain. Another function
   * whenever that changes, and only then.
   */
  dotState = $derived.by((): ((dot: number) => number) => {
    const { whole, near } = this;
    if (!whole) return () => DOT.plain;
    const lit = new Set(this.lit.on(whole)?.entries);
    const close = new Set([...near.values()].map((entry) => entry.number));
    const chosen = new Set(entryNumbers(this.chosen));
    const shown = shownDots(whole, this, this.within);
    return (dot) => {
      if (close.has(dot) || !shown(dot)) return DOT.hidden;
      if (chosen.has(dot)) return DOT.chosen;
      return lit.has(dot) ? DOT.lit : DOT.plain;
    };
  });

  /** As one comes near, asks for the entries in view. */
  async comeNear(
    unit: number,
    view: { left: number; top: number; right: number; bottom: number },
  ): Promise<SceneNode[]> {
    const { whole } = this;
    if (!whole || !this.standing.whole) return [];
    const at: number[] = [];
    const shown = shownDots(whole, this, this.within);
    if (unit >= NEAR_UNIT) {
      for (let dot = 0; dot < whole.regionOf.length && at.length <= MOST_NEAR; dot++) {
        const [x, y] = [whole.places[dot * 2]!, whole.places[dot * 2 + 1]!];
        if (x < view.left || x > view.right || y < view.top || y > view.bottom) continue;
        if (shown(dot)) at.push(dot);
      }
    }
    const few = at.length <= MOST_NEAR ? at : [];
    const rows = few.length === 0 ? [] : await this.desk.weave.mapEntries(whole.made, few);
    this.near = new Map(rows.map((row) => [`e:${row.number}`, row]));
    return entryNodes(whole, rows, unit);
  }

  /** Keys of headings that a search lights up; on entries see `dotState`. */
  litKeys = $derived.by((): ReadonlySet<string> | undefined => {
    const { whole } = this;
    const hits = whole && this.lit.on(whole);
    if (!hits || !this.standing.whole) return undefined;
    const there = new Set(this.headings.map(({ id }) => id));
    const headings = hits.headings
      .map((at) => whole.headings[at]!.id)
      .filter((id) => there.has(id));
    const shown = shownDots(whole, this, this.within);
    return new Set<string>([...headings, ...hits.entries.filter(shown).map((at) => `e:${at}`)]);
  });

  node(key: string | undefined): { key: string; x: number; y: number } | undefined {
    const found = this.scene?.nodes.find((node) => node.key === key);
    if (found) return found;
    const entry = key === undefined ? undefined : this.near.get(key);
    const { whole } = this;
    if (!entry || !whole || key === undefined) return undefined;
    const at = entry.number * 2;
    return { key, x: whole.places[at]!, y: whole.places[at + 1]! };
  }

  /** What stands at a node, as it is told. */
  thing(key: string | undefined): ThingSaid | undefined {
    if (key === undefined) return undefined;
    const entry = this.near.get(key);
    if (entry) return entry;
    if (!this.standing.whole) return this.view?.nodes.find(({ id }) => id === key);
    const heading = this.whole?.headings.find(({ id }) => id === key);
    return heading && { id: heading.id, type: 'heading', kind: heading.kind, text: heading.name };
  }

  /** Focus goes to the nearest node in a direction; with `extend` both it and where it came from are chosen. */
  step(direction: readonly [number, number], extend: boolean): void {
    const nodes = [
      ...(this.scene?.nodes ?? []),
      ...[...this.near.keys()].flatMap((key) => this.node(key) ?? []),
    ];
    const from = this.node(this.focus) ?? nodes[0];
    if (!from) return;
    const to = this.focus === undefined ? from.key : towards(nodes, from, direction);
    if (to === undefined) return;
    if (extend) this.chosen = new Set([...this.chosen, from.key, to]);
    this.focus = to;
  }

  choose(key: string | undefined, more: boolean): void {
    if (key === undefined) {
      if (!more) this.chosen = new Set();
      return;
    }
    this.focus = key;
    if (!more) return;
    const next = new Set(this.chosen);
    if (!next.delete(key)) next.add(key);
    this.chosen = next;
  }

  /** Chooses all that lies inside a line drawn round it. */
  lasso(polygon: readonly Corner[]): number {
    const next = new Set(this.chosen);
    for (const { key, x, y } of this.scene?.nodes ?? []) {
      if (inside(x, y, polygon)) next.add(key);
    }
    const { whole } = this;
    if (whole && this.standing.whole) {
      const shown = shownDots(whole, this, this.within);
      for (let dot = 0; dot < whole.regionOf.length; dot++) {
        const [x, y] = [whole.places[dot * 2]!, whole.places[dot * 2 + 1]!];
        if (shown(dot) && inside(x, y, polygon)) next.add(`e:${dot}`);
      }
    }
    this.chosen = next;
    return next.size;
  }

  /** The entries that what is chosen stands for; see `entriesMeant`. */
  chosenEntries(): Promise<EntryId[]> {
    const things = [...this.chosen].flatMap((key) =>
      key.startsWith('e:') ? [] : (this.thing(key) ?? []),
    );
    return entriesMeant(this.desk, things, this.whole, entryNumbers(this.chosen));
  }
}
