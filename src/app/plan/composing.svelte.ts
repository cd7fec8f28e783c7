import type { Composed, Standing } from '../../engine/answers';
import type { GuideView, Suggestion } from '../../engine/desk';
import type { PlanAsk } from '../../engine/planning';
import type {
  Circle,
  EntryId,
  Guide,
  GuideId,
  GuideItem,
  HeadingId,
  Level,
} from '../../journal/records';
import { saysSame } from '../../journal/same';
import type { House } from '../house.svelte';
import * as edits from './guide-edits';
import { focusOf, purposeOf, type Purpose } from './purpose';
import { taken } from './put-by';

type At = edits.At;
/** How long nothing may change before the guide is weighed against the best there can be. */
const STANDING_AFTER = 700;

/**
 * A guide and what it is composed from. Every change makes a new guide and keeps it, so that undo is the journal's
 * own; what the change sets off (clock, levels, remarks, suggestions) is asked for again.
 */
export class Composing {
  purpose = $state<Purpose>(purposeOf());
  guide = $state.raw<Guide | undefined>();
  view = $state.raw<GuideView | undefined>();
  composed = $state.raw<Composed | undefined>();
  usual = $state.raw<{ name: string; minutes: number; aim?: string }[]>([]);
  circles = $state.raw<Circle[]>([]);
  suggestions = $state.raw<Suggestion[]>([]);
  chosen = $state.raw<At | undefined>();
  part = $state(0);
  composing = $state(false);
  /** On small screens the purpose folds to a line once there is a guide. */
  unfolded = $state(false);
  /** Suggestions are being looked for. */
  looking = $state(false);
  /** How near the best the guide stands; missing while that is not known. */
  standing = $state.raw<Standing | undefined>();
  /** A level and part for which frames of questions are asked for. */
  frames = $state.raw<{ part: number; level: Level } | undefined>();
  #asked = 0;
  #viewing: Promise<unknown> = Promise.resolve();
  #keeping = 0;
  /** The title as made from the focus, which goes on following the focus until it is changed by hand. */
  #ownTitle = '';
  #weighed = '';
  #weighing: ReturnType<typeof setTimeout> | undefined;
  /** What was put by as this guide was begun, and is no more once the guide is kept. */
  #taken: readonly EntryId[] = [];

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
    this.#noGuide();
    this.part = 0;
    this.#ownTitle = '';
    this.#taken = this.house.tray;
    // What is typed while the circles are asked for stays.
    this.purpose = { ...purposeOf(), entries: [...this.#taken] };
    await this.lists();
    await this.#leaveGone();
    if (this.circles.length === 1 && !this.purpose.circle)
      this.purpose.circle = this.circles[0]!.id;
    if (heading) await this.addHeading(heading);
    await this.shapeChanged();
  }

  #noGuide(): void {
    this.guide = undefined;
    this.view = undefined;
    this.composed = undefined;
    this.standing = undefined;
    this.chosen = undefined;
    this.suggestions = [];
  }

  /** Entries put by that the journal no longer has are not planned from; composing waits for those that still come. */
  async #leaveGone(): Promise<void> {
    if (this.house.totals?.loading !== 0) return;
    const { there, done } = await taken(this.house, this.#taken);
    const left = new Set(there);
    this.purpose.entries = this.purpose.entries.filter((id) => left.has(id));
    this.#taken = done;
  }

  async open(id: GuideId): Promise<boolean> {
    await this.lists();
    const guide = await this.desk.guide(id);
    if (!guide) return false;
    this.composed = undefined;
    this.standing = undefined;
    this.chosen = undefined;
    this.part = 0;
    this.guide = guide;
    this.purpose = await this.#purposeOf(guide);
    this.#ownTitle = '';
    this.#weighed = '';
    await this.shapeChanged();
    await this.refresh();
    this.#weigh();
    return true;
  }

  async lists(): Promise<void> {
    this.circles = await this.desk.circles();
  }

