/** Small random journals that keep every rule, and random edits of them, for property tests of any room. */
import fc from 'fast-check';
import type { Edit } from '../../../src/journal/edits';
import { emptyJournal } from '../../../src/journal/journal';
import * as make from '../../../src/journal/make-edits';
import {
  ENTRY_KINDS,
  HAZARDS,
  LEVELS,
  LIST_ORDERS,
  TIE_ROLES,
  type BookHeading,
  type Challenge,
  type Circle,
  type CircleId,
  type Declined,
  type Entry,
  type EntryId,
  type Gathering,
  type Guide,
  type GuideId,
  type GuideItem,
  type Heading,
  type HeadingId,
  type Journal,
  type KeptStrand,
  type ListPace,
  type Meeting,
  type MeetingItem,
  type PersonHeading,
  type Place,
  type PromptRule,
  type Reading,
  type ReadingId,
  type ReadingList,
  type Records,
  type Seal,
  type TableName,
  type ThemeHeading,
  type Tie,
} from '../../../src/journal/records';
import { withoutDoubles } from '../../../src/journal/ties';

const text = fc.oneof(fc.string({ maxLength: 20, unit: 'grapheme' }), fc.lorem({ maxCount: 6 }));
const name = fc.oneof(
  fc.constantFrom('Courage', 'Hope', 'The Hope', 'Émile', 'Friendship', 'Ada Lovelace'),
  fc.lorem({ maxCount: 2 }).map((words) => words.trim() || 'x'),
);
const day = fc
  .date({
    min: new Date('1990-01-01T00:00:00Z'),
    max: new Date('2026-12-31T00:00:00Z'),
    noInvalidDate: true,
  })
  .map((date) => date.toISOString());
export const arbitraryDate = fc.oneof(
  day.map((iso) => iso.slice(0, 10)),
  day.map((iso) => iso.slice(0, 7)),
  fc.constantFrom('2008', '201X', '2014-21', '1984~', '2004-06/2006-08'),
);
const minutes = fc.integer({ min: 0, max: 90 });
const texts = fc.array(text, { maxLength: 3 });

/** JSON without fields called `__proto__`: a journal file is read without those (tests/faults/journal-file.test.ts). */
const jsonOf = (maxDepth: number): fc.Arbitrary<unknown> =>
  fc.jsonValue({ maxDepth }).filter((value) => !JSON.stringify(value).includes('__proto__'));

/** Fields no version knows, which must come through unharmed. */
const unknownFields = fc.option(
  fc.record({
    zeta: jsonOf(2),
    Extra: fc.record({ inner: jsonOf(1) }),
  }),
  { nil: undefined, freq: 3 },
);

/** A record with the fields of `must` and any of `may`. */
function rowOf<T>(must: object, may: object): fc.Arbitrary<T> {
  const keys = Object.keys(must);
  const all = { ...must, ...may } as Record<string, fc.Arbitrary<unknown>>;
  return fc
    .tuple(fc.record(all, { requiredKeys: keys }), unknownFields)
    .map(([row, unknown]) => ({ ...row, ...unknown }) as T);
}

const ids = (prefix: string, count: number): string[] =>
  Array.from({ length: count }, (_, index) => `${prefix}-${index}`);
const some = <T>(pool: readonly T[], maxLength = 3): fc.Arbitrary<T[]> =>
  pool.length === 0
    ? fc.constant([])
    : fc.uniqueArray(fc.constantFrom(...pool), { maxLength: Math.min(maxLength, pool.length) });
/** Fields that need a member of a pool, left out where the pool is empty. */
const oneOf = <T>(field: string, pool: readonly T[]): object =>
  pool.length === 0 ? {} : { [field]: fc.constantFrom(...pool) };
const all = <T>(rows: readonly fc.Arbitrary<T>[]): fc.Arbitrary<T[]> => fc.tuple(...rows);

interface Pools {
  books: HeadingId[];
  themes: HeadingId[];
  persons: HeadingId[];
  headings: HeadingId[];
  entries: EntryId[];
  circles: CircleId[];
  guides: GuideId[];
  readings: ReadingId[];
  gatherings: string[];
  seals: string[];
}

