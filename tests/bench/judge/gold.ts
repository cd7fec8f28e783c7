/** The gold set: notes judged by hand for literary themes, asked for by the theme's name. */
import gold from '../../outside/gold/themes.json';
import { journalOf, noteOf, numbered } from './journals';
import { PlainBm25 } from './plain-bm25';
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

export type How = 'word' | 'synonym' | 'paraphrase' | 'situation';

interface GoldNote {
  id: string;
  text: string;
  /** The themes it belongs to; a hard negative may belong to none. */
  themes: string[];
  /** By what it belongs to the theme it was written for. */
  how: How | 'not';
}

export const goldNotes: readonly GoldNote[] = gold.themes
  .flatMap(({ theme, notes }) => notes.map((note) => ({ theme, ...note })))
  .map(({ theme, text, how, also }, at) => ({
    id: numbered('g', at),
    text,
    how: how as GoldNote['how'],
    themes: [...(how === 'not' ? [] : [theme]), ...(also ?? [])],
  }));

export const goldThemes: readonly string[] = gold.themes.map(({ theme }) => theme);

/** `only` leaves as relevant what belongs in that way, and takes the rest of what belongs out of the rankings. */
export function goldSet(make: MakeEngine, only?: How): Measured {
  const queries = goldThemes.map((theme): Query & { known: ReadonlySet<string> } => {
    const all = goldNotes.filter(({ themes }) => themes.includes(theme));
    const wanted = only ? all.filter(({ how }) => how === only) : all;
    const relevant = new Set(wanted.map(({ id }) => id));
    const known = new Set(all.flatMap(({ id }) => (relevant.has(id) ? [] : [id])));
    return { text: theme, relevant, known };
  });
  const knownOf = new Map(queries.map(({ text, known }) => [text, known]));
  const plain = new PlainBm25(goldNotes.map(({ id, text }) => [id, text]));
  const find = foundBy(make(journalOf(goldNotes.map(({ id, text }) => noteOf(id, text)))));
  const apart = (text: string, ranked: readonly string[]): string[] =>
    ranked.filter((id) => !knownOf.get(text)!.has(id));
  return {
    set: `Gold set of ${goldNotes.length} notes: theme to notes${only ? ` by ${only}` : ''}`,
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'ndcg10', timesPlain: only ? 1 : 1.15 },
    results: [
      judge(PLAIN, queries, ({ text }) => apart(text, plain.rank(text, DEPTH))),
      judge(ENGINE, queries, (query) => apart(query.text, find(query))),
    ],
  };
}
