import type { Composed } from '../../engine/answers';
import type { GuideView, Suggestion } from '../../engine/desk';
import type { PlanAsk } from '../../engine/planning';
import type {
  Circle,
  EntryId,
  Guide,
  GuideId,
  GuideItem,
  GuidePart,
  HeadingId,
  HeadingKind,
  Level,
  Shape,
} from '../../journal/records';
import { LEVELS } from '../../journal/records';
import type { House } from '../house.svelte';

export interface FocusPart {
  heading: HeadingId;
  name: string;
  kind: HeadingKind;
  from?: string;
  to?: string;
}

/** What a guide is for, as it is typed in the purpose. */
export interface Purpose {
  title: string;
  words: string;
  headings: FocusPart[];
  entries: EntryId[];
  circle: string;
  starts: string;
  minutes: number;
  shape: Shape;
  restMonths: number;
}

export interface At {
  part: number;
  item: number;
}

const EMPTY: Purpose = {
  title: '',
  words: '',
  headings: [],
  entries: [],
  circle: '',
  starts: '',
  minutes: 60,
  shape: 'discussion',
  restMonths: 24,
};

/**
 * A guide in the making. Every change makes a new guide and keeps it, so that undo is the journal's own; what
 * the change sets off (clock, levels, remarks, suggestions) is asked for again.
 */
export class PlanState {
  purpose = $state<Purpose>({ ...EMPTY });
  guide = $state.raw<Guide | undefined>();
  view = $state.raw<GuideView | undefined>();
  composed = $state.raw<Composed | undefined>();
  usual = $state.raw<{ name: string; minutes: number; aim?: string }[]>([]);
  circles = $state.raw<Circle[]>([]);
  suggestions = $state.raw<Suggestion[]>([]);
  chosen = $state.raw<At | undefined>();
  part = $state(0);
  composing = $state(false);
  #asked = 0;

  constructor(readonly house: House) {}

  get desk(): House['desk'] {
    return this.house.desk;
  }

  get items(): number {
    return this.guide?.parts.reduce((sum, part) => sum + part.items.length, 0) ?? 0;
  }

  get chosenItem(): GuideItem | undefined {
    const at = this.chosen;
    return at && this.guide?.parts[at.part]?.items[at.item];
  }

  /** Begins with an empty guide; the tray and a heading may already be in its purpose. */
  async fresh(heading?: HeadingId): Promise<void> {
    this.guide = undefined;
    this.view = undefined;
    this.composed = undefined;
    this.chosen = undefined;
    this.suggestions = [];
    await this.lists();
    const circle = this.circles.length === 1 ? this.circles[0]!.id : '';
    this.purpose = { ...EMPTY, headings: [], entries: [...this.house.tray], circle };
    if (heading) await this.addHeading(heading);
    await this.shapeChanged();
  }

  async open(id: GuideId): Promise<boolean> {
    await this.lists();
    const guide = await this.desk.guide(id);
    if (!guide) return false;
    this.guide = guide;
    this.purpose = await this.#purposeOf(guide);
    await this.shapeChanged();
    await this.refresh();
    return true;
  }

  async lists(): Promise<void> {
    this.circles = await this.desk.circles();
  }

