/** Why an entry was found: the words it holds, where they stand, and what they answer. Told for shown hits only. */
import type { Entry, Journal } from '../journal/records';
import { plainText } from '../language/markdown';
import { tokens } from '../language/tokens';
import type { FindHit, Why } from './answer';
import { probesText, type Facts } from './documents';
import type { Expansion } from './expand';
import type { FieldName } from './fields';
import type { PassageIndex } from './passage-index';
import { foldedWords, type ReadQuery } from './query';
import type { Related } from './related';

export interface Asked {
  read: ReadQuery;
  expansions: ReadonlyMap<string, readonly Expansion[]>;
  related: readonly Related[];
  /** Words of the index that are near a typed one in meaning, by that word. */
  relatedWords: ReadonlyMap<string, readonly Expansion[]>;
}

const MOST_WHY = 16;
const FIRST: Record<Why['how'], number> = {
  phrase: 0,
  word: 1,
  form: 2,
  start: 2,
  typo: 3,
  heading: 4,
  related: 5,
};

/** What a word in a text stands for: the typed word, and how it comes from it. */
type Meant = ReadonlyMap<string, { of: string; how: Expansion['how'] }>;

/** All words that stand for a typed one; the same for every entry found. */
export function meantBy(index: PassageIndex, asked: Asked): Meant {
  const meant = new Map<string, { of: string; how: Expansion['how'] }>();
  const mean = (word: string, list: readonly Expansion[]): void => {
    for (const { term, how } of list) {
      const stands = index.words.wordOf(term);
      const held = meant.get(stands);
      if (!held || how === 'word') meant.set(stands, { of: word, how });
    }
  };
  asked.expansions.forEach((list, word) => mean(word, list));
  asked.relatedWords.forEach((list, word) => mean(word, list));
  return meant;
}

/** A hit of which it is not asked why. */
export const bareHit = (
  { id, kind }: Facts,
  { tier, score }: { tier: number; score: number },
): FindHit => ({ id, kind, score, related: tier > 0, why: [], marks: [] });

export function explain(
  journal: Journal,
  facts: Facts,
  { tier, score }: { tier: number; score: number },
  asked: Asked,
  meant: Meant,
): FindHit[] {
  const entry = journal.tables.entries.get(facts.id);
  if (!entry) return [];
  const text = plainText(entry.text);
  const { marks, why } = inText(text, asked.read, meant);
  for (const [field, words] of otherFields(entry)) {
    for (const word of new Set(words)) {
      const so = meant.get(word);
      if (so) why.push({ word, how: so.how, field, ...(so.of === word ? {} : { of: so.of }) });
    }
  }
  why.push(...byTies(journal, entry, asked, meant));
  const told = [
    ...new Map(why.map((one) => [`${one.how} ${one.word} ${one.field}`, one])).values(),
  ];
  told.sort((a, b) => FIRST[a.how] - FIRST[b.how]);
  return [
    {
      id: entry.id,
      kind: entry.kind,
      score,
      related: tier > 0,
      why: told.slice(0, MOST_WHY),
      marks,
    },
  ];
}

function inText(
  text: string,
  read: ReadQuery,
  meant: Meant,
): { marks: [number, number][]; why: Why[] } {
  const list = tokens(text);
  const lit = new Map<number, number>();
  const why: Why[] = [];
  for (const token of list) {
    const so = meant.get(token.folded);
    if (!so) continue;
    lit.set(token.start, token.end);
    why.push({
      word: token.text,
      how: so.how,
      field: 'text',
      ...(so.of === token.folded ? {} : { of: so.of }),
    });
  }
  const folded = list.map((token) => token.folded);
  for (const phrase of read.phrases) {
    for (let at = 0; at + phrase.length <= list.length; at++) {
      if (!phrase.every((word, step) => folded[at + step] === word)) continue;
      const start = list[at]!.start;
      const end = list[at + phrase.length - 1]!.end;
      for (let i = at; i < at + phrase.length; i++) lit.delete(list[i]!.start);
      lit.set(start, end);
      why.push({ word: text.slice(start, end), how: 'phrase', field: 'text' });
    }
  }
  const marks = [...lit].sort((a, b) => a[0] - b[0]);
  return { marks, why };
}

function otherFields(entry: Entry): [FieldName, string[]][] {
  return [
    ['title', foldedWords(entry.title ?? '')],
    ['answer', foldedWords(plainText(entry.answer ?? ''))],
    ['probes', foldedWords(probesText(entry))],
    ['source', foldedWords(`${entry.source?.note ?? ''} ${entry.source?.file ?? ''}`)],
    ['picture', foldedWords(entry.picture?.alt ?? '')],
  ];
}

/** Ties whose heading is called by a typed word, and ties to headings a typed word only leads to. */
function byTies(journal: Journal, entry: Entry, asked: Asked, meant: Meant): Why[] {
  const out: Why[] = [];
  for (const { heading: id } of entry.ties) {
    const heading = journal.tables.headings.get(id);
    if (!heading) continue;
    const so = [heading.name, ...heading.alternates]
      .flatMap(foldedWords)
      .map((word) => meant.get(word))
      .find(Boolean);
    if (so) {
      out.push({ word: heading.name, how: 'heading', field: 'heading' });
      continue;
    }
    const led = asked.related.find((one) => one.heading === id);
    if (led) out.push({ word: heading.name, how: 'related', of: led.near, field: 'heading' });
  }
  return out;
}
