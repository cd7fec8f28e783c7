import type { GuideView, ItemView } from '../../engine/desk';
import type { CircleId, Guide, Meeting, MeetingItem } from '../../journal/records';
import { dayOf, forgetRun, holdRun, isEarlier, readRun, type HeldRun, type Mark } from './run-held';

/** One thing in the meeting. `id` stays the same when the guide is opened again, so that marks find their item. */
export interface Running {
  id: string;
  item: ItemView;
  part: string;
  /** A spare reached for: it has no time of its own in the plan. */
  spare: boolean;
}

/**
 * A meeting while it runs. What happens is stored as it happens, so that a closed lid loses nothing, and each
 * step is handed to `onstep`, which keeps it in the journal.
 */
export class RunState {
  at = $state(0);
  begun = $state(0);
  order = $state.raw<Running[]>([]);
  marks = $state<Record<string, Mark>>({});
  note = $state('');
  circle = $state('');
  now = $state(Date.now());
  meeting = $state.raw<string | undefined>();
  readonly parts: GuideView['parts'];
  readonly guide: Guide;
  #all = new Map<string, Running>();
  #earlier = $state.raw<HeldRun | undefined>();
  #since = 0;
  onstep: () => void = () => undefined;

  constructor(guide: Guide, view: GuideView) {
    this.guide = guide;
    this.parts = view.parts;
    this.circle = guide.circle ?? '';
    const own = view.parts.flatMap((part) =>
      part.items.map((item) => this.#known(item, part.name, false)),
    );
    for (const item of view.spare) this.#known(item, 'Spare', true);
    this.order = own;
    const held = readRun(guide.id);
    if (held && isEarlier(Math.max(held.begun, held.since), this.now)) this.#earlier = held;
    else if (held) this.#takeUp(held);
  }

  #known(item: ItemView, part: string, spare: boolean): Running {
    const name = nameOf(item);
    let id = name;
    for (let again = 2; this.#all.has(id); again += 1) id = `${name} ${again}`;
    const running = { id, item, part, spare };
    this.#all.set(id, running);
    return running;
  }

  /** The same things told anew, as when the store has only now handed out their entries. */
  retell(view: GuideView): void {
    const items = [...view.parts.flatMap((part) => part.items), ...view.spare];
    const told = new Map(items.map((item) => [nameOf(item), item]));
    for (const [id, one] of this.#all) {
      const item = told.get(id);
      if (item) this.#all.set(id, { ...one, item });
    }
    this.order = this.order.map(({ id }) => this.#all.get(id)!);
  }

  /** Goes on with what was stored. A guide altered meanwhile keeps its new order; marks stay with their items. */
  #takeUp(held: HeldRun): void {
    const own = this.order;
    const before = held.order.filter((id) => !this.#all.get(id)?.spare);
    const same = before.length === own.length && own.every(({ id }, at) => before[at] === id);
    if (same) this.order = held.order.flatMap((id) => this.#all.get(id) ?? []);
    this.begun = held.begun;
    this.#since = held.since;
    this.marks = held.marks;
    this.note = held.note;
    this.circle = held.circle || this.circle;
    this.meeting = held.meeting;
    const at = this.order.findIndex(({ id }) => id === held.at);
    this.at = at >= 0 ? at : held.at === '' ? this.order.length : 0;
  }

  /** The day of a meeting that was begun earlier and not brought to its end; nothing begins until it is decided upon. */
  get earlier(): string | undefined {
    return this.#earlier && dayOf(this.#earlier.begun);
  }

  goOn(): void {
    if (!this.#earlier) return;
    this.#takeUp(this.#earlier);
    this.#earlier = undefined;
    // The time between was spent on nothing.
    this.#since = this.now = Date.now();
    this.#store();
  }

  /** What the journal has of the earlier meeting stays there. */
  beginAnew(): void {
    this.#earlier = undefined;
    this.forget();
  }

  /** Starts the clock; answers how to stop it. */
  tick(): () => void {
    const timer = setInterval(() => (this.now = Date.now()), 1000);
    return () => clearInterval(timer);
  }

  begin(): void {
    if (this.#earlier) return;
    this.begun = this.#since = this.now = Date.now();
    this.#store();
  }

  get current(): Running | undefined {
    return this.order[this.at];
  }

  get next(): Running | undefined {
    return this.order[this.at + 1];
  }

  get mark(): Mark | undefined {
    return this.current && this.marks[this.current.id];
  }

  /** Spares not yet reached for. */
  get spares(): Running[] {
    const placed = new Set(this.order.map(({ id }) => id));
    return [...this.#all.values()].filter(({ id, spare }) => spare && !placed.has(id));
  }

  /** Seconds spent on the item in hand. */
  get spent(): number {
    if (this.begun === 0) return 0;
    const here = Math.max(0, Math.round((this.now - this.#since) / 1000));
    return (this.mark?.seconds ?? 0) + here;
  }

  get spentSaid(): string {
    return `${Math.floor(this.spent / 60)}.${String(this.spent % 60).padStart(2, '0')}`;
  }

  get nowSaid(): string {
    return clockOf(this.now);
  }

  /** Minutes of the plan that lie before an item; spares take none of it. */
  planned(before: number): number {
    return this.order
      .slice(0, before)
      .reduce((sum, { item, spare }) => sum + (spare ? 0 : item.minutes), 0);
  }

  get gone(): number {
    return this.begun === 0 ? 0 : Math.max(0, (this.now - this.begun) / 60_000);
  }

  /** Minutes behind the plan (negative: in hand): time gone, against what should be done by now. */
  get lateMinutes(): number {
    if (this.begun === 0) return 0;
    const planned = this.planned(this.at);
    const allowed = this.planned(this.at + 1);
    if (this.gone > allowed) return Math.ceil(this.gone - allowed);
    return this.gone < planned ? -Math.floor(planned - this.gone) : 0;
  }

  /** When it would end if all that is left took its minutes, and when it is meant to. */
  get ends(): { would: string; meant: string } {
    const left = this.order
      .slice(this.at)
      .reduce((sum, { item }, k) => sum + (k === 0 ? this.#leftOf(item) : item.minutes), 0);
    const meant = (this.begun || this.now) + this.guide.minutes * 60_000;
    return { would: clockOf(this.now + left * 60_000), meant: clockOf(meant) };
  }

  #leftOf(item: ItemView): number {
    return Math.max(0, item.minutes - this.spent / 60);
  }

  /** The first item of the last part that has any; -1 where that has begun. */
  get closing(): number {
    const last = this.parts.findLast((part) => part.items.length > 0)?.name;
    const first = this.order.findIndex(({ part, spare }) => !spare && part === last);
    return first > this.at ? first : -1;
  }

  #alter(change: Partial<Mark>): void {
    const { current } = this;
    if (!current) return;
    this.marks[current.id] = { used: true, seconds: 0, ...this.marks[current.id], ...change };
  }

  /** What is said of the item in hand; it counts as asked. */
  say(change: Pick<Mark, 'went'> | Pick<Mark, 'note'>): void {
    this.typed(change);
    this.onstep();
  }

  /** The same while it is still being typed: held, and no step yet. */
  typed(change: Pick<Mark, 'went'> | Pick<Mark, 'note'>): void {
    this.#alter(change);
    this.#store();
  }

  sayOfAll(note: string): void {
    this.typedOfAll(note);
    this.onstep();
  }

  typedOfAll(note: string): void {
    this.note = note;
    this.#store();
  }

  #go(to: number): void {
    const mark = this.mark;
    if (mark) mark.seconds = this.spent;
    this.#since = this.now = Date.now();
    this.at = Math.max(0, Math.min(this.order.length, to));
    this.#store();
  }

  back(): void {
    if (this.at > 0) this.#go(this.at - 1);
  }

  done(): void {
    if (this.begun === 0) this.begin();
    if (!this.current || this.begun === 0) return;
    this.#alter({ used: true });
    this.#go(this.at + 1);
    this.onstep();
  }

  skip(): void {
    if (!this.current) return;
    this.#alter({ used: false });
    this.#go(this.at + 1);
    this.onstep();
  }

  /** Straight to the closing; what lies between is left out, but for what was already asked. */
  toClosing(): void {
    const to = this.closing;
    if (to < 0) return;
    this.#go(to);
    this.onstep();
  }

  /** A spare is asked next. */
  reachFor(id: string): void {
    const spare = this.#all.get(id);
    if (!spare) return;
    const at = Math.min(this.order.length, this.at + 1);
    this.order = [...this.order.slice(0, at), spare, ...this.order.slice(at)];
    this.#store();
  }

  /** The meeting as it has gone so far; undefined while there is no circle to keep it for. */
  asMeeting(): (Omit<Meeting, 'id'> & { id?: string }) | undefined {
    if (!this.circle) return undefined;
    const items = this.order.map(({ id, item }): MeetingItem => {
      const mark = this.marks[id];
      return {
        ...(item.entry ? { entry: item.entry } : { text: item.text }),
        used: mark?.used ?? false,
        ...(mark?.seconds ? { minutes: Math.max(1, Math.round(mark.seconds / 60)) } : {}),
        ...(mark?.went ? { went: mark.went } : {}),
        ...(mark?.note?.trim() ? { note: mark.note.trim() } : {}),
      };
    });
    return {
      ...(this.meeting ? { id: this.meeting } : {}),
      guide: this.guide.id,
      circle: this.circle as CircleId,
      on: dayOf(this.begun || Date.now()),
      items,
      ...(this.note.trim() ? { note: this.note.trim() } : {}),
    };
  }

  keptAs(id: string | undefined): void {
    if (!id || this.meeting === id) return;
    this.meeting = id;
    this.#store();
  }

  #store(): void {
    holdRun(this.guide.id, {
      ...(this.meeting ? { meeting: this.meeting } : {}),
      circle: this.circle,
      begun: this.begun,
      at: this.current?.id ?? '',
      since: this.#since,
      order: this.order.map(({ id }) => id),
      marks: $state.snapshot(this.marks),
      note: this.note,
    });
  }

  forget(): void {
    forgetRun(this.guide.id);
  }
}

/** What an item is known by from one opening of the guide to the next. */
const nameOf = (item: ItemView): string => item.entry ?? `words ${item.text}`;

function clockOf(time: number): string {
  const at = new Date(time);
  return `${at.getHours()}.${String(at.getMinutes()).padStart(2, '0')}`;
}
