import type { ColumnRole } from '../../block';

/**
 * Names of columns as people write them, folded to letters and single spaces. Common practice; a name not here is kept under its own
 * name and no role.
 */
const NAMES: readonly (readonly [ColumnRole, RegExp])[] = [
  ['title', /^(?:(?:book )?title|book|name of book|book name|work|booktitle|read|what we read)$/],
  ['author', /^(?:(?:book )?authors?|author s|writers?|by|written by|who by|creators?)$/],
  ['isbn', /^isbn(?: ?1[03])?$/],
  [
    'published',
    /^(?:(?:first |original )?(?:published|publication)(?: (?:year|date|in))?|year(?: (?:of publication|published))?|original publication year)$/,
  ],
  [
    'pages',
    /^(?:(?:number of |no of |total |page )?pages?(?: count| number| total)?|pp|length|length pages|pagecount|num pages|page count)$/,
  ],
  [
    'rating',
    /^(?:(?:my |our )?(?:rating|stars?|score|mark)(?: (?:out of|of) ?(?:5|10|five|ten))?)$/,
  ],
  ['started', /^(?:(?:date )?(?:started|begun|began)(?: on)?|start(?: date)?|date begun)$/],
  [
    'finished',
    /^(?:(?:date )?(?:finished|completed|ended)(?: on)?|finish(?: date)?|end date|date read|when read|read on|read when|when)$/,
  ],
  ['form', /^(?:form|format|edition|binding|medium|how read|read as)$/],
  ['list', /^(?:lists?|for|term|season|school year)$/],
  ['language', /^(?:language|lang)$/],
  [
    'note',
    /^(?:(?:my |our )?(?:notes?|comments?|remarks?|thoughts?|reviews?|annotation)|what we thought|verdict)$/,
  ],
  ['quote', /^(?:quotes?|quotations?|passages?|extracts?|highlights?|words|copied out)$/],
  ['question', /^(?:questions?|discussion questions?|prompts?|ask|to ask)$/],
  ['answer', /^(?:answers?|suggested answers?|look for|listen for|cue)$/],
  ['page', /^(?:p|pg|page(?: no| number| ref(?:erence)?)?|location)$/],
  ['chapter', /^(?:ch|chap|chapters?)$/],
  ['written', /^(?:date|written|day|on|date (?:added|written|noted)|noted)$/],
  ['theme', /^(?:themes?|topics?|subjects?|headings?|tags?|ideas?)$/],
  ['kind', /^(?:kinds?|types?)$/],
];

/** A long text column makes a table one of pieces, not of books. */
const LONG_TEXT: ReadonlySet<ColumnRole> = new Set(['quote', 'question']);
const OF_A_BOOK: ReadonlySet<ColumnRole> = new Set([
  'author',
  'isbn',
  'published',
  'pages',
  'rating',
  'started',
  'finished',
  'form',
]);

/** What is told of a reading, or of a copy, is told in a list of books. */
const OF_A_READER: ReadonlySet<ColumnRole> = new Set([
  'isbn',
  'rating',
  'started',
  'finished',
  'form',
]);
const KEPT_OF_A_BOOK: ReadonlySet<ColumnRole> = new Set([
  ...OF_A_BOOK,
  'title',
  'list',
  'language',
  'note',
]);

const PAGE = /^(?:pages?|pp|page (?:no|number))$/;

