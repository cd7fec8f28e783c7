import type { FindAnswer, Why } from '../find/answer';
import type { FindQuery } from '../find/query';
import type { HeadingId } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import type { FindResult, FindShown } from './answers';
import type { Core } from './core';
import { entryRow } from './rows';

const FIELDS: Record<Why['field'], string> = {
  text: 'in the text',
  title: 'in the title',
  answer: 'in the answer',
  probes: 'in the follow-ups',
  heading: 'in a tie',
  source: 'in where it is from',
  picture: 'in what the picture shows',
};

/** One reason told in words: "storm in the text", "tied to Courage", "brave, near courage". */
function whySaid(why: Why): string {
  switch (why.how) {
    case 'heading':
      return `tied to ${why.word}`;
    case 'phrase':
      return `“${why.word}” ${FIELDS[why.field]}`;
    case 'related':
      return why.field === 'heading'
        ? `tied to ${why.word}, near ${why.of ?? 'your words'}`
        : `${why.word}, near ${why.of ?? 'your words'}, ${FIELDS[why.field]}`;
    case 'typo':
      return `${why.word}, read for ${why.of ?? 'your word'}`;
    case 'form':
      return `${why.word}, a form of ${why.of ?? 'your word'}, ${FIELDS[why.field]}`;
    default:
      return `${why.word} ${FIELDS[why.field]}`;
  }
}

/** Asks the index, then tells rows, reasons and names in the words of the journal. */
export function findResult(engine: Core, query: FindQuery): FindResult {
  return resultOf(engine, engine.findIndex.find(query, engine.nowIso()));
}

function resultOf({ journal }: Core, found: FindAnswer): FindResult {
  const hits = found.hits.flatMap((hit) => {
    const entry = journal.tables.entries.get(hit.id);
    if (!entry) return [];
    return [
      {
        ...entryRow(journal, entry),
        score: hit.score,
        why: hit.why.map(whySaid),
        related: hit.related,
        marks: hit.marks,
      },
    ];
  });
  const headings = found.headings.flatMap(({ id }) => {
    const heading = journal.tables.headings.get(id);
    return heading
      ? [
          {
            id,
            name: heading.name,
            kind: heading.kind,
            entries: entriesTiedTo(journal, id as HeadingId).size,
          },
        ]
      : [];
  });
  const guides = found.guides.flatMap((id) => {
    const guide = journal.tables.guides.get(id);
    return guide ? [{ id, title: guide.title }] : [];
  });
  const meetings = found.meetings.flatMap((id) => {
    const meeting = journal.tables.meetings.get(id);
    if (!meeting) return [];
    const circle = journal.tables.circles.get(meeting.circle)?.name ?? '';
    const title = meeting.guide && journal.tables.guides.get(meeting.guide)?.title;
    return [{ id, on: meeting.on, circle, ...(title ? { title } : {}) }];
  });
  const { kind, theme, book, person, year, use } = found.facets;
  return {
    total: found.total,
    byWords: found.byWords,
    hits,
    facets: {
      kind,
      theme,
      book,
      person,
      year,
      use: { never: use.never, used: use.used, rested2y: use.rested2y, notWith: use.notWith ?? {} },
    },
    alsoLookedFor: [...new Set(found.alsoLookedFor.map(({ word }) => word))],
    headings,
    guides,
    meetings,
    loosen: found.loosen ?? [],
  };
}

/** As many values of a long row as a screen can use. */
const SHOWN_VALUES = 200;

/** The same answer made small enough to cross to a screen at every keystroke. */
export function shownResult(engine: Core, query: FindQuery): Omit<FindShown, 'coming'> {
  const asked = { ...query, facetValues: SHOWN_VALUES };
  const found = engine.findIndex.find(asked, engine.nowIso());
  const { theme, book, person, values } = found.facets;
  const names: Record<string, string> = {};
  const { headings } = engine.journal.tables;
  const name = (id: string): void => {
    names[id] = headings.get(id)?.name ?? '';
  };
  for (const row of [theme, book, person]) Object.keys(row).forEach(name);
  for (const chosen of [query.themes, query.books, query.people]) chosen?.forEach(name);
  return { ...resultOf(engine, found), names, values };
}