  async #purposeOf(guide: Guide): Promise<Purpose> {
    const names = await this.desk.headings('', undefined, 100_000);
    return purposeOf(guide, names);
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
    this.usual = await this.desk.planning.usualParts(this.purpose.shape, this.purpose.minutes);
  }

  /** What to compose from: the purpose, and the guide with what was touched by hand. */
  get ask(): PlanAsk {
    const purpose = $state.snapshot(this.purpose);
    const { circle, starts, minutes, shape, restMonths } = purpose;
    const title = purpose.title.trim() === this.#ownTitle ? '' : purpose.title.trim();
    const again = this.guide;
    const sameShape = again && again.shape === shape;
    const { title: _title, ...untitled } = again ?? { title: '' };
    return {
      focus: focusOf(purpose),
      minutes,
      shape,
      restMonths,
      ...(circle ? { circle: circle as Circle['id'] } : {}),
      ...(starts ? { starts } : {}),
      ...(title ? { title } : {}),
      ...(again?.aims ? { aims: again.aims } : {}),
      ...(again ? { again: title ? again : (untitled as Guide) } : {}),
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
    if (this.composing) return;
    this.composing = true;
    const [before, route, ask] = [this.guide, this.house.route, this.ask];
    let composed: Composed;
    try {
      composed = await this.desk.planning.compose(ask);
    } catch (error) {
      this.house.say(`It could not be composed: ${(error as Error).message}`);
      return;
    } finally {
      this.composing = false;
    }
    if (this.guide !== before) {
      this.house.say(
        'It was altered while it was composed, and what you altered stays. Compose again to go on from that.',
      );
      return;
    }
    const placed = composed.answer.parts.some((part) => part.items.length > 0);
    if (composed.candidates === 0) {
      this.house.say(
        this.house.totals?.entries === 0
          ? 'The journal holds nothing to compose from yet. Gather notes, or write the first entry.'
          : 'Nothing in the journal is near that yet. Try other words, or a wider focus.',
      );
      return;
    }
    this.composed = composed;
    this.#without(ask.focus.entries, composed.guide.focus.entries);
    const first = !this.guide;
    const aims = new Map(this.usual.map((part) => [part.name, part.aim]));
    const parts = composed.guide.parts.map((part) => ({
      ...part,
      aim: part.aim ?? aims.get(part.name) ?? '',
    }));
    const guide = { ...composed.guide, parts };
    if (this.purpose.title.trim() === this.#ownTitle) {
      this.purpose.title = guide.title;
      this.#ownTitle = guide.title;
    }
    this.chosen = undefined;
    this.standing = composed.answer.objective;
    this.#weighed = edits.worthKey(guide);
    const kept = await this.keep(guide, first ? undefined : 'Composed again');
    await this.shapeChanged();
    if (!kept) {
      if (first && this.guide === guide) this.#noGuide();
      return;
    }
    if (!placed)
      this.house.say(
        this.purpose.circle
          ? 'Too little is near that and has rested. What there is stands among the suggestions.'
          : 'Too little is near that to make a meeting of. What there is stands among the suggestions.',
      );
    if (first) {
      if (this.#taken.length > 0) this.house.emptyTray(this.#taken);
      this.#taken = [];
      // Who has gone elsewhere meanwhile is left there.
      if (this.house.route !== route) {
        this.house.say(`${guide.title} is composed, and stands among the guides in Plan.`);
        return;
      }
      history.replaceState(null, '', `#/plan/guide/${guide.id}`);
      this.house.route = { place: 'plan', open: 'guide', id: guide.id };
    }
  }

  /** Of the entries that were asked for, those that are not in the guide's purpose have gone: they go from what is typed too. */
  #without(asked: readonly EntryId[], named: readonly EntryId[]): void {
    const left = new Set(named);
    const gone = new Set(asked.filter((id) => !left.has(id)));
    if (gone.size > 0) this.purpose.entries = this.purpose.entries.filter((id) => !gone.has(id));
  }

  /** Keeps a changed guide and asks again for what depends on it; answers whether it was kept. */
  async keep(guide: Guide, said?: string): Promise<boolean> {
    this.guide = guide;
    this.#keeping += 1;
    const saving = this.desk.saveGuide(guide);
    const refreshed = this.refresh();
    const done = await saving;
    this.#keeping -= 1;
    if (!done.ok) this.house.say(done.said);
    else if (said) this.house.say(said, true);
    await refreshed;
    this.#weigh();
    return done.ok;
  }

  /** Weighs the guide against the best there can be, once the hands rest. */
  #weigh(): void {
    clearTimeout(this.#weighing);
    const guide = this.guide;
    const key = guide ? edits.worthKey(guide) : '';
    if (!guide || key === this.#weighed) return;
    this.standing = undefined;
    this.#weighing = setTimeout(async () => {
      const found = await this.desk.planning.standing(this.ask, guide);
      if (this.guide !== guide) return;
      this.standing = found;
      this.#weighed = key;
    }, STANDING_AFTER);
  }

  /** Everything has come from the store: what was weighed and suggested so far was from less. */
  async allThere(): Promise<void> {
    this.#weighed = '';
    await this.refresh();
    this.#weigh();
  }

  /** After an undo or a change elsewhere; what is being kept just now is not asked back for. */
  async reload(): Promise<void> {
    if (!this.guide || this.#keeping > 0) return;
    const guide = await this.desk.guide(this.guide.id);
    if (!this.guide || this.#keeping > 0) return;
    if (guide && !saysSame(guide, this.guide)) {
      this.guide = guide;
      this.purpose = await this.#purposeOf(guide);
      await this.refresh();
      this.#weigh();
      return;
    }
    // Another wording in the journal, or entries still coming from the store, show here too.
    const asked = this.#asked;
    const view = await this.desk.planning.guideView(this.guide);
    if (asked === this.#asked) this.view = view;
  }

  async refresh(): Promise<void> {
    const guide = this.guide;
    if (!guide) return;
    const asked = ++this.#asked;
    this.looking = true;
    this.#viewing = this.desk.planning.guideView(guide);
    const view = (await this.#viewing) as GuideView;
    if (asked !== this.#asked) return;
    this.view = view;
    const at = this.chosen;
    const beside = this.chosenItem?.entry;
    const suggestions = await this.desk.planning.suggest({
      plan: this.ask,
      guide,
      ...(at || this.part >= 0 ? { part: guide.parts[at?.part ?? this.part]?.name ?? '' } : {}),
      ...(beside ? { beside } : {}),
      limit: 20,
    });
    if (asked !== this.#asked) return;
    this.suggestions = suggestions;
    this.looking = false;
  }

  /** When the guide is shown as it is now, with no change still on its way. */
  async viewed(): Promise<void> {
    for (let asked = -1; asked !== this.#asked;) {
      asked = this.#asked;
      await this.#viewing;
    }
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

  /** Takes the entries put by in Find into the purpose; they come in as musts when it is composed again. */
  async takeTray(): Promise<void> {
    const { there, done } = await taken(this.house, this.house.tray);
    const before = this.purpose.entries;
    this.purpose.entries = [...new Set([...before, ...there])];
    if (await this.purposeChanged()) this.house.emptyTray(done);
    else this.purpose.entries = before;
  }

  /** The purpose changed: what it says goes on the guide, and only what depends on it is told anew. Answers whether a guide has it now. */
  async purposeChanged(): Promise<boolean> {
    await this.shapeChanged();
    const held = this.guide;
    if (!held) return false;
    const { title, starts, circle, restMonths, focus, minutes, shape } = this.ask;
    const next: Guide = {
      ...held,
      focus,
      title: title ?? (this.purpose.title.trim() || held.title),
      restMonths: restMonths ?? 24,
    };
    if (minutes !== undefined && minutes !== held.minutes && shape === held.shape) {
      const like = { minutes: held.minutes, parts: held.parts };
      const parts = await this.desk.planning.usualParts(shape, minutes, like);
      next.minutes = minutes;
      next.parts = held.parts.map((part, at) => ({
        ...part,
        minutes: parts[at]?.minutes ?? part.minutes,
      }));
    }
    if (circle) next.circle = circle;
    else delete next.circle;
    if (starts) next.starts = starts;
    else delete next.starts;
    return this.guide === held && (await this.keep(next));
  }
}
