/** What narrows a search, and how many entries each value would leave. */
import type { CircleId, HeadingId } from '../journal/records';
import { ENTRY_KINDS } from '../journal/records';
import { readDate } from '../language/dates';
import type { Facets } from './answer';
import { kindName, ROW_NAMES, type Columns, type FacetRow } from './columns';
import type { Facts, Used } from './documents';
import type { FindQuery } from './query';

/** Uses by document; the others were never used. */
type UsedDocs = ReadonlyMap<number, Used>;

const REST_SHOWN_MONTHS = 24;

/** Which of the narrowing rows an entry passes, one bit each. */
const PASS = { kind: 1, theme: 2, book: 4, person: 8, when: 16, use: 32 } as const;
export const ALL = 63;

/** The ISO day so many months before another. */
function monthsBefore(isoDay: string, months: number): string {
  const [year, month, day] = isoDay.slice(0, 10).split('-').map(Number) as [number, number, number];
  const at = year * 12 + (month - 1) - months;
  const last = new Date(Date.UTC(Math.floor(at / 12), (at % 12) + 1, 0)).getUTCDate();
  return `${String(Math.floor(at / 12)).padStart(4, '0')}-${String((at % 12) + 1).padStart(2, '0')}-${String(Math.min(day, last)).padStart(2, '0')}`;
}

/** Makes a test of which rows an entry passes, or none where nothing narrows. Dates that cannot be read leave that row open. */
export function passer(
  query: FindQuery,
  today: string,
  used: UsedDocs,
): ((facts: Facts, doc: number) => number) | undefined {
  const { kinds: some, themes, books: of, people, from: after, to: before, use } = query;
  if (
    !some?.length &&
    !themes?.length &&
    !of?.length &&
    !people?.length &&
    !after &&
    !before &&
    !use
  )
    return undefined;
  const kinds = query.kinds?.length ? new Set<string>(query.kinds) : undefined;
  const books = query.books?.length ? new Set(query.books) : undefined;
  const from = boundOf(query.from, 'earliest');
  const to = boundOf(query.to, 'latest');
  const rested =
    query.use?.restedMonths === undefined ? undefined : monthsBefore(today, query.use.restedMonths);
  return (facts, doc) => {
    let mask = 0;
    if (!kinds || kinds.has(facts.kind)) mask |= PASS.kind;
    if (!query.themes?.length || query.themes.every((id) => facts.themes.includes(id)))
      mask |= PASS.theme;
    if (!books || facts.books.some((id) => books.has(id))) mask |= PASS.book;
    if (!query.people?.length || query.people.every((id) => facts.people.includes(id)))
      mask |= PASS.person;
    if (within(facts, from, to)) mask |= PASS.when;
    if (!query.use || usePasses(used.get(doc), query.use, rested)) mask |= PASS.use;
    return mask;
  };
}

function boundOf(edtf: string | undefined, which: 'earliest' | 'latest'): string | undefined {
  if (!edtf) return undefined;
  const read = readDate(edtf);
  return read.ok ? read.date[which] : undefined;
}

function within(facts: Facts, from: string | undefined, to: string | undefined): boolean {
  if (!from && !to) return true;
  if (!facts.earliest && !facts.latest) return false;
  // An end that is open or not known may lie anywhere.
  if (from && facts.latest && facts.latest < from) return false;
  return !(to && facts.earliest && facts.earliest > to);
}

function usePasses(
  used: Used | undefined,
  use: NonNullable<FindQuery['use']>,
  rested: string | undefined,
): boolean {
  if (!used) return !use.used;
  if (use.never) return false;
  if (use.unusedWith && used.circles.has(use.unusedWith)) return false;
  return !(rested && used.last > rested);
}

/**
 * Counts entries in each row whose own choice it may ignore: kinds and books are alternatives, so their row counts
 * what the others leave; themes and people narrow together, so theirs count what all leave.
 */
