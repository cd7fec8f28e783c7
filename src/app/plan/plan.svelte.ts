import type { Suggestion } from '../../engine/desk';
import { LEVELS, type EntryId, type GuideItem, type Level } from '../../journal/records';
import { Composing } from './composing.svelte';
import * as edits from './guide-edits';

type At = edits.At;

/** A guide in the making: what is composed, and every edit by hand. */
export class PlanState extends Composing {
  /** Wordings not finished yet, by guide and item, so that none comes to another item when they change places. */
  rewording = $state<Record<string, string>>({});

  async #changeItem(at: At, change: Partial<GuideItem>): Promise<void> {
    if (this.guide) await this.keep(edits.changeItem(this.guide, at, change));
  }

  minutes(at: At, minutes: number): void {
    void this.#changeItem(at, { minutes: Math.max(1, Math.min(240, Math.round(minutes))) });
  }

  must(at: At, must: boolean): void {
    void this.#changeItem(at, must ? { must, ifTime: undefined } : { must });
  }

  /** Asked if time allows: then it is no must. */
  ifTime(at: At, ifTime: boolean): void {
    void this.#changeItem(at, ifTime ? { ifTime, must: false } : { ifTime: undefined });
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

  due(at: At, due: string): void {
    void this.#changeItem(at, { due: due.trim() || undefined });
  }

  /** The wording for this guide only; the journal keeps its own. Without words, the journal's own comes back. */
  wording(at: At, text: string | undefined): void {
    void this.#changeItem(at, { text: text?.trim() || undefined });
  }

  move(at: At, step: number): void {
    const to = this.guide && edits.stepFrom(this.guide, at, step);
    if (!this.guide || !to) return;
    this.chosen = to;
    this.part = to.part;
    void this.keep(edits.moveItem(this.guide, at, to));
  }

  #drops = new Map<number, { items: GuideItem[]; settled: () => void }>();

  /**
   * A drag has left this part with these items. A drag between parts tells both; the order is kept once, when
   * the turn is over. Only what was dragged counts as set by hand.
   */
  dropped(part: number, items: GuideItem[], settled: () => void): void {
    this.#drops.set(part, { items, settled });
    if (this.#drops.size > 1) return;
    setTimeout(() => {
      const drops = [...this.#drops];
      this.#drops.clear();
      this.chosen = undefined;
      let guide = this.guide;
      for (const [index, drop] of drops)
        if (guide) guide = edits.changePart(guide, index, { items: drop.items });
      const kept = guide ? this.keep(guide) : Promise.resolve();
      void kept.then(() => drops.forEach(([, drop]) => drop.settled()));
    }, 0);
  }

  takeOut(at: At, how: 'away' | 'spare' | 'aside' = 'away'): void {
    if (!this.guide?.parts[at.part]?.items[at.item]) return;
    const guide = edits.takeOut(this.guide, at, how);
    const left = guide.parts[at.part]!.items.length;
    this.chosen = left > 0 ? { part: at.part, item: Math.min(at.item, left - 1) } : undefined;
    const said = { away: 'Taken out', spare: 'Held ready as a spare', aside: 'Not this time' };
    void this.keep(guide, said[how]);
  }

  /** After the chosen item, or at the end of the part in hand; before the closing where no part is. */
  get #here(): At {
    if (this.chosen) return { part: this.chosen.part, item: this.chosen.item + 1 };
    const last = (this.guide?.parts.length ?? 1) - 1;
    const part = this.part >= 0 ? Math.min(this.part, last) : Math.max(0, last - 1);
    return { part, item: this.guide?.parts[part]?.items.length ?? 0 };
  }

  async putIn({ entry, minutes }: Suggestion): Promise<void> {
    await this.add({ entry, minutes, must: false, fixed: true });
  }

  async add(item: GuideItem): Promise<void> {
    if (this.guide) await this.keep(edits.putIn(this.guide, this.#here, item));
  }

  fromSpare(index: number): void {
    if (this.guide) void this.keep(edits.fromSpare(this.guide, index, this.#here));
  }

  dropSpare(index: number): void {
    if (this.guide) void this.keep(edits.dropSpare(this.guide, index), 'No longer held ready');
  }

  async holdReady({ entry, minutes }: Suggestion): Promise<void> {
    if (!this.guide) return;
    const guide = edits.asSpare(this.guide, { entry, minutes, must: false });
    await this.keep(guide, 'Held ready as a spare');
  }

  async refuse(entry: EntryId): Promise<void> {
    if (this.guide) await this.keep(edits.putAside(this.guide, entry), 'Not this time');
  }

  letIn(entry: EntryId): void {
    if (this.guide) void this.keep(edits.letIn(this.guide, entry));
  }

  renamePart(part: number, name: string): void {
    if (this.guide && name.trim())
      void this.keep(edits.changePart(this.guide, part, { name: name.trim() }));
  }

  partMinutes(part: number, minutes: number): void {
    if (!this.guide || !Number.isFinite(minutes)) return;
    const whole = Math.max(0, Math.min(600, Math.round(minutes)));
    void this.keep(edits.changePart(this.guide, part, { minutes: whole }));
  }

  addPart(): void {
    if (!this.guide) return;
    this.part = Math.max(0, this.guide.parts.length - 1);
    this.chosen = undefined;
    void this.keep(edits.addPart(this.guide, 'Another part', 5));
  }

  removePart(index: number): void {
    if (!this.guide) return;
    this.part = Math.max(0, index - 1);
    this.chosen = undefined;
    void this.keep(edits.removePart(this.guide, index), 'Part taken out');
  }

  aim(level: Level, minutes: number): void {
    if (!this.guide) return;
    const aims = { ...this.guide.aims, [level]: Math.max(0, Math.round(minutes)) };
    void this.keep({ ...this.guide, aims });
  }

  /** What the leader's copy says of the whole: the objective, and what to prepare or remember. */
  says(what: 'objective' | 'note', text: string): void {
    if (!this.guide) return;
    const { [what]: _old, ...rest } = this.guide;
    void this.keep(text.trim() ? { ...rest, [what]: text.trim() } : rest);
  }
}