const poolsArbitrary: fc.Arbitrary<Pools> = fc
  .record({
    books: fc.nat(3),
    themes: fc.nat(5),
    persons: fc.nat(3),
    entries: fc.nat(7),
    circles: fc.nat(2),
    guides: fc.nat(2),
    readings: fc.nat(3),
    gatherings: fc.nat(1),
    seals: fc.nat(1),
  })
  .map((sizes) => {
    const books = ids('book', sizes.books) as HeadingId[];
    const themes = ids('theme', sizes.themes) as HeadingId[];
    const persons = ids('person', sizes.persons) as HeadingId[];
    return {
      books,
      themes,
      persons,
      headings: [...books, ...themes, ...persons],
      entries: ids('entry', sizes.entries) as EntryId[],
      circles: ids('circle', sizes.circles) as CircleId[],
      guides: ids('guide', sizes.guides) as GuideId[],
      readings: ids('reading', books.length > 0 ? sizes.readings : 0) as ReadingId[],
      gatherings: ids('gathering', sizes.gatherings),
      seals: ids('seal', sizes.seals),
    };
  });

const place: fc.Arbitrary<Place> = fc.record(
  { page: fc.constantFrom('3', '61', 'xii'), chapter: fc.constantFrom('1', '13') },
  { requiredKeys: [] },
);
const tieTo = (heading: HeadingId): fc.Arbitrary<Tie> =>
  rowOf<Tie>(
    {
      heading: fc.constant(heading),
      role: fc.constantFrom(...TIE_ROLES),
      by: fc.constantFrom('reader', 'proposed', 'gathering'),
    },
    { place },
  );

function entryArbitrary(id: EntryId, pools: Pools): fc.Arbitrary<Entry> {
  const ties =
    pools.headings.length === 0
      ? fc.constant<Tie[]>([])
      : fc
          .array(fc.constantFrom(...pools.headings).chain(tieTo), { maxLength: 4 })
          .map(withoutDoubles);
  const source = fc.record(
    { file: text, place: text, ...oneOf('gathering', pools.gatherings) },
    { requiredKeys: [] },
  );
  return rowOf<Entry>(
    {
      id: fc.constant(id),
      kind: fc.constantFrom(...ENTRY_KINDS),
      text,
      ties,
      added: day,
      changed: day,
    },
    {
      title: text,
      written: arbitraryDate,
      level: fc.constantFrom(...LEVELS),
      levelBy: fc.constantFrom('reader', 'proposed'),
      minutes,
      answer: text,
      probes: texts,
      materials: texts,
      cautions: some(HAZARDS),
      lesson: fc.record({ object: text, observations: texts, idea: text }, { requiredKeys: [] }),
      source,
    },
  );
}

const base = (id: HeadingId, kind: Heading['kind']): object => ({
  id: fc.constant(id),
  kind: fc.constant(kind),
  name,
  alternates: fc.uniqueArray(name, { maxLength: 2 }),
});

const bookArbitrary = (id: HeadingId, pools: Pools): fc.Arbitrary<BookHeading> =>
  rowOf(
    { ...base(id, 'book'), authors: some(pools.persons) },
    {
      note: text,
      isbn: fc.constant('978-0-14-044926-6'),
      pages: fc.integer({ min: 1, max: 900 }),
      published: arbitraryDate,
      flags: texts,
      chapters: fc.array(fc.record({ name: text, page: fc.nat(400) }, { requiredKeys: [] }), {
        maxLength: 2,
      }),
    },
  );

const personArbitrary = (id: HeadingId, pools: Pools): fc.Arbitrary<PersonHeading> =>
  rowOf(
    { ...base(id, 'person'), roles: some(['author', 'character', 'family'] as const) },
    { filing: text, born: arbitraryDate, books: some(pools.books) },
  );

/** Broader themes come later in the pool, so they never lead back; related ones are added on both sides afterwards. */
const themeArbitrary = (id: HeadingId, pools: Pools): fc.Arbitrary<ThemeHeading> =>
  rowOf(
    {
      ...base(id, 'theme'),
      broader: some(pools.themes.slice(pools.themes.indexOf(id) + 1), 2),
      related: fc.constant([]),
    },
    { note: text },
  );

function relate(themes: ThemeHeading[], pairs: readonly (readonly [number, number])[]): void {
  for (const [left, right] of pairs) {
    const [a, b] = [themes[left % themes.length], themes[right % themes.length]];
    if (!a || !b || a === b || a.related.includes(b.id)) continue;
    if (a.broader.includes(b.id) || b.broader.includes(a.id)) continue;
    a.related = [...a.related, b.id];
    b.related = [...b.related, a.id];
  }
}