export class FacetCount {
  readonly #kinds = new Int32Array(ENTRY_KINDS.length);
  readonly #headings: Int32Array;
  readonly #years: Int32Array;
  #open = 0;
  #used = 0;
  #tired = 0;
  #with = new Map<CircleId, number>();
  readonly #restedBy: string;

  constructor(
    readonly columns: Columns,
    readonly circles: readonly CircleId[],
    today: string,
    readonly used: UsedDocs,
  ) {
    this.#restedBy = monthsBefore(today, REST_SHOWN_MONTHS);
    this.#headings = new Int32Array(columns.headings.length);
    this.#years = new Int32Array(columns.years.length);
  }

  add(doc: number, mask: number): void {
    const { columns } = this;
    if ((mask | PASS.kind) === ALL) this.#kinds[columns.kindOf(doc)]! += 1;
    if ((mask | PASS.book) === ALL) columns.count(doc, this.#headings, mask !== ALL);
    if ((mask | PASS.when) === ALL) {
      const year = columns.yearOf(doc);
      if (year >= 0) this.#years[year]! += 1;
    }
    if ((mask | PASS.use) !== ALL) return;
    this.#open += 1;
    this.#addUse(doc);
  }

  /** Adds documents that pass in every row. */
  addAll(docs: Int32Array): void {
    this.columns.countAll(docs, this.#kinds, this.#headings, this.#years);
    this.#open += docs.length;
    if (this.used.size > 0) for (const doc of docs) this.#addUse(doc);
  }

  #addUse(doc: number): void {
    const used = this.used.get(doc);
    if (!used) return;
    this.#used += 1;
    if (used.last > this.#restedBy) this.#tired += 1;
    for (const circle of used.circles) this.#with.set(circle, (this.#with.get(circle) ?? 0) + 1);
  }

  /** From which count on a value of each row is told, and of those with just that count how many. */
  #leastTold(most: number): Record<FacetRow, { count: number; room: number }> {
    const of = (row: FacetRow): { count: number; room: number } => {
      const counts = this.#headings
        .filter((count, number) => count > 0 && ROW_NAMES[this.columns.rows[number]!] === row)
        .sort();
      if (counts.length <= most) return { count: 1, room: Infinity };
      const count = counts.at(-most)!;
      const over = counts.length - 1 - counts.lastIndexOf(count);
      return { count, room: most - over };
    };
    return { theme: of('theme'), book: of('book'), person: of('person') };
  }

  /** Of each row of headings at most so many values, the most counted; all where it is not said. */
  told(most = Infinity): Facets {
    const { columns } = this;
    const rows: Record<FacetRow, Record<string, number>> = { theme: {}, book: {}, person: {} };
    const values = { theme: 0, book: 0, person: 0 };
    const least = this.#leastTold(most);
    const last: Record<FacetRow, HeadingId[]> = { theme: [], book: [], person: [] };
    this.#headings.forEach((count, number) => {
      if (count === 0) return;
      const row = ROW_NAMES[columns.rows[number]!]!;
      values[row] += 1;
      const id = columns.headings[number]!;
      if (count > least[row].count) rows[row][id] = count;
      else if (count === least[row].count) last[row].push(id);
    });
    // Of those counted alike the same are told, whatever order entries came in.
    for (const row of ROW_NAMES) {
      const { count, room } = least[row];
      const told = last[row].length > room ? last[row].sort().slice(0, room) : last[row];
      for (const id of told) rows[row][id] = count;
    }
    const kind: Record<string, number> = {};
    this.#kinds.forEach((count, number) => {
      if (count > 0) kind[kindName(number)] = count;
    });
    const year: Record<string, number> = {};
    this.#years.forEach((count, number) => {
      if (count > 0) year[columns.years[number]!] = count;
    });
    return {
      kind,
      ...rows,
      values,
      year,
      use: {
        never: this.#open - this.#used,
        used: this.#used,
        rested2y: this.#open - this.#tired,
        notWith: Object.fromEntries(
          this.circles.map((id) => [id, this.#open - (this.#with.get(id) ?? 0)]),
        ),
      },
    };
  }
}
