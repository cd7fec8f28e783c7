/**
 * The rules a journal keeps: every reference names something that is there and of the right kind, relations
 * between themes run one way or are held on both sides, nothing is doubled.
 */
import { capital, labelOf, nounOf, oneOf } from './labels';
import { MOST_PROBLEMS, tell, type Problem } from './problem';
import {
  TABLES,
  type Entry,
  type Guide,
  type Heading,
  type HeadingId,
  type Journal,
  type Meeting,
  type Records,
  type TableName,
  type ThemeHeading,
} from './records';
import { eachReference } from './references';
import { checkShape } from './shape-check';
import { tieKey } from './ties';

export type { Problem } from './problem';

/** The rows a rule may look at: a journal, or a journal as an edit would leave it. */
export interface View {
  get<T extends TableName>(table: T, id: string): Records[T] | undefined;
}

export const viewOf = (journal: Journal): View => ({
  get: (table, id) => journal.tables[table].get(id),
});

/** Every fault of a journal, at most {@link MOST_PROBLEMS} of them; empty when all is well. */
export function checkJournal(journal: Journal): Problem[] {
  const problems: Problem[] = [];
  const view = viewOf(journal);
  for (const table of TABLES) {
    for (const [id, row] of journal.tables[table]) {
      const found = rowProblems(table, row, view, id);
      for (const problem of found) tell(problems, problem);
      if (problems.length >= MOST_PROBLEMS) return problems;
    }
  }
  for (const problem of circlesOfThemes(journal)) tell(problems, problem);
  return problems;
}

/** The faults of one row as it stands in `view`; circles among themes are told by {@link broaderThanItself}. */
export function rowProblems<T extends TableName>(
  table: T,
  row: Records[T],
  view: View,
  id: string = row.id,
): Problem[] {
  const faults = checkShape(table, row, id);
  const problems: Problem[] = faults.map(({ path, code, message }) => ({ path, code, message }));
  if (faults.some(({ fatal }) => fatal)) return problems;
  const at = `${table}/${id}`;
  if (row.id !== id) {
    tell(problems, {
      path: `${at}/id`,
      code: 'id-mismatch',
      message: `${capital(labelOf(table, row))} is held under another id than its own.`,
    });
  }
  referenceProblems(table, row, view, at, problems);
  if (table === 'entries') entryProblems(row as Entry, at, problems);
  else if (table === 'headings') headingProblems(row as Heading, view, at, problems);
  else if (table === 'guides') guideProblems(row as Guide, at, problems);
  else if (table === 'meetings') meetingProblems(row as Meeting, at, problems);
  else if ('name' in row && table !== 'gatherings') nameProblems(table, row, at, problems);
  return problems;
}

function referenceProblems<T extends TableName>(
  table: T,
  row: Records[T],
  view: View,
  at: string,
  problems: Problem[],
): void {
  eachReference(table, row, ({ to, id, kind, soft }, trail) => {
    if (soft) return;
    const named = view.get(to, id);
    if (!named) {
      tell(problems, {
        path: `${at}/${trail.join('/')}`,
        code: `missing-${nounOf(to).replace(' ', '-')}`,
        message: `${capital(labelOf(table, row))} names ${oneOf(nounOf(to))} that is not in the journal (${id}).`,
      });
    } else if (kind && (named as Heading).kind !== kind) {
      tell(problems, {
        path: `${at}/${trail.join('/')}`,
        code: 'wrong-kind',
        message: `${capital(labelOf(table, row))} needs ${oneOf(kind)} where it names ${labelOf(to, named)}.`,
      });
    }
  });
}

function entryProblems(entry: Entry, at: string, problems: Problem[]): void {
  if (entry.ties.length < 2) return;
  const seen = new Set<string>();
  entry.ties.forEach((tie, index) => {
    const key = tieKey(tie);
    if (seen.has(key)) {
      tell(problems, {
        path: `${at}/ties/${index}`,
        code: 'doubled-tie',
        message: `${capital(labelOf('entries', entry))} holds the same tie twice (${tie.heading}).`,
      });
    }
    seen.add(key);
  });
}