const itemArbitrary = (pools: Pools): fc.Arbitrary<GuideItem> =>
  rowOf(
    { minutes, must: fc.boolean(), text },
    {
      ...oneOf('entry', pools.entries),
      fixed: fc.boolean(),
      cue: text,
      title: text,
      cautions: fc.uniqueArray(fc.constantFrom(...HAZARDS)),
      level: fc.constantFrom(...LEVELS),
    },
  );

function guideArbitrary(id: GuideId, pools: Pools): fc.Arbitrary<Guide> {
  const items = fc.array(itemArbitrary(pools), { maxLength: 3 });
  const focus = fc.record({
    words: texts,
    headings: some(pools.headings).map((headings) => headings.map((heading) => ({ heading }))),
    entries: some(pools.entries),
  });
  return rowOf(
    {
      id: fc.constant(id),
      title: text,
      shape: fc.constantFrom('discussion', 'lesson'),
      focus,
      minutes,
      parts: fc.array(fc.record({ name: text, minutes, items }), { maxLength: 2 }),
      made: day,
    },
    {
      ...oneOf('circle', pools.circles),
      spare: items,
      refused: some(pools.entries),
      aims: fc.record({ analyse: minutes }, { requiredKeys: [] }),
      starts: fc.constant('2026-12-03T19:00'),
    },
  );
}

function meetingArbitrary(id: string, pools: Pools): fc.Arbitrary<Meeting> {
  const item = rowOf<MeetingItem>(
    { used: fc.boolean(), text },
    {
      ...oneOf('entry', pools.entries),
      went: fc.constantFrom('well', 'flat', 'mixed'),
      note: text,
    },
  );
  return rowOf(
    {
      id: fc.constant(id),
      circle: fc.constantFrom(...pools.circles),
      on: arbitraryDate,
      items: fc.array(item, { maxLength: 4 }),
    },
    { ...oneOf('guide', pools.guides), note: text },
  );
}

const circleArbitrary = (id: CircleId): fc.Arbitrary<Circle> =>
  rowOf(
    { id: fc.constant(id), name },
    { size: fc.integer({ min: 1, max: 30 }), starts: fc.constant('19:00') },
  );

const readingArbitrary = (id: ReadingId, pools: Pools): fc.Arbitrary<Reading> =>
  rowOf(
    {
      id: fc.constant(id),
      book: fc.constantFrom(...pools.books),
      form: fc.constantFrom('print', 'ebook', 'audio'),
    },
    {
      finished: arbitraryDate,
      rating: fc.integer({ min: 1, max: 10 }).map((half) => half / 2),
      days: fc.uniqueArray(
        day.map((iso) => iso.slice(0, 10)),
        { maxLength: 3 },
      ),
    },
  );

const isoDay = day.map((iso) => iso.slice(0, 10));
const paceArbitrary: fc.Arbitrary<ListPace> = fc.record(
  {
    order: fc.constantFrom(...LIST_ORDERS),
    perDay: fc.integer({ min: 1, max: 200 }),
    finishBy: isoDay,
    free: fc.record(
      {
        weekdays: some([1, 2, 3, 4, 5, 6, 7]),
        stretches: fc.array(fc.record({ from: isoDay, to: isoDay }), { maxLength: 2 }),
      },
      { requiredKeys: [] },
    ),
  },
  { requiredKeys: [] },
);
const listArbitrary = (id: string, pools: Pools): fc.Arbitrary<ReadingList> =>
  rowOf(
    { id: fc.constant(id), name, books: some(pools.books) },
    { plan: paceArbitrary, ...oneOf('seal', pools.seals) },
  );

function challengeArbitrary(id: string, pools: Pools): fc.Arbitrary<Challenge> {
  const rule = fc.oneof(
    fc.record<PromptRule>({
      by: fc.constant('theme'),
      is: fc.oneof(fc.constant('Courage'), fc.constantFrom('none', ...pools.themes)),
    }),
    fc.record<PromptRule>({ by: fc.constant('free'), readings: some(pools.readings) }),
  );
  return rowOf(
    {
      id: fc.constant(id),
      name,
      from: fc.constant('2025'),
      to: fc.constant('2025-12-31'),
      perBook: fc.constantFrom<(number | 'any')[]>(1, 2, 'any'),
      prompts: fc.array(fc.record({ id: text, text, rule }), { maxLength: 3 }),
    },
    {},
  );
}

