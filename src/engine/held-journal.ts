/**
 * The journal in memory with what every sitting asks of it: finding, what is near, edits with their undo. It keeps the indexes in step with
 * each edit; it stores nothing and draws nothing. What is asked seldom stands in {@link Engine} and in the parts of the desk.
 */
import { FindIndex } from '../find/find-index';
import type { FindQuery } from '../find/query';
import { apply, type Change, type Edit } from '../journal/edits';
import type { EntryId, HeadingId, Journal } from '../journal/records';
import { checkJournal, type Problem } from '../journal/rules';
import type { RelatedWords } from '../language/related-words';
import { WeaveIndex } from '../weave/weave-index';
import type { FindResult, NearHit, TiedResult } from './answers';
import type { Core, Surroundings } from './core';
import { findResult } from './finding';
import { lineageOf } from './head';
import { History, type Applied } from './history';
import { laterThanCopies } from './lineage';
import { broughtToNow } from './step-now';
import { nearResult, tiedResult, type NearAsk } from './weaving';

export class HeldJournal implements Core {
  readonly history = new History();
  revision = 0;
  #find?: FindIndex;
  #weave?: WeaveIndex;
  #thesaurus?: RelatedWords;
  #ties: number | undefined;
  #numbers: Map<string, number> | undefined;

  constructor(
    readonly journal: Journal,
    readonly around: Surroundings,
  ) {}

  /** The full-text index, built when first asked for. */
  get findIndex(): FindIndex {
    return (this.#find ??= new FindIndex(this.journal, this.#thesaurus));
  }

  /** Related words of English, once they are loaded; until then only the journal's own headings tell what is related. */
  useRelatedWords(thesaurus: RelatedWords): void {
    this.#thesaurus = thesaurus;
    if (this.#find) this.#find.thesaurus = thesaurus;
    if (this.#weave) this.#weave.thesaurus = thesaurus;
  }

  /** The graph of the journal, built when first asked for. */
  get weaveIndex(): WeaveIndex {
    return (this.#weave ??= new WeaveIndex(this.journal, this.#thesaurus));
  }

  /** Ties in the whole journal; counted once, then kept up. */
  tieCount(): number {
    if (this.#ties === undefined) {
      this.#ties = 0;
      for (const entry of this.journal.tables.entries.values()) this.#ties += entry.ties.length;
    }
    return this.#ties;
  }

  /** An entry's number by the order of adding, from 1; ids rise with time. */
  numberOf(id: EntryId): number {
    if (!this.#numbers) {
      this.#numbers = new Map(
        [...this.journal.tables.entries.keys()].sort().map((one, at) => [one, at + 1]),
      );
    }
    return this.#numbers.get(id) ?? 0;
  }

  nowIso(): string {
    return this.around.now().toISOString();
  }

  find(query: FindQuery): FindResult {
    return findResult(this, query);
  }

  near(ask: NearAsk): NearHit[] {
    return nearResult(this, ask);
  }

  tied(heading: HeadingId, options: { narrower?: boolean; kinds?: string[] } = {}): TiedResult {
    return tiedResult(this, heading, options);
  }

  check(): Problem[] {
    return checkJournal(this.journal);
  }

  /** Applies an edit, keeps its inverse for undo, and lets the indexes follow. */
  apply(edit: Edit): Applied {
    const now = laterThanCopies(lineageOf(this.journal), this.around.now());
    const done = apply(this.journal, timed(edit, now));
    if (!done.ok) return done;
    this.history.did(edit.does, done.inverse);
    this.#follow(done.inverse);
    return { ok: true, does: edit.does, edit: reversed(done.inverse) };
  }

  /** Takes back the newest edit that still stands. Answers what was changed, so that it can be stored. */
  undo(): Applied {
    return this.#step(this.history.toUndo(), (inverse) => this.history.undid(inverse));
  }

  redo(): Applied {
    return this.#step(this.history.toRedo(), (inverse) => this.history.redid(inverse));
  }

  /** Rows that come from elsewhere (the store while it loads, another window): held and indexed, not undoable. */
  take(edit: Edit): Applied {
    const done = apply(this.journal, edit, { unchecked: true });
    if (!done.ok) return done;
    this.#follow(done.inverse);
    return { ok: true, does: edit.does, edit };
  }

  #step(edit: Edit | undefined, note: (inverse: Edit) => void): Applied {
    if (!edit)
      return { ok: false, code: 'nothing-to-undo', message: 'There is nothing to take back.' };
    const now = broughtToNow(this.journal, edit);
    if (!now.ok) return now;
    const done = apply(this.journal, now.edit);
    if (!done.ok) return done;
    note(done.inverse);
    this.#follow(done.inverse);
    return { ok: true, does: edit.does, edit: reversed(done.inverse) };
  }

  /** Brings the built indexes up to the rows an edit has touched. */
  #follow(inverse: Edit): void {
    this.revision += 1;
    for (const change of inverse.changes) {
      const { table, id } = change;
      if (change.table === 'entries') {
        if (!change.before !== !change.after) this.#numbers = undefined;
        if (this.#ties !== undefined) {
          // The inverse's `before` is how the row now is, its `after` how it was.
          this.#ties += (change.before?.ties.length ?? 0) - (change.after?.ties.length ?? 0);
        }
      }
      if (table === 'meetings') this.#find?.meetingsChanged();
      if (table === 'headings') {
        const row = this.journal.tables.headings.get(id);
        if (row) {
          this.#find?.putHeading(row);
          this.#weave?.putHeading(row);
        } else {
          this.#find?.removeHeading(id as HeadingId);
          this.#weave?.removeHeading(id as HeadingId);
        }
      } else if (table === 'entries') {
        const row = this.journal.tables.entries.get(id);
        if (row) {
          this.#find?.put(row);
          this.#weave?.put(row);
        } else {
          this.#find?.remove(id as EntryId);
          this.#weave?.remove(id as EntryId);
        }
      }
    }
  }
}

/** The edit with its time on every row it changes; entries have theirs already. */
const timed = (edit: Edit, changed: string): Edit => ({
  ...edit,
  changes: edit.changes.map((change) =>
    change.table !== 'entries' && change.before && change.after
      ? ({ ...change, after: { ...change.after, changed } } as Change)
      : change,
  ),
});

/** The edit that an inverse takes back, with rows as they really became. */
function reversed(inverse: Edit): Edit {
  const changes = inverse.changes
    .map((change) => ({ ...change, before: change.after, after: change.before }))
    .reverse();
  return { does: inverse.does, changes: changes as Edit['changes'] };
}
