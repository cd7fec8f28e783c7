/**
 * The shape of every record: its fields in the order they are written, what each may hold, and which of
 * them name another record. It mirrors `records.ts` field for field (the compiler checks that none is
 * missing) and says nothing of how records hang together; that is `rules.ts`.
 */
import {
  ENTRY_KINDS,
  HAZARDS,
  LEVELS,
  LIST_ORDERS,
  TIE_ROLES,
  type BookHeading,
  type Challenge,
  type Circle,
  type Declined,
  type Entry,
  type Focus,
  type FocusStrand,
  type FreeDays,
  type GatheredFile,
  type Gathering,
  type Guide,
  type GuideItem,
  type GuidePart,
  type Heading,
  type HeadingKind,
  type KeptStrand,
  type LessonDetail,
  type ListPace,
  type Meeting,
  type MeetingItem,
  type Pace,
  type PersonHeading,
  type Picture,
  type Place,
  type PromptRule,
  type Reading,
  type ReadingList,
  type Records,
  type Seal,
  type Source,
  type TableName,
  type ThemeHeading,
  type Tie,
} from './records';

/** The longest string a field may hold, in UTF-16 units, and the longest id. An envelope has no limit. */
export const LONGEST_TEXT = 1_000_000;
export const LONGEST_ID = 200;

export type Spec =
  | { is: 'text' | 'envelope' | 'yes-no' | 'edtf' | 'time' | 'day' | 'when' | 'clock' | 'local' }
  /** The record's own id. */
  | { is: 'own-id' }
  /** Names a row of another table; for headings, perhaps of one kind only. */
  | { is: 'ref'; to: TableName; kind?: HeadingKind }
  /** Words, or the id of a heading. */
  | { is: 'heading-or-words' }
  | { is: 'number'; least: number; most?: number; whole?: boolean; step?: number }
  | { is: 'count-or-any' }
  | { is: 'one-of'; of: readonly string[] }
  | { is: 'list'; of: Spec }
  | { is: 'record'; shape: Shape };

export interface Field {
  name: string;
  spec: Spec;
  must: boolean;
}
export interface Shape {
  fields: readonly Field[];
  known: ReadonlySet<string>;
  /** Only the fields that hold references, at any depth. */
  refs: readonly Field[];
}

type Must = { spec: Spec; must: true };
type May = { spec: Spec; must: false };
type FieldsOf<T> = { [K in keyof T]-?: object extends Pick<T, K> ? May : Must };

const must = (spec: Spec): Must => ({ spec, must: true });
const may = (spec: Spec): May => ({ spec, must: false });
const list = (of: Spec): Spec => ({ is: 'list', of });
const oneOf = (...of: string[]): Spec => ({ is: 'one-of', of });
const ref = (to: TableName, kind?: HeadingKind): Spec => ({ is: 'ref', to, kind });
const record = (shape: Shape): Spec => ({ is: 'record', shape });

const ownId: Spec = { is: 'own-id' };
const text: Spec = { is: 'text' };
const texts = list(text);
const yesNo: Spec = { is: 'yes-no' };
const edtf: Spec = { is: 'edtf' };
const time: Spec = { is: 'time' };
const minutes: Spec = { is: 'number', least: 0 };
const count: Spec = { is: 'number', least: 1, whole: true };
const entryKind: Spec = { is: 'one-of', of: ENTRY_KINDS };
const level: Spec = { is: 'one-of', of: LEVELS };
const hazards: Spec = { is: 'list', of: { is: 'one-of', of: HAZARDS } };

function holdsRef(spec: Spec): boolean {
  if (spec.is === 'list') return holdsRef(spec.of);
  if (spec.is === 'record') return spec.shape.refs.length > 0;
  return spec.is === 'ref' || spec.is === 'heading-or-words';
}

function shape<T>(fields: FieldsOf<T>): Shape {
  const all = Object.entries<Must | May>(fields).map(([name, field]) => ({ name, ...field }));
  return {
    fields: all,
    known: new Set(all.map(({ name }) => name)),
    refs: all.filter(({ spec }) => holdsRef(spec)),
  };
}

const PLACE = shape<Place>({ page: may(text), chapter: may(text), note: may(text) });
const TIE = shape<Tie>({
  heading: must(ref('headings')),
  role: must({ is: 'one-of', of: TIE_ROLES }),
  place: may(record(PLACE)),
  by: must(oneOf('reader', 'proposed', 'gathering')),
});
const SOURCE = shape<Source>({
  gathering: may(ref('gatherings')),
  file: may(text),
  place: may(text),
  note: may(text),
});
const PICTURE = shape<Picture>({
  digest: must(text),
  type: must(text),
  alt: must(text),
  width: may(count),
  height: may(count),
});
const LESSON = shape<LessonDetail>({
  objective: may(text),
  preparation: may(text),
  object: may(text),
  observations: may(texts),
  idea: may(text),
  steps: may(texts),
  due: may(text),
});

