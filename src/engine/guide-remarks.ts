/** What a careful colleague would point out about a guide: time, rest, ages, frames, quotations, care. */
import type { Entry, Guide, GuideItem, Heading, Journal } from '../journal/records';
import { plainText } from '../language/markdown';
import { countWords } from '../language/tokens';
import { pairStep } from '../plan/talk';
import { cautionsOf } from './care';
import type { GuideView, Remark } from './desk';

interface Looked {
  parts: GuideView['parts'];
  over: number;
  entries: readonly Entry[];
  /** For each item what says what asks for care in it: its entry, or itself where that was removed. */
  careful: readonly (Entry | GuideItem)[];
}

export function remarksOn(
  journal: Journal,
  guide: Guide,
  { parts, over, entries, careful }: Looked,
): Remark[] {
  return [
    ...timeRemarks(guide, parts, over),
    ...restRemarks(parts),
    ...groupRemarks(journal, guide),
    ...frameRemarks(parts),
    ...ageRemarks(journal, guide, entries),
    ...quoteRemarks(journal, parts, entries),
    ...cautionsOf(careful).said.map((text): Remark => ({ code: 'hazard', strong: 'Care.', text })),
  ];
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
  const offer: GuideItem = {
    free: 'pair',
    text: 'A minute alone, three in pairs, then all together.',
    minutes: step.minutes,
    must: false,
    fixed: true,
  };
  return paired ? [] : [{ code: 'pairs', strong: 'A large circle.', text: step.text, offer }];
}

function frameRemarks(parts: GuideView['parts']): Remark[] {
  const open = parts.flatMap((part) => part.items).filter((item) => item.frame);
  if (open.length === 0) return [];
  const strong = open.length === 1 ? 'A frame to finish:' : `${open.length} frames to finish:`;
  return [{ code: 'frames', strong, text: `${open.map(({ text }) => short(text)).join('; ')}.` }];
}

/** The years of a band: "7-11", "8 and up", "8 to adult", "adults"; undefined where they cannot be told. */
function bandOf(ages: string | undefined): [number, number] | undefined {
  if (!ages) return undefined;
  const grown = /adult|grown/i.exec(ages);
  const [from, to] = (ages.slice(0, grown?.index).match(/\d+/g) ?? []).map(Number);
  if (grown) return [from ?? 18, 120];
  if (from === undefined) return undefined;
  if (to !== undefined) return [from, to];
  return /\+|up|over|on/i.test(ages) ? [from, 120] : [from, from];
}

/** What was written for other ages than those of the circle. */
function ageRemarks(journal: Journal, guide: Guide, entries: readonly Entry[]): Remark[] {
  const circle = guide.circle && journal.tables.circles.get(guide.circle);
  const band = bandOf(circle ? circle.ages : undefined);
  if (!circle || !band) return [];
  const other = entries.filter((entry) => {
    const own = bandOf(entry.ages);
    return own && (own[1] < band[0] || own[0] > band[1]);
  });
  if (other.length === 0) return [];
  const said = other.map(
    (entry) => `${short(entry.title ?? plainText(entry.text))} (${entry.ages})`,
  );
  return [{ code: 'ages', strong: 'Meant for other ages:', text: `${said.join('; ')}.` }];
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
