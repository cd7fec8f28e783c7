/** A guide composed for each meeting of a series, and the series told again from guides that are kept. */
import type { Edit } from '../journal/edits';
import { Draft } from '../journal/draft';
import { counted } from '../journal/labels';
import type { BookHeading, EntryId, Guide, GuideId, Journal } from '../journal/records';
import { figureOf, isNumbered } from '../journal/place-order';
import { addDays, daysFromTo } from '../reading/days';
import { composeGuide } from './composing';
import type { Core } from './core';
import {
  meetingOf,
  seriesPlan,
  unitsOf,
  USUAL_TIME,
  type Series,
  type SeriesAsk,
  type SeriesMeeting,
} from './series';
import { fromTemplate } from './templates';

type SeriesMade =
  | { ok: true; edit: Edit; guides: GuideId[]; series: Series; empty: number }
  | { ok: false; code: string; message: string };

/**
 * A guide composed for each meeting, as one edit. No entry stands in two of them, nor among the
 * spares of another: it is the earliest that keeps a spare both might have. `empty` counts the meetings for which the journal has nothing to place yet.
 */
export function seriesMade(core: Core, ask: SeriesAsk): SeriesMade {
  const { tables } = core.journal;
  const series = seriesPlan(core.journal, ask);
  if (!series.ok) return series;
  const like = ask.like && tables.guides.get(ask.like);
  const draft = new Draft(core.journal);
  const placed = new Set<EntryId>();
  const made: Guide[] = [];
  const kept = {
    id: core.around.newId(),
    ...(ask.chapters ? { chapters: ask.chapters } : {}),
  };
  let empty = 0;
  for (const meeting of series.meetings) {
    const guide = guideFor(core, ask, series, meeting, like || undefined, placed);
    const items = guide.parts.flatMap((part) => part.items);
    for (const { entry } of items) if (entry) placed.add(entry);
    if (!items.some(({ entry }) => entry)) empty += 1;
    made.push(guide);
  }
  const spared = new Set<EntryId>();
  for (const { spare = [], ...guide } of made) {
    const own = spare.filter(({ entry }) => !entry || !(placed.has(entry) || spared.has(entry)));
    for (const { entry } of own) if (entry) spared.add(entry);
    draft.put('guides', { ...guide, ...(own.length > 0 ? { spare: own } : {}), series: kept });
  }
  const guides = made.map(({ id }) => id);
  const does = `Make a series of ${counted(guides.length, 'meeting')} over ${series.book.name}`;
  return { ok: true, edit: draft.edit(does), guides, series, empty };
}

function guideFor(
  core: Core,
  ask: SeriesAsk,
  { book, at }: Series,
  meeting: SeriesMeeting,
  like: Guide | undefined,
  placed: ReadonlySet<EntryId>,
): Guide {
  const made = core.nowIso();
  const id = core.around.newId() as GuideId;
  const minutes = ask.minutes ?? like?.minutes;
  const shape = ask.shape ?? like?.shape;
  const frame = like && like.minutes === minutes && like.shape === shape ? like : undefined;
  const circle = ask.circle ?? like?.circle;
  const begun: Guide = frame
    ? fromTemplate(frame, { id, made, title: meeting.title })
    : {
        id,
        made,
        title: meeting.title,
        shape: shape ?? 'discussion',
        focus: { words: [], headings: [], entries: [] },
        minutes: minutes ?? 60,
        parts: [],
      };
  const others = (like?.focus.headings ?? []).filter(
    ({ heading }) => core.journal.tables.headings.get(heading)?.kind === 'theme',
  );
  const { guide } = composeGuide(core, {
    focus: {
      words: [],
      headings: [{ heading: book.id, ...meeting.chapters }, ...others],
      entries: [],
      ...(like?.focus.strands ? { strands: like.focus.strands } : {}),
    },
    ...(circle ? { circle } : {}),
    minutes: begun.minutes,
    shape: begun.shape,
    on: meeting.on,
    starts: `${meeting.on}T${at}`,
    title: meeting.title,
    ...(begun.aims ? { aims: begun.aims } : {}),
    ...(begun.restMonths === undefined ? {} : { restMonths: begun.restMonths }),
    ...(frame
      ? {
          parts: frame.parts.map(({ name, minutes: long, aim }) => ({
            name,
            minutes: long,
            ...(aim ? { aim } : {}),
          })),
        }
      : {}),
    again: { ...begun, refused: [...placed] },
  });
  const { refused: _refused, ...whole } = guide;
  return whole;
}

