/** New ids that name the document their entry will lie in, so that no document of a busy month grows without end. */
import type { Change } from '../journal/edits';
import { monthOf, rolled, rolledId, ROLL_AT, ROLLS, shardOf } from '../keep/shards';

export class EntryIds {
  /** Entries by document: those there are, and those an id was given out for. */
  #counts = new Map<string, number>();
  /** Ids given out and not written yet, with the document each was counted in. */
  #given = new Map<string, string>();

  /** `id` as it should be: with the number of the first document of its month that has room for another entry. */
  next(id: string): string {
    const month = monthOf(rolledId(id, 0));
    const shards = Array.from({ length: ROLLS }, (_, roll) => rolled(month, roll));
    const counts = shards.map((shard) => this.#counts.get(shard) ?? 0);
    const room = counts.findIndex((count) => count < ROLL_AT);
    const roll = room >= 0 ? room : counts.indexOf(Math.min(...counts));
    const given = rolledId(id, roll);
    const shard = shardOf('entries', given);
    this.#given.set(given, shard);
    this.#add(shard, 1);
    return given;
  }

  /** Follows the rows as they become: what was removed or undone makes room again. */
  wrote(changes: readonly Change[]): void {
    for (const { table, id, before, after } of changes) {
      const given = this.#given.get(id);
      if (given !== undefined) {
        this.#given.delete(id);
        this.#add(given, -1);
      }
      if (table !== 'entries' || !before === !after) continue;
      this.#add(shardOf('entries', id), after ? 1 : -1);
    }
  }

  clear(): void {
    this.#counts.clear();
    this.#given.clear();
  }

  #add(shard: string, by: number): void {
    this.#counts.set(shard, Math.max(0, (this.#counts.get(shard) ?? 0) + by));
  }
}
