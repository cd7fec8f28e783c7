/** A guide printed: the engine hands the publishing room what it needs, and whoever runs it hands in the typefaces. */
import cautionTexts from '../../shared/cautions.json';
import type { Entry, EntryId, Guide, GuideItem, Heading, Journal } from '../journal/records';
import { usesBefore } from '../journal/uses';
import { sayDate } from '../language/dates';
import type { Citer } from '../publish/cite';
import { citerOf } from '../publish/cite-forms';
import { sayDay } from '../publish/clock';
import {
  guideDocument,
  handoutOf,
  type CautionTexts,
  type GuideDocument,
  type Handout,
} from '../publish/document';
import type { FontData } from '../publish/faces';
import { toHtml } from '../publish/html';
import { toMarkdown } from '../publish/markdown-out';
import { closedHeadings } from '../publish/open-rows';
import type { Pdf } from '../publish/pdf/pdf';
import { escapeMarkdown } from '../publish/safe-text';
import { toText } from '../publish/text-out';
import type { PublishHow } from './publish-how';
import type { Core } from './core';
import { seriesOfGuide } from './series-made';

/**
 * Reads the bytes of the faces a printing is set in; none where they cannot be had. `more` asks for
 * the letters beyond those of English and its neighbours, and is asked for only when one is met.
 */
export type Faces = (which?: 'usual' | 'more') => Promise<readonly FontData[]>;

/**
 * The document model of a guide, with what is known of earlier uses with its circle. Nothing of a sealed
 * list is in it; a guide that is itself for a book of such a list is refused with a sentence.
 */
function documentOf(
  engine: Core,
  whole: Guide,
  late?: readonly EntryId[],
  cite?: Citer,
): GuideDocument {
  const { tables } = engine.journal;
  const { guide, headings } = opened(engine.journal, whole);
  const items = [...guide.parts.flatMap((part) => part.items), ...(guide.spare ?? [])];
  const entries = new Map<string, Entry>();
  const used = new Map<string, string>();
  const notes = new Map<string, string>();
  for (const { entry: id } of items) {
    const entry = id && tables.entries.get(id);
    if (!entry) continue;
    entries.set(entry.id, entry);
    if (!guide.circle) continue;
    const { last, meetings } = usesBefore(engine.journal, entry.id, guide);
    if (last) used.set(entry.id, `Asked of this circle ${sayDate(last)}; put it differently.`);
    const note = meetings.find((use) => use.note)?.note;
    if (note) notes.set(entry.id, note);
  }
  const circle = guide.circle && tables.circles.get(guide.circle);
  return guideDocument({
    guide,
    entries,
    headings,
    untilNext: nextReading(engine.journal, guide),
    ...(circle ? { circle } : {}),
    cautions: cautionTexts as unknown as CautionTexts,
    used,
    notes,
    ...(late ? { late } : {}),
    ...(cite ? { cite } : {}),
  });
}

function opened(
  journal: Journal,
  guide: Guide,
): { guide: Guide; headings: ReadonlyMap<string, Heading> } {
  const { entries, headings } = journal.tables;
  const closed = closedHeadings(journal);
  if (closed.size === 0) return { guide, headings };
  if (guide.focus.headings.some(({ heading }) => closed.has(heading)))
    throw new Error('This guide is for a book of a sealed list, and nothing sealed is printed.');
  const isOpen = ({ entry }: GuideItem): boolean =>
    !(entry && entries.get(entry)?.ties.some(({ heading }) => closed.has(heading)));
  return {
    guide: {
      ...guide,
      parts: guide.parts.map((part) => ({ ...part, items: part.items.filter(isOpen) })),
      ...(guide.spare ? { spare: guide.spare.filter(isOpen) } : {}),
    },
    headings: new Map([...headings].filter(([id]) => !closed.has(id))),
  };
}

/** What to read for the next meeting of the series this guide is of: "Read *Heidi*, chapters 6 to 9, for Thursday 12 March 2026." */
function nextReading(journal: Journal, guide: Guide): string[] {
  const kept = seriesOfGuide(journal, guide.id);
  const at = kept?.guides.indexOf(guide.id) ?? -1;
  // A guide without a day stands nowhere among the meetings.
  const next = at < 0 ? undefined : kept?.series.meetings[at + 1];
  if (!kept || !next?.chapters) return [];
  const { from, to } = next.chapters;
  const chapters = from === to ? `chapter ${from}` : `chapters ${from} to ${to}`;
  const book = escapeMarkdown(kept.series.book.name);
  const about = kept.series.pages === 'estimated';
  const pages = next.pages
    ? ` (${about ? 'about ' : ''}pages ${next.pages.from} to ${next.pages.to})`
    : '';
  return [
    `Read *${book}*, ${escapeMarkdown(chapters)}${pages}, for ${sayDay(next.on) ?? next.on}.`,
  ];
}