interface SeriesKept {
  series: Series;
  /** In the order of the meetings. */
  guides: GuideId[];
}

/**
 * The series a kept guide is of, by day: the guides made together, or where they were not, those with this guide's
 * circle and a stretch of chapters of its book. Undefined where the guide is of no series.
 */
export function seriesOfGuide(journal: Journal, id: GuideId): SeriesKept | undefined {
  const guide = journal.tables.guides.get(id);
  const book = guide && bookOf(journal, guide);
  if (!book) return undefined;
  const along = [...journal.tables.guides.values()].flatMap((one) => {
    const on = one.template || !isAlong(journal, guide, one) ? undefined : one.starts?.slice(0, 10);
    return on ? [{ guide: one, on }] : [];
  });
  along.sort((a, b) => (a.on + a.guide.id < b.on + b.guide.id ? -1 : 1));
  if (along.length === 0) return undefined;
  const units = unitsOf(book, guide.series?.chapters);
  const meetings = along.map(({ guide: one, on }, at): SeriesMeeting => {
    const earlier = along[at - 1]?.on;
    const gap = earlier ? daysFromTo(earlier, on) - 1 : gapOf(along.map((each) => each.on));
    const when = { on, read: addDays(on, -gap), days: Math.max(1, gap) };
    const own = stretchOf(journal, one);
    if (!own) return { on, read: when.read, title: one.title };
    const [from = 0, to = 0] = [numberOf(own.from), numberOf(own.to)].sort((a, b) => a - b);
    const stretch = { from, to };
    const within = units?.chapters && from >= 1 && to <= units.sizes.length ? units : UNKNOWN;
    return { ...meetingOf(book, within, stretch, when), title: one.title };
  });
  const series: Series = {
    ok: true,
    book: { id: book.id, name: book.name },
    meetings,
    pages: units?.chapters ? units.pages : 'unknown',
    said: `${counted(meetings.length, 'meeting')} over ${book.name}.`,
    at: guide.starts?.slice(11, 16) ?? USUAL_TIME,
  };
  return { series, guides: along.map((one) => one.guide.id) };
}

const UNKNOWN = { sizes: [], chapters: true, pages: 'unknown' as const };

/** The book of a series: that of a stretch of chapters, or for a series parted by pages the first the guide is for. */
function bookOf(journal: Journal, guide: Guide): BookHeading | undefined {
  const { headings } = journal.tables;
  const own = stretchOf(journal, guide)?.heading;
  const books = guide.focus.headings.flatMap(({ heading }) => {
    const found = headings.get(heading);
    return found?.kind === 'book' && (own ? heading === own : guide.series) ? [found] : [];
  });
  return books[0];
}

function isAlong(journal: Journal, guide: Guide, one: Guide): boolean {
  if (guide.series) return one.series?.id === guide.series.id;
  const own = stretchOf(journal, guide)?.heading;
  return !one.series && one.circle === guide.circle && stretchOf(journal, one)?.heading === own;
}

const gapOf = ([first, second]: string[]): number =>
  first && second ? Math.max(1, daysFromTo(first, second) - 1) : 7;

const numberOf = (chapter: string | undefined): number => figureOf(chapter)?.value ?? 0;

function stretchOf(
  journal: Journal,
  { focus }: Guide,
): Guide['focus']['headings'][number] | undefined {
  const found = focus.headings.find(
    ({ heading, from, to }) =>
      from &&
      to &&
      isNumbered(from) &&
      isNumbered(to) &&
      journal.tables.headings.get(heading)?.kind === 'book',
  );
  return found;
}
