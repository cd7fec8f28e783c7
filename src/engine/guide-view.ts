/** A guide as the workbench shows it: told, timed, weighed against its aims, with what a careful colleague would point out. */
import type { Entry, Guide, GuideItem, Heading, Journal, Level } from '../journal/records';
import { LEVELS } from '../journal/records';
import { usesOf } from '../journal/uses';
import { sayDate } from '../language/dates';
import { plainText } from '../language/markdown';
import { countWords } from '../language/tokens';
import { aimsFor } from '../plan/aims';
import { restOf } from '../plan/rest';
import { pairStep } from '../plan/talk';
import { cautionsOf } from './care';
import type { GuideView, ItemView, Remark } from './desk';
import type { Core } from './core';
import { levelOf } from './planning';
import { tiesSaid } from './rows';

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
  const text = item.text ?? (entry ? plainText(entry.text) : 'An entry since removed');
  const level = item.level ?? (entry ? levelOf(entry, text) : undefined);
  const use = entry && guide.circle ? usesOf(journal, entry.id, guide.circle) : undefined;
  const on = guide.starts?.slice(0, 10) ?? engine.nowIso().slice(0, 10);
  const rested = !use?.last || restOf(use.last, on, guide.restMonths ?? 24) > 0;
  const went = use?.meetings[0]?.went;
  return {
    key: at.key,
    clock: clockOf(guide.starts, at.after),
    minutes: item.minutes,
    must: item.must,
    fixed: item.fixed ?? false,
    text,
    ...(entry ? { entry: entry.id, kind: entry.kind } : { kind: item.kind ?? 'free' }),
    ...(item.free ? { free: item.free } : {}),
    ...(entry?.title ? { title: entry.title } : {}),
    ...(level ? { level } : {}),
    levelProposed: !item.level && entry?.levelBy !== 'reader',
    reworded: Boolean(entry && item.text !== undefined),
    ...(item.cue ? { cue: item.cue } : {}),
    ties: entry ? tiesSaid(journal, entry.ties) : [],
    ...(use?.last
      ? {
          asked: `Asked of this circle ${sayDate(use.last)}${went === 'flat' ? ', went flat' : ''}`,
        }
      : {}),
    rested,
  };
}

export function guideView(engine: Core, guide: Guide): GuideView {
  let after = 0;
  const entries: Entry[] = [];
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
  const remarks = [
    ...timeRemarks(guide, parts, over),
    ...restRemarks(parts),
    ...groupRemarks(engine.journal, guide),
    ...quoteRemarks(engine.journal, parts, entries),
    ...cautionsOf(entries).said.map((text): Remark => ({ code: 'hazard', strong: 'Care.', text })),
  ];
  return {
    parts,
    planned: after,
    over,
    levels,
    remarks,
    clock: clockOf(guide.starts, 0),
    ends: clockOf(guide.starts, guide.minutes),
  };
}

function timeRemarks(guide: Guide, parts: GuideView['parts'], over: number): Remark[] {
  const items = parts.flatMap((part) => part.items);
  if (items.length === 0) return [];
  if (over > 0) {
    const loose = parts
      .slice(0, -1)
      .flatMap((part) => part.items)
      .filter((item) => !item.must);
    const last = loose.at(-1);
    const widest = [...parts].sort((a, b) => b.filled - a.filled)[0]!;
    const leave = last ? `Leave out “${short(last.text)}”, or trim` : 'Trim';
    return [
      {
        code: 'over',
        strong: `${over} ${over === 1 ? 'minute' : 'minutes'} over.`,
        text: `${leave} ${widest.name} to ${Math.max(0, widest.filled - over)}.`,
      },
    ];
  }
  if (over < -Math.max(5, guide.minutes * 0.12)) {
    return [
      {
        code: 'under',
        strong: `${-over} minutes free.`,
        text: 'Put something in, or keep them for talk.',
      },
    ];
  }
  return [];
}

function restRemarks(parts: GuideView['parts']): Remark[] {
  const tired = parts.flatMap((part) => part.items).filter((item) => !item.rested);
  if (tired.length === 0) return [];
  const strong =
    tired.length === 1 ? 'One item not yet rested:' : `${tired.length} items not yet rested:`;
  const text = tired
    .map(
      (item) => `${short(item.text)} (${(item.asked ?? '').replace('Asked of this circle ', '')})`,
    )
    .join('; ');
  return [{ code: 'rest', strong, text: `${text}.` }];
}

function groupRemarks(journal: Journal, guide: Guide): Remark[] {
  const size = guide.circle && journal.tables.circles.get(guide.circle)?.size;
  const step = size ? pairStep(size) : undefined;
  if (!step) return [];
  const paired = guide.parts.some((part) => part.items.some((item) => item.free === 'pair'));
  return paired ? [] : [{ code: 'pairs', strong: 'A large circle.', text: step.text }];
}

/** Quotations without a page, and how many words are quoted from each book: a prompt, no verdict. */
function quoteRemarks(
  journal: Journal,
  parts: GuideView['parts'],
  entries: readonly Entry[],
): Remark[] {
  const out: Remark[] = [];
  const words = new Map<string, { book: Heading; words: number }>();
  const unplaced: string[] = [];
  for (const entry of entries) {
    if (entry.kind !== 'quote') continue;
    const tie = entry.ties.find((one) => journal.tables.headings.get(one.heading)?.kind === 'book');
    const book = tie && journal.tables.headings.get(tie.heading);
    if (!book) continue;
    const held = words.get(book.id) ?? { book, words: 0 };
    held.words += countWords(plainText(entry.text));
    words.set(book.id, held);
    if (!tie.place?.page && !tie.place?.chapter) unplaced.push(book.name);
  }
  if (unplaced.length > 0) {
    out.push({
      code: 'unchecked',
      strong: 'Quote unchecked:',
      text: `no page given for ${[...new Set(unplaced)].join(', ')}.`,
    });
  }
  const counted = [...words.values()].map(({ book, words: count }) => `${count} from ${book.name}`);
  if (counted.length > 0)
    out.push({ code: 'quoted', strong: 'Words quoted:', text: `${counted.join(', ')}.` });
  return out;
}

const short = (text: string): string =>
  text.length > 46 ? `${text.slice(0, text.lastIndexOf(' ', 44))}…` : text;