function folded(name: string): string {
  return name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

/** What a column holds, by its name. */
function roleOf(name: string): ColumnRole | undefined {
  const key = folded(name);
  if (key.length > 40) return undefined;
  return NAMES.find(([, pattern]) => pattern.test(key))?.[0];
}

type Roles = Readonly<Record<string, ColumnRole>>;
type Cells = Readonly<Record<string, string>>;

/**
 * The role of each column, a role once at most (the first column that fits has it). "Page" means how long a book is, but beside a
 * quotation, a question, or many notes on one book where that stands.
 */
export function columnRoles(
  names: readonly string[],
  rows: readonly Cells[] = [],
): Record<string, ColumnRole> {
  const roles = rolesBy(
    names,
    names.some((name) => LONG_TEXT.has(roleOf(name) ?? 'page')),
  );
  return notesOnBooks(roles, rows) ? rolesBy(names, true) : roles;
}

function rolesBy(names: readonly string[], ofPieces: boolean): Record<string, ColumnRole> {
  const roles: Record<string, ColumnRole> = {};
  const taken = new Set<ColumnRole>();
  for (const name of names) {
    const role = ofPieces && !taken.has('page') && PAGE.test(folded(name)) ? 'page' : roleOf(name);
    if (!role || taken.has(role)) continue;
    taken.add(role);
    Object.defineProperty(roles, name, {
      value: role,
      enumerable: true,
      writable: true,
      configurable: true,
    });
  }
  return roles;
}

/**
 * A table that plainly lists books: titles, with at least one thing only a book has, no column of quotations or questions, and not many
 * notes on one book.
 */
export function listsBooks(roles: Roles, rows: readonly Cells[]): boolean {
  const held = new Set(Object.values(roles));
  const pieces = [...held].some((role) => LONG_TEXT.has(role));
  if (!held.has('title') || pieces || notesOnBooks(roles, rows)) return false;
  return [...held].some((role) => OF_A_BOOK.has(role));
}

/** Of so many rows one that has another note on a book named before makes a table of notes; fewer are a slip in a list. */
const ROWS_TO_A_REPEAT = 4;

function notesOnBooks(roles: Roles, rows: readonly Cells[]): boolean {
  const held = new Set(Object.values(roles));
  if (!held.has('title') || !held.has('note') || [...held].some((role) => OF_A_READER.has(role)))
    return false;
  const cell = (cells: Cells, role: ColumnRole): string => {
    const name = Object.keys(roles).find((each) => roles[each] === role);
    return name === undefined ? '' : folded(cells[name] ?? '');
  };
  const noted = new Map<string, Set<string>>();
  let repeats = 0;
  for (const row of rows) {
    const [title, note] = [cell(row, 'title'), cell(row, 'note')];
    if (title === '' || note === '') continue;
    const key = `${title}\n${cell(row, 'author')}`;
    const notes = noted.get(key);
    if (notes && !notes.has(note)) repeats += 1;
    noted.set(key, (notes ?? new Set()).add(note));
  }
  return repeats > 0 && repeats * ROWS_TO_A_REPEAT >= rows.length;
}

/** Of a list of books a sentence on the filled columns that no book keeps; undefined where there are none. */
export function columnsLeftOut(roles: Roles, rows: readonly Cells[]): string | undefined {
  const left = new Set<string>();
  for (const row of rows)
    for (const [name, text] of Object.entries(row))
      if (name !== '' && text !== '' && !keptOfABook(roles[name])) left.add(name);
  if (left.size === 0) return undefined;
  const named = [...left].slice(0, MOST_NAMED).map((name) => `“${name}”`);
  const more = left.size - named.length;
  const last = more > 0 ? `${more} more` : named.pop();
  const said = named.length > 0 ? `${named.join(', ')} and ${last}` : last;
  return `What stands in the ${left.size === 1 ? 'column' : 'columns'} ${said} is not kept with a book; where it matters, take the column for notes.`;
}

const MOST_NAMED = 5;
const keptOfABook = (role: ColumnRole | undefined): boolean =>
  role !== undefined && KEPT_OF_A_BOOK.has(role);

/** Whether a first row names the columns, where nothing marks it: short, all different, no figures, and two known names or more. */
export function looksLikeColumnNames(row: readonly string[]): boolean {
  const filled = row.map((cell) => cell.trim()).filter(Boolean);
  if (filled.length < 2 || filled.some((cell) => cell.length > 40 || /^[\d\s.,/-]+$/.test(cell)))
    return false;
  if (new Set(filled.map(folded)).size < filled.length) return false;
  return filled.filter((cell) => roleOf(cell) !== undefined).length >= Math.min(2, filled.length);
}

/** A name for each of `width` columns: as given, made different where two are the same, "column 3" where there is none. */
export function columnNames(given: readonly string[], width: number): string[] {
  const names: string[] = [];
  const taken = new Set<string>();
  const used = new Map<string, number>();
  for (let at = 0; at < width; at += 1) {
    const name = (given[at] ?? '').replace(/\s+/g, ' ').trim() || `column ${at + 1}`;
    let times = used.get(name) ?? 0;
    let unlike = name;
    while (times > 0 || taken.has(unlike)) {
      times += 1;
      unlike = `${name} (${times})`;
      if (!taken.has(unlike)) break;
    }
    used.set(name, Math.max(times, 1));
    taken.add(unlike);
    names.push(unlike);
  }
  return names;
}
