/** Entries and headings whole, as a screen shows them. */
import type { Entry, EntryId, EntryKind, Heading, HeadingId, Journal } from '../journal/records';
import { seemingSame } from '../journal/names';
import { entriesTiedTo, usesOf } from '../journal/uses';
import { sayDate } from '../language/dates';
import { fold } from '../language/tokens';
import { tiedTo } from '../weave/tied';
import { cautionsOf, deferringOnce } from './care';
import { headingUsed } from './circle-history';
import type { EntryView, HeadingChoice, HeadingView } from './desk';
import type { Core } from './core';
import { entryRow } from './rows';
import { tiedResult } from './weaving';

/** Where an entry is from, in words; the reader's own note comes first. */
function fromSaid(entry: Entry): string | undefined {
  const { source } = entry;
  if (!source) return undefined;
  const file = [source.file, source.place].filter(Boolean).join(', ');
  return source.note ?? (file || undefined);
}

export function entryView(engine: Core, id: EntryId): EntryView | undefined {
  const { journal } = engine;
  const entry = journal.tables.entries.get(id);
  if (!entry) return undefined;
  const from = fromSaid(entry);
  return {
    entry,
    row: entryRow(journal, entry),
    number: engine.numberOf(id),
    ...(from ? { from } : {}),
    ...(entry.written ? { written: sayDate(entry.written) } : {}),
    cautions: deferringOnce(cautionsOf([entry]).said),
    uses: usesOf(journal, id).meetings.map((use) => {
      const circle = journal.tables.circles.get(use.circle)?.name ?? 'a circle';
      const guide = journal.tables.meetings.get(use.meeting)?.guide;
      const went =
        use.went && { well: ', went well', flat: ', went flat', mixed: ', mixed' }[use.went];
      return {
        circle,
        on: use.on,
        said: `${circle}, ${sayDate(use.on)}${went ?? ''}`,
        ...(use.went ? { went: use.went } : {}),
        ...(use.note ? { note: use.note } : {}),
        ...(guide ? { guide } : {}),
      };
    }),
  };
}

const named = (journal: Journal, ids: readonly HeadingId[]): { id: HeadingId; name: string }[] =>
  ids.flatMap((id) => {
    const heading = journal.tables.headings.get(id);
    return heading ? [{ id, name: heading.name }] : [];
  });

const FORMS = { print: 'in print', ebook: 'on screen', audio: 'by ear' };

export function headingView(engine: Core, id: HeadingId): HeadingView | undefined {
  const { journal } = engine;
  const heading = journal.tables.headings.get(id);
  if (!heading) return undefined;
  const { entries, proposed } = tiedResult(engine, id, { narrower: true });
  const theme = heading.kind === 'theme' ? heading : undefined;
  const used = headingUsed(journal, id);
  const counts: Partial<Record<EntryKind, number>> = {};
  for (const row of entries) counts[row.kind] = (counts[row.kind] ?? 0) + 1;
  return {
    heading,
    authors: heading.kind === 'book' ? named(journal, heading.authors) : [],
    broader: theme ? named(journal, theme.broader) : [],
    narrower: theme ? narrowerOf(journal, id) : [],
    related: theme ? named(journal, theme.related) : [],
    beside: besideOf(journal, heading, tiedTo(journal, id, { narrower: true })),
    entries,
    proposed,
    readings: [...journal.tables.readings.values()]
      .filter((reading) => reading.book === id)
      .map((reading) => {
        const when = reading.finished ?? reading.started;
        const said = `${when ? sayDate(when) : 'some time'} ${FORMS[reading.form]}`;
        return reading.rating === undefined ? { said } : { said, rating: reading.rating };
      }),
    ...(used ? { used } : {}),
    guides: [...journal.tables.guides.values()]
      .filter((guide) => guide.focus.headings.some((part) => part.heading === id))
      .map(({ id: guide, title }) => ({ id: guide, title })),
    same: seemingSame(journal, heading).map(({ id: same, name }) => ({ id: same, name })),
    counts,
  };
}

function narrowerOf(
  journal: Journal,
  id: HeadingId,
): { id: HeadingId; name: string; entries: number }[] {
  return [...journal.tables.headings.values()]
    .filter((one) => one.kind === 'theme' && one.broader.includes(id))
    .map((one) => ({ id: one.id, name: one.name, entries: entriesTiedTo(journal, one.id).size }));
}

/** Headings of another kind met together with this one, the most often first. */
function besideOf(
  journal: Journal,
  heading: Heading,
  entries: readonly EntryId[],
): HeadingView['beside'] {
  const wanted = heading.kind === 'book' ? 'person' : 'book';
  const counts = new Map<HeadingId, number>();
  for (const id of entries) {
    for (const tie of journal.tables.entries.get(id)?.ties ?? []) {
      if (journal.tables.headings.get(tie.heading)?.kind !== wanted) continue;
      counts.set(tie.heading, (counts.get(tie.heading) ?? 0) + 1);
    }
  }
  return [...counts]
    .sort((a, b) => b[1] - a[1])
    .flatMap(([id, count]) => {
      const found = journal.tables.headings.get(id);
      return found ? [{ id, name: found.name, kind: found.kind, entries: count }] : [];
    });
}

/** Headings by what is typed: names that begin so, then words in them, then other names; the busiest first. */
export function headingChoices(
  journal: Journal,
  typed: string,
  kind: Heading['kind'] | undefined,
  limit: number,
): HeadingChoice[] {
  const wanted = fold(typed.trim());
  const rank = (name: string): number => {
    const text = fold(name);
    if (text === wanted) return 0;
    if (text.startsWith(wanted) || text.replace(/^(the|an?) /, '').startsWith(wanted)) return 1;
    return ` ${text}`.includes(` ${wanted}`) ? 2 : text.includes(wanted) ? 3 : Infinity;
  };
  const found: (HeadingChoice & { rank: number })[] = [];
  for (const heading of journal.tables.headings.values()) {
    if (kind && heading.kind !== kind) continue;
    const own = rank(heading.name);
    const by =
      own < Infinity ? undefined : heading.alternates.find((name) => rank(name) < Infinity);
    const at = by === undefined ? own : rank(by) + 4;
    if (at === Infinity) continue;
    const entries = entriesTiedTo(journal, heading.id).size;
    found.push({
      id: heading.id,
      name: heading.name,
      kind: heading.kind,
      entries,
      rank: at,
      ...(by ? { by } : {}),
    });
  }
  return found
    .sort((a, b) => a.rank - b.rank || b.entries - a.entries || (a.name < b.name ? -1 : 1))
    .slice(0, limit)
    .map(({ rank: _rank, ...choice }) => choice);
}
