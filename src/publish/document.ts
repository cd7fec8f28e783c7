/**
 * The room of printing. It owns the one model every printing of a guide is made from, and the
 * printings themselves (web page for paper, Markdown); it takes plain data, reads no files, chooses
 * nothing and keeps nothing.
 */
import type { Entry, GuideItem, Level } from '../journal/records';
import { LEVELS } from '../journal/records';
import { citeBook, type Citing } from './cite';
import { citePlainly } from './cite-forms';
import { capital, clockAt, endingOf, minuteOfDay, sayDay, sayNumber } from './clock';
import { cautionsFor, haveReady, ifLate } from './lists';
import { cuesOf, givenOf, hazardsOf } from './item-words';
import { escapeMarkdown, splitTable } from './safe-text';
import type { DocItem, DocPart, GuideDocument, GuideInput, Handout } from './model';

/* The model is read by everything that prints; callers of this room find its shapes beside its making. */
export type {
  CautionTexts,
  GuideInput,
  Cue,
  Given,
  DocItem,
  DocPart,
  GuideDocument,
  Passage,
  Activity,
  Handout,
} from './model';

/** The model of a guide, every entry looked up, every time worked out. An item whose entry is gone is left out, and so is a part with nothing in it. */
export function guideDocument(input: GuideInput): GuideDocument {
  const { guide, circle } = input;
  const start = minuteOfDay(guide.starts);
  const cited = (input.cite ?? citePlainly)(entriesOf(input, true), input.headings);
  let after = 0;
  const parts = guide.parts.flatMap((part): DocPart | [] => {
    const began = after;
    const items: DocItem[] = [];
    for (const item of part.items) {
      const made = itemOf(input, item, cited);
      if (!made) continue;
      items.push({ clock: clockAt(start, after), ...made });
      after += item.minutes;
    }
    if (items.length === 0) return [];
    const times = { from: clockAt(start, began), to: clockAt(start, after) };
    return { name: part.name, aim: part.aim, ...times, minutes: after - began, items };
  });
  const spare = (guide.spare ?? []).flatMap((item) => itemOf(input, item, cited, true) ?? []);
  const entries = entriesOf(input);
  const items = parts.flatMap((part) => part.items);
  const day = sayDay(guide.starts);
  const shown = [...items, ...spare];
  const lasts = guide.minutes;
  return {
    title: guide.title,
    subtitle: subtitleOf(input, guide.title),
    circle: circle?.name,
    day,
    when: whenOf(day, start, lasts, circle?.size),
    startsAt: start === undefined ? undefined : clockAt(start, 0),
    evening: start !== undefined && start >= 17 * 60,
    minutes: lasts,
    size: circle?.size,
    shape: guide.shape,
    objective: guide.objective,
    note: guide.note,
    parts,
    ending: endingOf(start, after, lasts, spare.length),
    haveReady: haveReady(
      entries,
      items,
      circle?.size,
      input.headings,
      guide.focus.headings.map(({ heading }) => heading),
    ),
    ifLate: ifLate(parts, input.late),
    cautions: cautionsFor(
      shown.flatMap((item) => item.hazards),
      input.cautions,
    ),
    levels: LEVELS.map((level) => ({ level, minutes: minutesAt(items, level) })),
    sources: cited.works(entries),
    sourcesHead: cited.head,
    worksGiven: cited.head === 'Sources' ? [] : cited.works(passagesIn(items, input)),
    until: [
      ...items.flatMap(({ given }) => (given?.as === 'until' ? given.text : [])),
      ...(input.untilNext ?? []),
    ],
    spare,
  };
}

/**
 * The handout of a guide. Only `given` of each item is read, and only the names of its fields are
 * copied. Spares stay with the leader.
 */
export function handoutOf(doc: GuideDocument): Handout {
  const given = doc.parts.flatMap((part) => part.items.flatMap((item) => item.given ?? []));
  const activities = given.flatMap((one) => (one.as === 'activity' ? one : []));
  const hazards = new Set(given.flatMap((one) => ('hazards' in one ? one.hazards : [])));
  return {
    title: doc.title,
    subtitle: doc.subtitle,
    circle: doc.circle,
    day: doc.day,
    passages: given.flatMap((one) =>
      one.as === 'passage' ? { text: one.text, cite: one.cite, language: one.language } : [],
    ),
    questions: given.flatMap((one) => (one.as === 'question' ? one.text : [])),
    activities: activities.map(({ title, text, space }) => ({ title, text, space })),
    until: doc.until,
    works: { head: doc.sourcesHead, list: doc.worksGiven },
    cautions: doc.cautions.filter(({ hazard }) => hazards.has(hazard)).map(({ text }) => text),
  };
}