const gatheringArbitrary = (id: string): fc.Arbitrary<Gathering> =>
  rowOf(
    {
      id: fc.constant(id),
      on: day,
      files: fc.array(
        fc.record({
          path: text,
          digest: fc.constant('ab12'),
          status: fc.constantFrom('read', 'unreadable'),
        }),
        { maxLength: 2 },
      ),
    },
    { name },
  );

const sealArbitrary = (id: string): fc.Arbitrary<Seal> =>
  rowOf({ id: fc.constant(id), envelope: fc.constant('c2VhbGVk') }, { hint: text });

const declinedArbitrary = (id: string, pools: Pools): fc.Arbitrary<Declined> =>
  rowOf(
    {
      id: fc.constant(id),
      entry: fc.constantFrom(...pools.entries),
      heading: fc.constantFrom(...pools.headings),
      on: day,
    },
    {},
  );

const strandArbitrary = (id: string, pools: Pools): fc.Arbitrary<KeptStrand> =>
  rowOf(
    { id: fc.constant(id), headings: some(pools.headings) },
    {
      name,
      dye: fc.nat(4),
      forward: fc.constant('2026-01-02T00:00:00.000Z'),
      placed: some(pools.headings),
      resolution: fc.constantFrom(0.5, 1, 2),
    },
  );

function fill<T extends TableName>(journal: Journal, table: T, rows: readonly Records[T][]): void {
  const held = journal.tables[table] as Map<string, Records[T]>;
  for (const row of rows) held.set(row.id, row);
}

/** A journal of up to some thirty rows in all tables that `checkJournal` finds no fault with, unknown fields here and there. */
export const arbitraryJournal = (): fc.Arbitrary<Journal> => poolsArbitrary.chain(journalFrom);

function journalFrom(pools: Pools): fc.Arbitrary<Journal> {
  const canDecline = pools.entries.length > 0 && pools.headings.length > 0;
  return fc
    .record({
      books: all(pools.books.map((id) => bookArbitrary(id, pools))),
      themes: all(pools.themes.map((id) => themeArbitrary(id, pools))),
      persons: all(pools.persons.map((id) => personArbitrary(id, pools))),
      entries: all(pools.entries.map((id) => entryArbitrary(id, pools))),
      circles: all(pools.circles.map(circleArbitrary)),
      guides: all(pools.guides.map((id) => guideArbitrary(id, pools))),
      meetings: all(ids('meeting', pools.circles.length).map((id) => meetingArbitrary(id, pools))),
      readings: all(pools.readings.map((id) => readingArbitrary(id, pools))),
      lists: all([listArbitrary('list-0', pools)]),
      challenges: all([challengeArbitrary('challenge-0', pools)]),
      gatherings: all(pools.gatherings.map(gatheringArbitrary)),
      seals: all(pools.seals.map(sealArbitrary)),
      strands: all([strandArbitrary('strand-0', pools)]),
      declined: all(ids('declined', canDecline ? 2 : 0).map((id) => declinedArbitrary(id, pools))),
      pairs: fc.array(fc.tuple(fc.nat(9), fc.nat(9)), { maxLength: 4 }),
      unknown: fc.option(fc.record({ later: jsonOf(2) }), { nil: undefined }),
    })
    .map(({ books, themes, persons, pairs, unknown, ...tables }) => {
      const journal = emptyJournal('journal-0', 'Harbour Lane', '2026-01-01T00:00:00.000Z');
      if (themes.length > 0) relate(themes, pairs);
      fill(journal, 'headings', [...books, ...themes, ...persons]);
      for (const table of Object.keys(tables) as (keyof typeof tables)[]) {
        fill(journal, table, tables[table] as never);
      }
      if (unknown) journal.unknown = unknown;
      return journal;
    });
}

/** A moment later than any of a random journal's. */
export const LATER = '2027-01-01T00:00:00.000Z';

/** An edit to be made of whatever journal it meets: numbers choose among the rows that are there then. */
export interface Step {
  builder: string;
  make(journal: Journal): Edit;
}

const REMOVABLE: readonly TableName[] = [
  ...(['circles', 'guides', 'meetings', 'readings', 'lists'] as const),
  ...(['challenges', 'gatherings', 'seals', 'declined', 'strands'] as const),
];