const ENTRY = shape<Entry>({
  id: must(ownId),
  kind: must(entryKind),
  title: may(text),
  text: must(text),
  ties: must(list(record(TIE))),
  written: may(edtf),
  added: must(time),
  changed: must(time),
  level: may(level),
  levelBy: may(oneOf('reader', 'proposed')),
  minutes: may(minutes),
  answer: may(text),
  probes: may(texts),
  materials: may(texts),
  cautions: may(hazards),
  ages: may(text),
  lesson: may(record(LESSON)),
  picture: may(record(PICTURE)),
  source: may(record(SOURCE)),
});

const headingBase = {
  name: must(text),
  alternates: must(texts),
  filing: may(text),
  note: may(text),
  changed: may(time),
};
const BOOK = shape<BookHeading>({
  id: must(ownId),
  kind: must(oneOf('book')),
  ...headingBase,
  authors: must(list(ref('headings', 'person'))),
  isbn: may(text),
  pages: may(count),
  words: may(count),
  published: may(edtf),
  language: may(text),
  flags: may(texts),
  chapters: may(
    list(
      record(
        shape<NonNullable<BookHeading['chapters']>[number]>({
          name: may(text),
          page: may({ is: 'number', least: 0 }),
        }),
      ),
    ),
  ),
  picture: may(record(PICTURE)),
});
const THEME = shape<ThemeHeading>({
  id: must(ownId),
  kind: must(oneOf('theme')),
  ...headingBase,
  broader: must(list(ref('headings', 'theme'))),
  related: must(list(ref('headings', 'theme'))),
});
const PERSON = shape<PersonHeading>({
  id: must(ownId),
  kind: must(oneOf('person')),
  ...headingBase,
  roles: must(
    list(
      oneOf('author', 'character', 'historical', 'illustrator', 'translator', 'family', 'other'),
    ),
  ),
  born: may(edtf),
  died: may(edtf),
  books: may(list(ref('headings', 'book'))),
});

const CIRCLE = shape<Circle>({
  id: must(ownId),
  name: must(text),
  size: may(count),
  ages: may(text),
  pace: may(
    record(
      shape<Pace>({
        readers: must(oneOf('adult', 'grade')),
        grade: may({ is: 'number', least: 1, most: 6, whole: true }),
        season: may(oneOf('fall', 'winter', 'spring')),
        wordsPerMinute: may({ is: 'number', least: 1 }),
      }),
    ),
  ),
  starts: may({ is: 'clock' }),
  changed: may(time),
});

const GUIDE_ITEM = shape<GuideItem>({
  entry: may(ref('entries')),
  text: may(text),
  free: may(oneOf('break', 'reading', 'pair', 'narration', 'copywork', 'other')),
  kind: may(entryKind),
  level: may(level),
  minutes: must(minutes),
  must: must(yesNo),
  ifTime: may(yesNo),
  fixed: may(yesNo),
  cue: may(text),
  due: may(text),
  title: may(text),
  cautions: may(hazards),
});
const FOCUS = shape<Focus>({
  words: must(texts),
  headings: must(
    list(
      record(
        shape<Focus['headings'][number]>({
          heading: must(ref('headings')),
          from: may(text),
          to: may(text),
        }),
      ),
    ),
  ),
  entries: must(list(ref('entries'))),
  strands: may(
    list(record(shape<FocusStrand>({ name: must(text), headings: must(list(ref('headings'))) }))),
  ),
});
const AIMS = shape<NonNullable<Required<Guide>['aims']>>(
  Object.fromEntries(LEVELS.map((name) => [name, may(minutes)])) as FieldsOf<
    NonNullable<Guide['aims']>
  >,
);
const GUIDE = shape<Guide>({
  id: must(ownId),
  title: must(text),
  shape: must(oneOf('discussion', 'lesson')),
  focus: must(record(FOCUS)),
  circle: may(ref('circles')),
  minutes: must(minutes),
  starts: may({ is: 'local' }),
  parts: must(
    list(
      record(
        shape<GuidePart>({
          name: must(text),
          minutes: must(minutes),
          aim: may(text),
          items: must(list(record(GUIDE_ITEM))),
        }),
      ),
    ),
  ),
  spare: may(list(record(GUIDE_ITEM))),
  refused: may(list(ref('entries'))),
  aims: may(record(AIMS)),
  restMonths: may(minutes),
  objective: may(text),
  note: may(text),
  template: may(yesNo),
  series: may(
    record(
      shape<NonNullable<Required<Guide>['series']>>({
        id: must(text),
        chapters: may({ is: 'number', least: 1, whole: true }),
      }),
    ),
  ),
  made: must(time),
  changed: may(time),
});

