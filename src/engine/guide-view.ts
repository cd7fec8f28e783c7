/** A guide as the workbench shows it: told, timed, weighed against its aims, with what a careful colleague would point out. */
import type { Entry, Guide, GuideItem, Level } from '../journal/records';
import { LEVELS } from '../journal/records';
import { usesBefore } from '../journal/uses';
import { plainText } from '../language/markdown';
import { aimsFor } from '../plan/aims';
import { restOf } from '../plan/rest';
import type { GuideView, ItemView } from './desk';
import { remarksOn } from './guide-remarks';
import type { Core } from './core';
import { levelOf } from './planning';
import { tiesSaid } from './rows';
import { askedSaid } from './circle-history';
import { isFrame } from './frames';
import { seriesOfGuide } from './series-made';
import { cuesOf } from '../publish/item-words';
import { NOT_HERE } from '../journal/labels';
import { citeOf } from './care';

function clockOf(starts: string | undefined, after: number): string {
  const at = /T(\d{2}):(\d{2})/.exec(starts ?? '');
  const minutes = (at ? Number(at[1]) * 60 + Number(at[2]) : 0) + after;
  const hour = Math.floor(minutes / 60) % 24;
  const said = at && hour > 12 ? hour - 12 : hour;
  return `${said}.${String(minutes % 60).padStart(2, '0')}`;
}

function itemView(
  engine: Core,
  guide: Guide,
  item: GuideItem,
  at: { key: string; after: number },
): ItemView {
  const { journal } = engine;
  const entry = item.entry && journal.tables.entries.get(item.entry);
  const text =
    item.text === undefined && !entry
      ? NOT_HERE
      : plainText(item.text ?? (entry ? entry.text : ''));
  const title = entry ? entry.title : item.title;
  const level = item.level ?? (entry ? levelOf(entry, text) : undefined);
  const use = entry && guide.circle ? usesBefore(journal, entry.id, guide) : undefined;
  const on = guide.starts?.slice(0, 10) ?? engine.nowIso().slice(0, 10);
  const rested = !use?.last || restOf(use.last, on, guide.restMonths ?? 24) > 0;
  return {
    key: at.key,
    clock: clockOf(guide.starts, at.after),
    minutes: item.minutes,
    must: item.must,
    fixed: item.fixed ?? false,
    text,
    ...(item.entry ? { entry: item.entry } : {}),
    kind: entry ? entry.kind : (item.kind ?? 'free'),
    ...(item.free ? { free: item.free } : {}),
    ...(title ? { title } : {}),
    ...(level ? { level } : {}),
    levelProposed: !item.level && entry?.levelBy !== 'reader',
    reworded: Boolean(entry && item.text !== undefined),
    ...(item.cue ? { cue: item.cue } : {}),
    ...(item.ifTime ? { ifTime: true } : {}),
    ...(item.due ? { due: item.due } : {}),
    cues: cuesOf(
      item,
      entry || undefined,
      entry ? citeOf(journal, entry) : undefined,
      undefined,
    ).map(({ lead, text }) => ({ lead, text: cueText(text) })),
    frame: isFrame(item),
    ties: entry ? tiesSaid(journal, entry.ties) : [],
    ...(use?.last ? { asked: `Asked of this circle ${askedSaid(use)}` } : {}),
    rested,
  };
}

function seriesSaid({ journal }: Core, guide: Guide): Pick<GuideView, 'series'> {
  const kept = seriesOfGuide(journal, guide.id);
  const at = kept?.guides.indexOf(guide.id) ?? -1;
  if (!kept || at < 0 || kept.guides.length < 2) return {};
  const [before, after] = [kept.guides[at - 1], kept.guides[at + 1]];
  return {
    series: {
      at: at + 1,
      of: kept.guides.length,
      book: kept.series.book.name,
      ...(before ? { before } : {}),
      ...(after ? { after } : {}),
    },
  };
}

/** A cue as it is read on the screen: without marks, line by line, so that steps keep their numbers. */
const cueText = (text: string): string =>
  text.replace(/^(\s*\d+\.\s)?(.+)$/gm, (_, number: string | undefined, rest: string) => {
    return (number ?? '') + plainText(rest);
  });

export function guideView(engine: Core, guide: Guide): GuideView {
  let after = 0;
  const entries: Entry[] = [];
  const careful: (Entry | GuideItem)[] = [];
  const parts = guide.parts.map((part, p) => {
    const from = clockOf(guide.starts, after);
    let filled = 0;
    const items = part.items.map((item, i) => {
      const view = itemView(engine, guide, item, {
        key: `${p}.${i}.${item.entry ?? item.text ?? ''}`,
        after,
      });
      const entry = item.entry && engine.journal.tables.entries.get(item.entry);
      if (entry) entries.push(entry);
      careful.push(entry || item);
      after += item.minutes;
      filled += item.minutes;
      return view;
    });
    return {
      name: part.name,
      aim: part.aim ?? '',
      minutes: part.minutes,
      filled,
      from,
      to: clockOf(guide.starts, after),
      items,
    };
  });
  const aims = { ...aimsFor(guide.shape, guide.minutes), ...guide.aims };
  const held: Partial<Record<Level, number>> = {};
  for (const item of parts.flatMap((part) => part.items)) {
    if (item.level) held[item.level] = (held[item.level] ?? 0) + item.minutes;
  }
  const levels = LEVELS.map((level) => ({
    level,
    minutes: held[level] ?? 0,
    aim: Math.round(aims[level]),
  }));
  const over = after - guide.minutes;
  const remarks = remarksOn(engine.journal, guide, { parts, over, entries, careful });
  const spare = (guide.spare ?? []).map((item, i) =>
    itemView(engine, guide, item, { key: `spare.${i}.${item.entry ?? item.text ?? ''}`, after }),
  );
  return {
    parts,
    spare,
    refused: (guide.refused ?? []).flatMap((id) => {
      const entry = engine.journal.tables.entries.get(id);
      return entry ? [{ entry: id, kind: entry.kind, text: plainText(entry.text) }] : [];
    }),
    planned: after,
    over,
    levels,
    remarks,
    clock: clockOf(guide.starts, 0),
    ends: clockOf(guide.starts, guide.minutes),
    ...seriesSaid(engine, guide),
  };
}