const TYPES: Record<PublishHow['format'], { type: string; ending: string }> = {
  html: { type: 'text/html', ending: 'html' },
  markdown: { type: 'text/markdown', ending: 'md' },
  text: { type: 'text/plain', ending: 'txt' },
  pdf: { type: 'application/pdf', ending: 'pdf' },
  docx: {
    type: 'application/vnd.openxmlformats-officedocument.wordprocessingml.document',
    ending: 'docx',
  },
};

export const fileName = (title: string, copy: string, ending: string): string =>
  `${
    title
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-|-$/g, '')
      .toLowerCase() || 'guide'
  }-${copy}.${ending}`;

/** A file for the reader to keep. */
export interface Published {
  name: string;
  type: string;
  bytes: ArrayBuffer;
  /** Something the reader should know of it, in a finished sentence. */
  said?: string;
}

const NOTHING_GIVEN =
  'Nothing in this guide goes on a handout: passages, questions and work to do would.';

const isEmpty = ({ passages, questions, activities, until }: Handout): boolean =>
  [passages, questions, activities, until].every((list) => list.length === 0);

const saying = (said: readonly string[]): { said?: string } =>
  said.length > 0 ? { said: said.join(' ') } : {};

/** A guide as a file. Throws a sentence where it cannot be made. */
export async function publishGuide(
  engine: Core,
  guide: Guide,
  how: PublishHow,
  faces: Faces,
  late?: readonly EntryId[],
): Promise<Published> {
  const doc = documentOf(engine, guide, late, await citerOf(how.cite));
  const { type, ending } = TYPES[how.format];
  const name = fileName(guide.title, how.copy === 'leader' ? 'leaders-copy' : 'handout', ending);
  const said = how.copy === 'handout' && isEmpty(handoutOf(doc)) ? [NOTHING_GIVEN] : [];
  if (how.format === 'pdf') {
    const { bytes, missing } = await pdfOf(doc, how, faces, engine.around.now());
    if (missing.length > 0)
      said.push(
        `The typefaces have no ${missing.slice(0, 12).join(' ')}; empty frames stand for what is missing.`,
      );
    return { name, type, bytes: bytes.buffer, ...saying(said) };
  }
  if (how.format === 'docx') {
    const { toDocx } = await import('../publish/docx/docx');
    const bytes = await toDocx(doc, { ...how, made: engine.around.now() });
    return { name, type, bytes: bytes.buffer, ...saying(said) };
  }
  const text = await textOf(doc, how, faces);
  const bytes = new TextEncoder().encode(text).buffer as ArrayBuffer;
  return { name, type, bytes, ...saying(said) };
}

async function textOf(doc: GuideDocument, how: PublishHow, faces: Faces): Promise<string> {
  const { copy, paper, preset, lines } = how;
  if (how.format === 'markdown') return toMarkdown(doc, { copy });
  if (how.format === 'text') return toText(doc, { copy });
  return toHtml(doc, {
    copy,
    paper,
    fonts: await faces(),
    ...(preset ? { preset } : {}),
    ...(lines ? { lines } : {}),
  });
}

/** The library that writes PDF comes only when one is asked for; so do the faces of other alphabets. */
async function pdfOf(
  doc: GuideDocument,
  { copy, paper, preset, lines }: PublishHow,
  faces: Faces,
  made: Date,
): Promise<Pdf> {
  const { toPdf } = await import('../publish/pdf/pdf');
  const fonts = await faces();
  const how = {
    copy,
    paper,
    made,
    ...(preset ? { preset } : {}),
    ...(lines ? { lines } : {}),
  };
  const pdf = await toPdf(doc, { ...how, fonts });
  if (pdf.missing.length === 0) return pdf;
  const more = (await faces('more')).filter(({ letters = 'latin' }) => letters !== 'latin');
  return more.length > 0 ? toPdf(doc, { ...how, fonts: [...fonts, ...more] }) : pdf;
}