/** Random steps through every builder of `make-edits.ts`. */
export const arbitraryStep = (): fc.Arbitrary<Step> =>
  fc
    .record({
      builder: fc.constantFrom(...BUILDERS),
      first: fc.nat(50),
      second: fc.nat(50),
      words: name,
      tie: tieTo('' as HeadingId),
      kind: fc.constantFrom(...ENTRY_KINDS),
      keepWords: fc.boolean(),
    })
    .map((choice) => ({
      builder: choice.builder,
      make: (journal) => stepEdit(journal, choice),
    }));

export const BUILDERS = [
  ...([
    'putEntry',
    'newEntry',
    'removeEntries',
    'tieEntries',
    'untieEntries',
    'changeKind',
  ] as const),
  ...(['newHeading', 'putHeading', 'removeHeading', 'mergeHeadings', 'renameHeading'] as const),
  ...(['putRow', 'removeRow'] as const),
];

interface Choice {
  builder: (typeof BUILDERS)[number];
  first: number;
  second: number;
  words: string;
  tie: Tie;
  kind: Entry['kind'];
  keepWords: boolean;
}

const pick = <T>(pool: readonly T[], at: number): T | undefined => pool[at % pool.length];

function stepEdit(journal: Journal, choice: Choice): Edit {
  const { first, second, words, kind } = choice;
  const nothing: Edit = { does: 'Nothing', changes: [] };
  const entries = [...journal.tables.entries.keys()] as EntryId[];
  const headings = [...journal.tables.headings.values()];
  const heading = pick(headings, first);
  const chosen = entries.filter((_, index) => (first + index) % 2 === 0);
  switch (choice.builder) {
    case 'newEntry': {
      const ties = heading ? [{ ...choice.tie, heading: heading.id }] : [];
      const id = `new-${first}-${second}` as EntryId;
      return make.putEntry(journal, { id, kind, text: words, ties, added: LATER, changed: LATER });
    }
    case 'putEntry': {
      const entry = journal.tables.entries.get(pick(entries, first) ?? '');
      return entry ? make.putEntry(journal, { ...entry, text: words, title: words }) : nothing;
    }
    case 'removeEntries':
      return make.removeEntries(journal, chosen, { words: choice.keepWords ? 'keep' : 'drop' });
    case 'tieEntries': {
      if (!heading) return nothing;
      return make.tieEntries(journal, chosen, { ...choice.tie, heading: heading.id }, LATER);
    }
    case 'untieEntries':
      return heading ? make.untieEntries(journal, chosen, heading.id, LATER) : nothing;
    case 'changeKind':
      return make.changeKind(journal, chosen, kind, LATER);
    case 'newHeading': {
      const related = headings.filter(({ kind: of }) => of === 'theme').slice(0, first % 3);
      const id = `new-${first}-${second}` as HeadingId;
      if (journal.tables.headings.has(id)) return nothing;
      const fields = { alternates: [], broader: [], related: related.map((each) => each.id) };
      return make.putHeading(journal, { id, kind: 'theme', name: words, ...fields });
    }
    case 'putHeading':
      return heading ? make.putHeading(journal, { ...heading, note: words }) : nothing;
    case 'removeHeading':
      return heading ? make.removeHeading(journal, heading.id, LATER) : nothing;
    case 'mergeHeadings': {
      const alike = headings.filter((each) => each.kind === heading?.kind);
      const other = pick(alike, second);
      return heading && other ? make.mergeHeadings(journal, heading.id, other.id, LATER) : nothing;
    }
    case 'renameHeading':
      return heading ? make.renameHeading(journal, heading.id, words) : nothing;
    case 'putRow': {
      const meeting = pick([...journal.tables.meetings.values()], second);
      const at = meeting && meeting.items.length > 0 ? first % meeting.items.length : -1;
      if (meeting && at >= 0 && choice.keepWords) {
        const note = (item: MeetingItem): MeetingItem => ({ ...item, used: true, note: words });
        const items = meeting.items.map((item, n) => (n === at ? note(item) : item));
        return make.putRow(journal, 'meetings', { ...meeting, items });
      }
      return make.putRow(journal, 'circles', { id: `new-${first}` as CircleId, name: words });
    }
    case 'removeRow': {
      const table = pick(REMOVABLE, first) ?? 'lists';
      const id = pick([...journal.tables[table].keys()], second);
      return id === undefined ? nothing : make.removeRow(journal, table, id);
    }
  }
}