function entriesOf({ guide, entries }: GuideInput, withSpare = false): Entry[] {
  const items = guide.parts.flatMap((part) => part.items);
  const ids = [...items, ...(withSpare ? (guide.spare ?? []) : [])].flatMap(
    (item) => item.entry ?? [],
  );
  return [...new Set(ids)].flatMap((id) => entries.get(id) ?? []);
}

/** The entries whose words go on the handout with a citation. */
const passagesIn = (items: readonly DocItem[], { entries }: GuideInput): Entry[] =>
  items.flatMap(({ entry, given }) =>
    given?.as === 'passage' && entry !== undefined ? (entries.get(entry) ?? []) : [],
  );

/** A spare gives nothing to the handout, so that all of it stays with the leader. */
function itemOf(
  input: GuideInput,
  item: GuideItem,
  cited: Citing,
  isSpare = false,
): DocItem | undefined {
  const entry = item.entry === undefined ? undefined : input.entries.get(item.entry);
  const text = item.text?.trim() ? item.text : (entry?.text ?? '');
  const title = entry ? entry.title : item.title;
  if (!entry && !text.trim() && !title && !item.free) return undefined;
  const cite = entry && cited.here(entry);
  const kind = entry?.kind ?? (item.free ? 'free' : (item.kind ?? 'free'));
  const language = kind === 'quote' && entry ? languageOf(entry, input) : undefined;
  const given = isSpare ? undefined : givenOf(item, entry, text, cite, language);
  const shown = given?.as === 'activity' && given.space === 'grid' ? splitTable(text).rest : text;
  return {
    entry: entry?.id,
    minutes: item.minutes,
    kind,
    level: item.level ?? entry?.level,
    text: shown.trim() || title ? shown : capital(FREE[item.free ?? 'other']),
    title,
    cite,
    language,
    cues: cuesOf(item, entry, cite, given, cited.head === 'Sources'),
    note: entry ? input.notes?.get(entry.id) : undefined,
    must: item.must,
    ifTime: item.ifTime ?? false,
    used: entry ? input.used?.get(entry.id) : undefined,
    hazards: hazardsOf(item, entry),
    given,
  };
}

const FREE: Record<NonNullable<GuideItem['free']>, string> = {
  break: 'a break',
  reading: 'reading aloud',
  pair: 'talk in pairs',
  narration: 'tell it back in your own words',
  copywork: 'copywork',
  other: 'left free',
};

function languageOf(entry: Entry, input: GuideInput): string | undefined {
  const from = entry.ties.find((tie) => tie.role === 'from');
  const book = from && input.headings.get(from.heading);
  return book?.kind === 'book' ? book.language : undefined;
}

function minutesAt(items: readonly DocItem[], level: Level): number {
  return items.reduce((sum, item) => sum + (item.level === level ? item.minutes : 0), 0);
}

/** The books, themes and strands of the focus: "Frederick Douglass, *Narrative*, 6 to 7, beside ...". */
function subtitleOf(input: GuideInput, title: string): string | undefined {
  const books: string[] = [];
  const others: string[] = [];
  for (const { heading: id, from, to } of input.guide.focus.headings) {
    const heading = input.headings.get(id);
    if (heading?.kind !== 'book') {
      if (heading) others.push(escapeMarkdown(heading.name));
      continue;
    }
    books.push(citeBook(heading, input.headings, false) + chaptersSaid(from, to));
  }
  // A strand is named only where nothing that makes it out is sealed.
  for (const { name, headings } of input.guide.focus.strands ?? [])
    if (headings.every((id) => input.headings.has(id))) others.push(escapeMarkdown(name));
  const said = books.length === 2 ? books.join(', set beside ') : books.join('; ');
  // A guide called after its themes has said so in its title.
  const named = escapeMarkdown(title);
  return said || (others.some((name) => !named.includes(name)) ? others.join(', ') : undefined);
}

/** ", chapters 6 and 7", with spaces that do not break inside it. */
function chaptersSaid(from: string | undefined, to: string | undefined): string {
  const first = from ?? to;
  if (first === undefined) return '';
  if (!from || !to || from === to) return `, chapter\u00A0${escapeMarkdown(first)}`;
  const joint = Number(to) === Number(from) + 1 ? 'and' : 'to';
  return `, chapters\u00A0${escapeMarkdown(from)} ${joint}\u00A0${escapeMarkdown(to)}`;
}

function whenOf(
  day: string | undefined,
  start: number | undefined,
  minutes: number,
  size?: number,
): string {
  const times =
    start === undefined
      ? `${minutes} minutes`
      : `${clockAt(start, 0)} to ${clockAt(start, minutes)}`;
  const places =
    size === undefined ? '' : ` ${capital(sayNumber(size))} ${size === 1 ? 'place' : 'places'}.`;
  return `${[day, times].filter(Boolean).join(', ')}.${places}`;
}
