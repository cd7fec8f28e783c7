/** The printing part of the desk over an engine. */
import { putRow } from '../journal/make-edits';
import type { CircleId, Guide, GuideId } from '../journal/records';
import { closedHeadings } from '../publish/open-rows';
import type { DeskPart } from './desk-part';
import { publishBook, bookYears } from './publishing-book';
import type { Faces } from './publishing';
import { fileName } from './publishing';
import { publishJournal, type JournalFile } from './publishing-journal';
import type { FileMade, PrintingDesk } from './printing-desk';
import { chaptersSeen, seriesPlan } from './series';
import { seriesMade, seriesOfGuide } from './series-made';
import { publishSchedule } from './series-schedule';
import { fromTemplate, templateOf } from './templates';

export function printingDesk({ core, apply, loaded }: DeskPart, faces: Faces): PrintingDesk {
  const around = { now: () => core().around.now(), faces };
  const guideOf = (id: GuideId): Guide | undefined => core().journal.tables.guides.get(id);
  const circleOf = (id: CircleId | undefined) =>
    id ? core().journal.tables.circles.get(id) : undefined;
  const gone = { ok: false as const, said: 'That guide is no longer there.', code: 'gone' };
  const sealed = {
    ok: false as const,
    said: 'This book is of a sealed list, and nothing sealed is given out.',
    code: 'sealed',
  };
  const fresh = (): { id: GuideId; made: string } => ({
    id: core().around.newId() as GuideId,
    made: core().nowIso(),
  });
  return {
    async book(of, how) {
      await loaded();
      const made = await publishBook(core().journal, of, around, how);
      return made.ok
        ? handed(made.file.name, made.file)
        : { ok: false, said: made.message, code: made.code };
    },
    async years() {
      await loaded();
      return bookYears(core().journal);
    },
    async journal(kind, how) {
      await loaded();
      const { journal } = core();
      const file = await publishJournal(journal, kind, around, how);
      const name = fileName(journal.name, kind === 'html' ? 'family-copy' : kind, file.ending);
      return handed(name, file);
    },
    async keepTemplate(id, title) {
      const guide = guideOf(id);
      if (!guide) return gone;
      const template = templateOf(guide, { ...fresh(), ...(title ? { title } : {}) });
      const edit = putRow(core().journal, 'guides', template);
      return apply({ ...edit, does: `Keep ${template.title} as a template` }, template.id);
    },
    async beginFrom(id) {
      const template = guideOf(id);
      if (!template) return gone;
      const guide = fromTemplate(template, fresh());
      const edit = putRow(core().journal, 'guides', guide);
      return apply({ ...edit, does: `Begin a guide from ${template.title}` }, guide.id);
    },
    series: async (ask) => seriesPlan(core().journal, ask),
    async lengthOf(id) {
      await loaded();
      const book = core().journal.tables.headings.get(id);
      const seen = chaptersSeen(core().journal, id);
      if (book?.kind !== 'book') return { name: '' };
      return {
        name: book.name,
        ...(book.chapters?.length ? { chapters: book.chapters.length } : {}),
        ...(seen ? { seen } : {}),
        ...(book.pages ? { pages: book.pages } : {}),
      };
    },
    async makeSeries(ask) {
      await loaded();
      const made = seriesMade(core(), ask);
      if (!made.ok) return { ok: false, said: made.message, code: made.code };
      const done = await apply(made.edit, made.guides[0]);
      const said =
        done.ok && made.empty > 0
          ? `${done.said}; for ${made.empty} of them the journal holds nothing to place yet`
          : done.said;
      return { ...done, said, guides: made.guides };
    },
    async schedule(of) {
      const { journal } = core();
      if (typeof of === 'string') {
        const kept = seriesOfGuide(journal, of);
        if (!kept)
          return {
            ok: false,
            said: 'This guide is of no series: it has no day, or no chapters of a book.',
            code: 'no-series',
          };
        if (closedHeadings(journal).has(kept.series.book.id)) return sealed;
        const circle = circleOf(guideOf(of)?.circle);
        const file = await publishSchedule(
          journal,
          kept.series,
          { guides: kept.guides, ...(circle ? { circle } : {}) },
          around.now(),
        );
        return handed(file.name, file);
      }
      const series = seriesPlan(journal, of);
      if (!series.ok) return { ok: false, said: series.message, code: series.code };
      if (closedHeadings(journal).has(series.book.id)) return sealed;
      const circle = circleOf(of.circle);
      const more = {
        ...(circle ? { circle } : {}),
        ...(of.minutes ? { minutes: of.minutes } : {}),
      };
      const file = await publishSchedule(journal, series, more, around.now());
      return handed(file.name, file);
    },
  };
}

function handed(name: string, { type, bytes, holds, said }: JournalFile): FileMade {
  return { ok: true, name, type, bytes: bytes.buffer, holds, said };
}
