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

/**
 * The role of each column, a role once at most (the first column that fits has it). "Page" means how long a book is, but beside a
 * quotation or a question where that stands.
 */
export function columnRoles(names: readonly string[]): Record<string, ColumnRole> {
  const roles: Record<string, ColumnRole> = {};
  const taken = new Set<ColumnRole>();
  const ofPieces = names.some((name) => LONG_TEXT.has(roleOf(name) ?? 'page'));
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

/** A table that plainly lists books: titles, with at least one thing only a book has, and no column of quotations or questions. */
export function listsBooks(roles: Readonly<Record<string, ColumnRole>>): boolean {
  const held = new Set(Object.values(roles));
  const pieces = [...held].some((role) => LONG_TEXT.has(role));
  return held.has('title') && !pieces && [...held].some((role) => OF_A_BOOK.has(role));
}

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
