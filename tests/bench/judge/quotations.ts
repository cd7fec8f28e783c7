/** Quotations with topics: found by the name of a topic, and topics hidden by seed to be proposed again. */
import { proposeFor, proposeHeadingsFor } from '../../../src/weave/tied';
import type { EntryId, HeadingId } from '../../../src/journal/records';
import { seeded } from '../many-entries';
import { journalOf, noteOf, numbered, personOf, themeOf, tieOf } from './journals';
import { hasData, rowsOf, type Quotation } from './open-data';
import { PlainBm25, plainWords } from './plain-bm25';
import {
  ENGINE,
  foundBy,
  judge,
  PLAIN,
  type MakeEngine,
  type Measured,
  type Query,
} from './result';
import { DEPTH } from './scores';

const HIDDEN_SHARE = 0.3;
const USUAL_SEED = 1;

interface Tagged extends Quotation {
  id: string;
  kept: string[];
  hidden: string[];
}

export const hasQuotations = (): boolean => hasData('quotes-tagged');

function tagged(seed: number): Tagged[] {
  const random = seeded(seed);
  return rowsOf<Quotation>('quotes-tagged').map((row, at) => {
    const hidden = row.tags.filter(() => random() < HIDDEN_SHARE);
    const kept = row.tags.filter((tag) => !hidden.includes(tag));
    return { ...row, id: numbered('q', at), kept, hidden };
  });
}

const namesOf = (rows: readonly Tagged[], of: (row: Tagged) => string[]): string[] =>
  [...new Set(rows.flatMap(of))].sort();

/** Every topic by its name alone: the quotations that have it, tied to nothing. */
export function byTopicName(make: MakeEngine): Measured | undefined {
  if (!hasQuotations()) return undefined;
  const rows = tagged(USUAL_SEED);
  const queries = namesOf(rows, ({ tags }) => tags).map((tag): Query => ({
    text: tag,
    relevant: new Set(rows.filter(({ tags }) => tags.includes(tag)).map(({ id }) => id)),
  }));
  const plain = new PlainBm25(rows.map(({ id, text }) => [id, text]));
  const engine = make(journalOf(rows.map(({ id, text }) => noteOf(id, text))));
  return {
    set: 'Quotations: topic’s name to those that have it',
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'recall50', timesPlain: 1.15 },
    results: [
      judge(PLAIN, queries, ({ text }) => plain.rank(text, DEPTH)),
      judge(ENGINE, queries, foundBy(engine)),
    ],
  };
}

/** The journal a reader would have: topics as themes, authors as people, three topics in ten not tied yet. */
function halfTied(rows: readonly Tagged[]): ReturnType<typeof journalOf> {
  const themes = namesOf(rows, ({ tags }) => tags).map((tag) => themeOf(`theme ${tag}`, tag));
  const people = namesOf(rows, ({ author }) => [author]).map((name) =>
    personOf(`person ${name}`, name),
  );
  const entries = rows.map(({ id, text, author, kept }) =>
    noteOf(id, text, [
      ...kept.map((tag) => tieOf(`theme ${tag}`)),
      tieOf(`person ${author}`, 'by'),
    ]),
  );
  return journalOf(entries, [...themes, ...people]);
}

/** TF-IDF centroids of what is tied to each topic, the baseline that measured.md names. */
function centroids(rows: readonly Tagged[]): (row: Tagged) => string[] {
  const held = new Map<string, number>();
  const stems = rows.map(({ text }) => plainWords(text));
  for (const words of stems)
    for (const word of new Set(words)) held.set(word, (held.get(word) ?? 0) + 1);
  const vectors = stems.map((words) => {
    const vector = new Map<string, number>();
    for (const word of words)
      vector.set(word, (vector.get(word) ?? 0) + Math.log(rows.length / held.get(word)!));
    const length = Math.hypot(...vector.values()) || 1;
    for (const [word, weight] of vector) vector.set(word, weight / length);
    return vector;
  });
  const sums = new Map<string, Map<string, number>>();
  rows.forEach(({ kept }, at) => {
    for (const tag of kept) {
      const sum = sums.get(tag) ?? new Map<string, number>();
      for (const [word, weight] of vectors[at]!) sum.set(word, (sum.get(word) ?? 0) + weight);
      sums.set(tag, sum);
    }
  });
  for (const sum of sums.values()) {
    const length = Math.hypot(...sum.values()) || 1;
    for (const [word, weight] of sum) sum.set(word, weight / length);
  }
  const place = new Map(rows.map(({ id }, at) => [id, at]));
  return ({ id, kept }) => {
    const vector = vectors[place.get(id)!]!;
    return [...sums]
      .filter(([tag]) => !kept.includes(tag))
      .map(([tag, sum]): [string, number] => {
        let score = 0;
        for (const [word, weight] of vector) score += weight * (sum.get(word) ?? 0);
        return [tag, score];
      })
      .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1))
      .map(([tag]) => `theme ${tag}`);
  };
}