function headingProblems(heading: Heading, view: View, at: string, problems: Problem[]): void {
  nameProblems('headings', heading, at, problems);
  if (heading.kind === 'book') doubledProblems(heading, 'authors', heading.authors, at, problems);
  if (heading.kind === 'person') {
    doubledProblems(heading, 'books', heading.books ?? [], at, problems);
  }
  if (heading.kind !== 'theme') return;
  doubledProblems(heading, 'broader', heading.broader, at, problems);
  doubledProblems(heading, 'related', heading.related, at, problems);
  const label = capital(labelOf('headings', heading));
  heading.related.forEach((id, index) => {
    const path = `${at}/related/${index}`;
    const other = view.get('headings', id);
    if (id === heading.id) {
      tell(problems, { path, code: 'self-relation', message: `${label} is related to itself.` });
    } else if (other?.kind === 'theme' && !membersOf(other.related).has(heading.id)) {
      const message = `${label} is related to ${labelOf('headings', other)}, which does not say so too.`;
      tell(problems, { path, code: 'one-sided-relation', message });
    }
    if (membersOf(heading.broader).has(id)) {
      const message = `${label} has the same theme as broader and as related (${id}).`;
      tell(problems, { path, code: 'related-and-broader', message });
    }
  });
}

function doubledProblems(
  heading: Heading,
  field: string,
  ids: readonly HeadingId[],
  at: string,
  problems: Problem[],
): void {
  if (ids.length < 2 || membersOf(ids).size === ids.length) return;
  tell(problems, {
    path: `${at}/${field}`,
    code: 'doubled-reference',
    message: `${capital(labelOf('headings', heading))} names the same heading twice as ${field}.`,
  });
}

/** Lists as sets, remembered by list because the list of a well connected theme is asked for once from each side. */
const sets = new WeakMap<readonly HeadingId[], ReadonlySet<HeadingId>>();
function membersOf(ids: readonly HeadingId[]): ReadonlySet<HeadingId> {
  let set = sets.get(ids);
  if (!set) sets.set(ids, (set = new Set(ids)));
  return set;
}

function nameProblems<T extends TableName>(
  table: T,
  row: Records[T],
  at: string,
  problems: Problem[],
): void {
  if ((row as { name: string }).name.trim() !== '') return;
  const message = `${capital(oneOf(nounOf(table, row)))} has no name (${row.id}).`;
  tell(problems, { path: `${at}/name`, code: 'no-name', message });
}

function guideProblems(guide: Guide, at: string, problems: Problem[]): void {
  const check = (items: Guide['parts'][number]['items'], path: string): void =>
    items.forEach(({ entry, text, free }, index) => {
      if (entry === undefined && text === undefined && free === undefined) {
        const message = `${capital(labelOf('guides', guide))} holds an item with nothing in it.`;
        tell(problems, { path: `${path}/${index}`, code: 'empty-item', message });
      }
    });
  guide.parts.forEach((part, index) => check(part.items, `${at}/parts/${index}/items`));
  check(guide.spare ?? [], `${at}/spare`);
}

function meetingProblems(meeting: Meeting, at: string, problems: Problem[]): void {
  meeting.items.forEach(({ entry, text }, index) => {
    if (entry !== undefined || text !== undefined) return;
    const message = `The meeting of ${meeting.on} holds an item with nothing in it.`;
    tell(problems, { path: `${at}/items/${index}`, code: 'empty-item', message });
  });
}

/** Whether a theme would be found again by going to broader and broader themes. */
export function broaderThanItself(view: View, theme: ThemeHeading): boolean {
  const seen = new Set<HeadingId>();
  const waiting = [...theme.broader];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    if (id === theme.id) return true;
    if (seen.has(id)) continue;
    seen.add(id);
    const next = view.get('headings', id);
    if (next?.kind === 'theme') for (const up of next.broader) waiting.push(up);
  }
  return false;
}

export function circleProblem(theme: ThemeHeading): Problem {
  return {
    path: `headings/${theme.id}/broader`,
    code: 'circle-of-themes',
    message: `${capital(labelOf('headings', theme))} would be broader than itself.`,
  };
}

/** One problem for each circle among broader themes, by one depth-first walk without recursion. */
function circlesOfThemes({ tables: { headings } }: Journal): Problem[] {
  const problems: Problem[] = [];
  const done = new Set<HeadingId>();
  const broaderOf = (id: HeadingId): HeadingId[] => {
    const row = headings.get(id);
    return row?.kind === 'theme' && Array.isArray(row.broader) ? row.broader : [];
  };
  for (const start of headings.values()) {
    if (start.kind !== 'theme' || done.has(start.id)) continue;
    const open = new Set<HeadingId>([start.id]);
    const way = [{ id: start.id, next: 0 }];
    for (let step = way.at(-1); step; step = way.at(-1)) {
      const up = broaderOf(step.id)[step.next++];
      if (up === undefined) {
        open.delete(step.id);
        done.add(step.id);
        way.pop();
      } else if (open.has(up)) {
        tell(problems, circleProblem(headings.get(step.id) as ThemeHeading));
      } else if (!done.has(up)) {
        open.add(up);
        way.push({ id: up, next: 0 });
      }
    }
  }
  return problems;
}