  async #purposeOf(guide: Guide): Promise<Purpose> {
    const names = new Map(
      (await this.desk.headings('', undefined, 100_000)).map((one) => [one.id, one]),
    );
    return {
      title: guide.title,
      words: guide.focus.words.join(', '),
      headings: guide.focus.headings.flatMap((part) => {
        const found = names.get(part.heading);
        return found ? [{ ...part, name: found.name, kind: found.kind }] : [];
      }),
      entries: guide.focus.entries,
      circle: guide.circle ?? '',
      starts: guide.starts ?? '',
      minutes: guide.minutes,
      shape: guide.shape,
      restMonths: guide.restMonths ?? 24,
    };
  }

  async addHeading(id: HeadingId): Promise<void> {
    if (this.purpose.headings.some((part) => part.heading === id)) return;
    const view = await this.desk.heading(id);
    if (!view) return;
    this.purpose.headings = [
      ...this.purpose.headings,
      { heading: id, name: view.heading.name, kind: view.heading.kind },
    ];
  }

  async shapeChanged(): Promise<void> {
    this.usual = await this.desk.usualParts(this.purpose.shape, this.purpose.minutes);
  }

  get hasFocus(): boolean {
    const { words, headings, entries } = this.purpose;
    return words.trim() !== '' || headings.length > 0 || entries.length > 0;
  }

  /** What to compose from: the purpose, and the guide with what was touched by hand. */
  get ask(): PlanAsk {
    const { title, words, headings, entries, circle, starts, minutes, shape, restMonths } =
      $state.snapshot(this.purpose);
    const again = this.guide;
    const sameShape = again && again.shape === shape && again.minutes === minutes;
    return {
      focus: {
        words: words
          .split(',')
          .map((part) => part.trim())
          .filter(Boolean),
        headings: headings.map(({ heading, from, to }) => ({
          heading,
          ...(from ? { from } : {}),
          ...(to ? { to } : {}),
        })),
        entries,
      },
      minutes,
      shape,
      restMonths,
      ...(circle ? { circle: circle as Circle['id'] } : {}),
      ...(starts ? { starts } : {}),
      ...(title.trim() ? { title: title.trim() } : {}),
      ...(again?.aims ? { aims: again.aims } : {}),
      ...(again ? { again } : {}),
      ...(sameShape
        ? {
            parts: again.parts.map((part) => ({
              name: part.name,
              minutes: part.minutes,
              ...(part.aim ? { aim: part.aim } : {}),
            })),
          }
        : {}),
    };
  }

  async compose(): Promise<void> {
    this.composing = true;
    const composed = await this.desk.compose(this.ask);
    this.composing = false;
    const placed = composed.answer.parts.some((part) => part.items.length > 0);
    if (composed.candidates === 0) {
      this.house.say('Nothing in the journal is near that yet. Try other words, or a wider focus.');
      return;
    }
    this.composed = composed;
    const first = !this.guide;
    const aims = new Map(this.usual.map((part) => [part.name, part.aim]));
    const parts = composed.guide.parts.map((part) => ({
      ...part,
      aim: part.aim ?? aims.get(part.name) ?? '',
    }));
    const guide = { ...composed.guide, parts };
    if (!this.purpose.title.trim()) this.purpose.title = guide.title;
    await this.keep(guide, first ? undefined : 'Composed again');
    if (!placed)
      this.house.say(
        'Too little is near that to make a meeting of. What there is stands among the suggestions.',
      );
    if (first) {
      if (this.house.tray.length > 0) this.house.emptyTray();
      history.replaceState(null, '', `#/plan/guide/${guide.id}`);
      this.house.route = { place: 'plan', open: 'guide', id: guide.id };
    }
  }

  /** Keeps a changed guide and asks again for what depends on it. */
  async keep(guide: Guide, said?: string): Promise<void> {
    this.guide = guide;
    const done = await this.desk.saveGuide(guide);
    if (!done.ok) this.house.say(done.said);
    else if (said) this.house.say(said, true);
    await this.refresh();
  }

  /** After an undo or a change elsewhere. */
  async reload(): Promise<void> {
    if (!this.guide) return;
    const guide = await this.desk.guide(this.guide.id);
    if (guide && JSON.stringify(guide) !== JSON.stringify(this.guide)) {
      this.guide = guide;
      this.purpose = await this.#purposeOf(guide);
      await this.refresh();
    }
  }

  async refresh(): Promise<void> {
    const guide = this.guide;
    if (!guide) return;
    const asked = ++this.#asked;
    const view = await this.desk.guideView(guide);
    if (asked !== this.#asked) return;
    this.view = view;
    const at = this.chosen;
    const beside = this.chosenItem?.entry;
    const suggestions = await this.desk.suggest({
      plan: this.ask,
      guide,
      ...(at || this.part >= 0 ? { part: guide.parts[at?.part ?? this.part]?.name ?? '' } : {}),
      ...(beside ? { beside } : {}),
      limit: 20,
    });
    if (asked === this.#asked) this.suggestions = suggestions;
  }

  /** Looks at a part: suggestions are for it. */
  choosePart(part: number): void {
    if (this.part === part && !this.chosen) return;
    this.chosen = undefined;
    this.part = part;
    void this.refresh();
  }

  /** Looks at the guide as a whole. */
  whole(): void {
    this.chosen = undefined;
    this.part = -1;
    void this.refresh();
  }

  choose(at: At | undefined): void {
    this.chosen = at;
    if (at) this.part = at.part;
    void this.refresh();
  }

  #change(alter: (parts: GuidePart[]) => void, said?: string): Promise<void> {
    if (!this.guide) return Promise.resolve();
    const parts = structuredClone(this.guide.parts);
    alter(parts);
    return this.keep({ ...this.guide, parts }, said);
  }

  #changeItem(at: At, change: Partial<GuideItem>, said?: string): Promise<void> {
    return this.#change((parts) => {
      const item = parts[at.part]?.items[at.item];
      if (item) parts[at.part]!.items[at.item] = { ...item, ...change, fixed: true };
    }, said);
  }

  minutes(at: At, minutes: number): void {
    void this.#changeItem(at, { minutes: Math.max(1, Math.min(240, Math.round(minutes))) });
  }

  must(at: At, must: boolean): void {
    void this.#changeItem(at, { must });
  }

  /** The next level, from the first after the sixth. */
  nextLevel(at: At): void {
    const held = this.view?.parts[at.part]?.items[at.item]?.level;
    const next = LEVELS[(held ? LEVELS.indexOf(held) + 1 : 0) % LEVELS.length]!;
    void this.#changeItem(at, { level: next });
  }

  level(at: At, level: Level): void {
    void this.#changeItem(at, { level });
  }

  cue(at: At, cue: string): void {
    void this.#changeItem(at, { cue: cue.trim() || undefined });
  }

  /** The wording for this guide only; the journal keeps its own. */
  wording(at: At, text: string): void {
    void this.#changeItem(at, { text: text.trim() || undefined });
  }

  move(at: At, step: number): void {
    if (!this.guide) return;
    const to = this.#target(at, step);
    if (!to) return;
    void this.#change((parts) => {
      const [item] = parts[at.part]!.items.splice(at.item, 1);
      parts[to.part]!.items.splice(to.item, 0, { ...item!, fixed: true });
    });
    this.chosen = to;
    this.part = to.part;
  }

  #target(at: At, step: number): At | undefined {
    const parts = this.guide!.parts;
    const to = at.item + step;
    if (to >= 0 && to < parts[at.part]!.items.length) return { part: at.part, item: to };
    const part = at.part + step;
    if (part < 0 || part >= parts.length) return undefined;
    return { part, item: step < 0 ? parts[part]!.items.length : 0 };
  }

  #drops = new Map<number, { items: GuideItem[]; settled: () => void }>();

  /**
   * A drag has left this part with these items. A drag between parts tells both; the order is kept once, when
   * the turn is over.
   */
  dropped(part: number, items: GuideItem[], settled: () => void): void {
    this.#drops.set(part, { items, settled });
    if (this.#drops.size > 1) return;
    setTimeout(() => {
      const drops = [...this.#drops];
      this.#drops.clear();
      this.chosen = undefined;
      void this.#change((parts) => {
        for (const [index, drop] of drops) {
          parts[index]!.items = drop.items.map((item) => ({ ...item, fixed: true }));
        }
      }).then(() => drops.forEach(([, drop]) => drop.settled()));
    }, 0);
  }

  takeOut(at: At, refuse = false): void {
    const item = this.guide?.parts[at.part]?.items[at.item];
    if (!this.guide || !item) return;
    const parts = structuredClone(this.guide.parts);
    parts[at.part]!.items.splice(at.item, 1);
    const refused =
      refuse && item.entry ? [...(this.guide.refused ?? []), item.entry] : this.guide.refused;
    const left = parts[at.part]!.items.length;
    this.chosen = left > 0 ? { part: at.part, item: Math.min(at.item, left - 1) } : undefined;
    void this.keep(
      { ...this.guide, parts, ...(refused ? { refused } : {}) },
      refuse ? 'Not this time' : 'Taken out',
    );
  }

  async putIn(suggestion: Suggestion): Promise<void> {
    await this.add({
      entry: suggestion.entry,
      minutes: suggestion.minutes,
      must: false,
      fixed: true,
    });
  }

  /** Adds after the chosen item, or at the end of the part in hand. */
  async add(item: GuideItem): Promise<void> {
    const last = (this.guide?.parts.length ?? 1) - 1;
    const part = this.part >= 0 ? this.part : Math.max(0, last - 1);
    const at: At = this.chosen
      ? { part: this.chosen.part, item: this.chosen.item + 1 }
      : { part, item: this.guide?.parts[part]?.items.length ?? 0 };
    await this.#change((parts) => parts[at.part]?.items.splice(at.item, 0, item));
  }

  async refuse(entry: EntryId): Promise<void> {
    if (!this.guide) return;
    await this.keep(
      { ...this.guide, refused: [...(this.guide.refused ?? []), entry] },
      'Not this time',
    );
  }

  renamePart(part: number, name: string): void {
    if (name.trim()) void this.#change((parts) => (parts[part]!.name = name.trim()));
  }

  partMinutes(part: number, minutes: number): void {
    void this.#change((parts) => (parts[part]!.minutes = Math.max(0, Math.round(minutes))));
  }

  aim(level: Level, minutes: number): void {
    if (!this.guide) return;
    void this.keep({
      ...this.guide,
      aims: { ...this.guide.aims, [level]: Math.max(0, Math.round(minutes)) },
    });
  }

  /** The purpose changed: what it says goes on the guide, and only what depends on it is told anew. */
  async purposeChanged(): Promise<void> {
    await this.shapeChanged();
    if (!this.guide) return;
    const { title, starts, circle, restMonths, focus } = this.ask;
    const next: Guide = {
      ...this.guide,
      focus,
      title: title ?? this.guide.title,
      restMonths: restMonths ?? 24,
    };
    if (circle) next.circle = circle;
    else delete next.circle;
    if (starts) next.starts = starts;
    else delete next.starts;
    await this.keep(next);
  }
}