/** For each quotation with a hidden topic: the topics it should have. */
export function hiddenTopics(make: MakeEngine, seed = USUAL_SEED): Measured | undefined {
  if (!hasQuotations()) return undefined;
  const rows = tagged(seed);
  const asked = rows.filter(({ hidden }) => hidden.length > 0);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const queries = asked.map(({ id, hidden }): Query => ({
    text: id,
    relevant: new Set(hidden.map((tag) => `theme ${tag}`)),
  }));
  const common = new Map<string, number>();
  for (const { kept } of rows) for (const tag of kept) common.set(tag, (common.get(tag) ?? 0) + 1);
  const commonest = [...common].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  const centroid = centroids(rows);
  const engine = make(halfTied(rows));
  return {
    set: 'Quotations: hidden topics proposed for an entry',
    shown: ['map', 'mrr', 'hit5', 'hit10'],
    goal: { measure: 'hit5', atLeast: 0.88 },
    results: [
      judge('commonest topics', queries, ({ text: id }) =>
        commonest
          .filter(([tag]) => !byId.get(id)!.kept.includes(tag))
          .map(([tag]) => `theme ${tag}`),
      ),
      judge('TF-IDF centroid', queries, ({ text: id }) => centroid(byId.get(id)!)),
      judge(ENGINE, queries, ({ text: id }) =>
        proposeHeadingsFor(engine.weaveIndex, id as EntryId, { limit: DEPTH, least: 0 })
          .map((one): string => one.id)
          .filter((one) => one.startsWith('theme ')),
      ),
    ],
  };
}

/** For each topic with hidden ties: the entries that should be tied to it. Plain ranking has the topic's name. */
export function hiddenEntries(make: MakeEngine, seed = USUAL_SEED): Measured | undefined {
  if (!hasQuotations()) return undefined;
  const rows = tagged(seed);
  const topics = namesOf(rows, ({ hidden }) => hidden);
  const queries = topics.map((tag): Query => ({
    text: tag,
    relevant: new Set(rows.filter(({ hidden }) => hidden.includes(tag)).map(({ id }) => id)),
  }));
  const tied = (tag: string): Set<string> =>
    new Set(rows.filter(({ kept }) => kept.includes(tag)).map(({ id }) => id));
  const plain = new PlainBm25(rows.map(({ id, text }) => [id, text]));
  const engine = make(halfTied(rows));
  return {
    set: 'Quotations: hidden ties proposed for a topic',
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'recall50', timesPlain: 1.15 },
    results: [
      judge(PLAIN, queries, ({ text }) => {
        const own = tied(text);
        return plain.rank(text, DEPTH + own.size).filter((id) => !own.has(id));
      }),
      judge(ENGINE, queries, ({ text }) =>
        proposeFor(engine.weaveIndex, `theme ${text}` as HeadingId, { limit: DEPTH, least: 0 }).map(
          ({ id }) => id,
        ),
      ),
    ],
  };
}

/** For each quotation with a hidden topic: the other quotations that have that topic, by what is near. Plain ranking has the quotation's own words. */
export function nearByTopic(make: MakeEngine, seed = USUAL_SEED): Measured | undefined {
  if (!hasQuotations()) return undefined;
  const rows = tagged(seed);
  const queries = rows.flatMap(({ id, text, hidden }): Query[] => {
    const others = rows.filter(({ tags, id: other }) => {
      return other !== id && tags.some((tag) => hidden.includes(tag));
    });
    const relevant = new Set(others.map(({ id: other }) => other));
    return relevant.size > 0 ? [{ text, relevant, without: id }] : [];
  });
  const plain = new PlainBm25(rows.map(({ id, text }) => [id, text]));
  const engine = make(halfTied(rows));
  const learning = engine.weaveIndex.learnMeaning();
  while (!learning.next().done);
  return {
    set: 'Quotations: one to others of its hidden topic',
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'ndcg10', timesPlain: 1 },
    results: [
      judge(PLAIN, queries, ({ text, without }) => plain.rank(text, DEPTH, without)),
      judge(ENGINE, queries, ({ without }) =>
        engine
          .near({ entries: [without as EntryId], limit: DEPTH, entriesOnly: true })
          .map(({ id }) => id),
      ),
    ],
  };
}
