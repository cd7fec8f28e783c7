import type { Point, ThingSaid } from '../../engine/weave-answers';
import { snippet } from '../parts/lit';

interface Standing {
  whole: boolean;
  roots: ThingSaid[];
  opened: string[];
  pruned: string[];
  pinned: Readonly<Record<string, Point>>;
}

/** Where a map stands: round something or over the whole journal, with what is opened, taken off and kept in place; steps lead back to where it stood. */
export class MapStanding {
  standing = $state.raw<Standing>({ whole: true, roots: [], opened: [], pruned: [], pinned: {} });
  protected past: Standing[] = [];
  steps = $state(0);

  get isWhole(): boolean {
    return this.standing.whole;
  }

  get title(): string {
    const { whole, roots } = this.standing;
    if (whole) return 'The whole journal';
    const [first] = roots;
    if (!first) return '';
    return roots.length === 1
      ? `Around ${snippet(first.text, [], 70).text}`
      : `Around ${roots.length} chosen`;
  }

  /** Goes to another standing; the one before can be stepped back to. */
  protected go(next: Partial<Standing>): void {
    this.past.push(this.standing);
    this.steps = this.past.length;
    this.standing = { ...this.standing, ...next };
  }

  protected stepBack(): boolean {
    const last = this.past.pop();
    this.steps = this.past.length;
    if (last) this.standing = last;
    return last !== undefined;
  }

  open(id: string): void {
    const { opened, roots } = this.standing;
    if (roots.some((root) => root.id === id) || opened.includes(id)) return;
    this.go({ opened: [...opened, id] });
  }

  /** What stands in the middle is called as the journal now calls it, and what it has no more stands there no more: round nothing, the map is whole. */
  protected follow(now: readonly ThingSaid[]): void {
    const { roots } = this.standing;
    const there = roots.flatMap(({ id }) => now.find((thing) => thing.id === id) ?? []);
    const same =
      there.length === roots.length && there.every(({ text }, at) => text === roots[at]!.text);
    if (!same) this.standing = { ...this.standing, roots: there, whole: there.length === 0 };
  }
}