const MEETING = shape<Meeting>({
  id: must(ownId),
  guide: may(ref('guides')),
  circle: must(ref('circles')),
  on: must(edtf),
  items: must(
    list(
      record(
        shape<MeetingItem>({
          entry: may(ref('entries')),
          text: may(text),
          used: must(yesNo),
          went: may(oneOf('well', 'flat', 'mixed')),
          minutes: may(minutes),
          note: may(text),
        }),
      ),
    ),
  ),
  note: may(text),
  changed: may(time),
});

const READING = shape<Reading>({
  id: must(ownId),
  book: must(ref('headings', 'book')),
  started: may(edtf),
  finished: may(edtf),
  abandoned: may(yesNo),
  form: must(oneOf('print', 'ebook', 'audio')),
  pages: may({ is: 'number', least: 0 }),
  minutes: may(minutes),
  days: may(list({ is: 'day' })),
  rating: may({ is: 'number', least: 0.5, most: 5, step: 0.5 }),
  note: may(text),
  schoolYear: may(text),
  changed: may(time),
});

const FREE = shape<FreeDays>({
  weekdays: may(list({ is: 'number', least: 1, most: 7, whole: true })),
  stretches: may(
    list(
      record(
        shape<NonNullable<FreeDays['stretches']>[number]>({
          from: must({ is: 'day' }),
          to: must({ is: 'day' }),
        }),
      ),
    ),
  ),
});
const PLAN = shape<ListPace>({
  order: may({ is: 'one-of', of: LIST_ORDERS }),
  perDay: may(count),
  finishBy: may({ is: 'day' }),
  free: may(record(FREE)),
});
const LIST = shape<ReadingList>({
  id: must(ownId),
  name: must(text),
  books: must(list(ref('headings', 'book'))),
  schoolYear: may(text),
  note: may(text),
  plan: may(record(PLAN)),
  seal: may(ref('seals')),
  changed: may(time),
});

const RULE = shape<PromptRule>({
  by: must(
    oneOf(
      ...['title-letter', 'author-letter', 'theme', 'person', 'author', 'book', 'form', 'pages'],
      ...['pages-in-all', 'published', 'decade', 'language', 'finished', 'rating', 'free'],
    ),
  ),
  is: may({ is: 'heading-or-words' }),
  atLeast: may({ is: 'number', least: -Infinity }),
  atMost: may({ is: 'number', least: -Infinity }),
  from: may(text),
  to: may(text),
  readings: may(list(ref('readings'))),
});
const CHALLENGE = shape<Challenge>({
  id: must(ownId),
  name: must(text),
  from: must(edtf),
  to: must(edtf),
  perBook: must({ is: 'count-or-any' }),
  prompts: must(
    list(
      record(
        shape<Challenge['prompts'][number]>({
          id: must(text),
          text: must(text),
          rule: must(record(RULE)),
        }),
      ),
    ),
  ),
  changed: may(time),
});

const GATHERING = shape<Gathering>({
  id: must(ownId),
  on: must({ is: 'when' }),
  name: may(text),
  files: must(
    list(
      record(
        shape<GatheredFile>({
          path: must(text),
          digest: must(text),
          status: must(oneOf('read', 'unreadable')),
          reason: may(text),
          known: may(list(text)),
        }),
      ),
    ),
  ),
  changed: may(time),
});
const SEAL = shape<Seal>({
  id: must(ownId),
  envelope: must({ is: 'envelope' }),
  hint: may(text),
  changed: may(time),
});
const DECLINED = shape<Declined>({
  id: must(ownId),
  entry: must(ref('entries')),
  heading: must(ref('headings')),
  on: must({ is: 'when' }),
  changed: may(time),
});

const STRAND = shape<KeptStrand>({
  id: must(ownId),
  headings: must(list(ref('headings'))),
  name: may(text),
  dye: may({ is: 'number', least: 0, most: 4, whole: true }),
  forward: may(time),
  placed: may(list(ref('headings'))),
  resolution: may({ is: 'number', least: 0 }),
  changed: may(time),
});

const HEADING_SHAPES: Readonly<Record<HeadingKind, Shape>> = {
  book: BOOK,
  theme: THEME,
  person: PERSON,
};

const SHAPES: Readonly<Record<Exclude<TableName, 'headings'>, Shape>> = {
  entries: ENTRY,
  circles: CIRCLE,
  guides: GUIDE,
  meetings: MEETING,
  readings: READING,
  lists: LIST,
  challenges: CHALLENGE,
  gatherings: GATHERING,
  seals: SEAL,
  declined: DECLINED,
  strands: STRAND,
};

/** The shape a row should have; undefined for a heading of no known kind. */
export function shapeOf<T extends TableName>(table: T, row: Records[T]): Shape | undefined {
  if (table !== 'headings') return SHAPES[table as Exclude<TableName, 'headings'>];
  const { kind } = row as Heading;
  return Object.hasOwn(HEADING_SHAPES, kind) ? HEADING_SHAPES[kind] : undefined;
}
