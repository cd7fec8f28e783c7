/** Which documents answer a query, and how well: words first, then what is only related. */
import type { Entry, Journal } from '../journal/records';
import { plainText } from '../language/markdown';
import type { Asked } from './explain';
import { wordsByField } from './documents';
import { FIELDS } from './fields';
import type { PassageIndex } from './passage-index';
import { foldedWords, holdsPhrase } from './query';
import { byWords, type Matches, type Reach, type Tally } from './word-scores';

const PHRASE_BONUS = 1.5;
const ANY_FIELD = (1 << FIELDS.length) - 1;
/** A phrase is looked for in the text and in the title, each by itself. */
const IN_PHRASES = (1 << FIELDS.indexOf('text')) | (1 << FIELDS.indexOf('title'));

export function matchesOf(
  journal: Journal,
  index: PassageIndex,
  asked: Asked,
  reach: Reach,
  tally: Tally,
): Matches {
  const { read } = asked;
  tally.begin(index.span);
  const phrased = read.phrases.map((phrase) => docsWithAll(index, phrase, IN_PHRASES));
  const matches: Matches =
    read.words.length > 0
      ? byWords(index, asked, reach, tally)
      : tally.all(phrased[0] ?? reach.everything);
  const excluded = docsExcluded(journal, index, asked, reach);
  if (phrased.length === 0 && excluded.size === 0) return matches;
  const docs = matches.docs.filter(
    (doc) => phrased.every((held) => held.has(doc)) && !excluded.has(doc),
  );
  if (read.phrases.length === 0) return { ...matches, docs };
  const held = docs.filter((doc) => {
    const entry = entryAt(journal, reach, doc);
    if (!entry) return false;
    const runs = [foldedWords(entry.title ?? ''), foldedWords(plainText(entry.text))];
    return read.phrases.every((phrase) => runs.some((words) => holdsPhrase(words, phrase)));
  });
  for (const doc of held) matches.score[doc]! += PHRASE_BONUS;
  return { ...matches, docs: held };
}

function entryAt(journal: Journal, reach: Reach, doc: number): Entry | undefined {
  const id = reach.idOf(doc);
  return id && journal.tables.entries.get(id);
}

/** Documents that hold each of some words in any of the fields given as bits. */
function docsWithAll(
  index: PassageIndex,
  words: readonly string[],
  inFields = ANY_FIELD,
): ReadonlySet<number> {
  let out: Set<number> | undefined;
  for (const word of new Set(words)) {
    const term = index.term(word);
    const next = new Set<number>();
    if (term !== undefined)
      index.score(term, (doc, _, fields) => {
        if ((fields & inFields) !== 0 && (!out || out.has(doc))) next.add(doc);
      });
    out = next;
  }
  return out ?? new Set();
}

function docsExcluded(
  journal: Journal,
  index: PassageIndex,
  { read }: Asked,
  reach: Reach,
): ReadonlySet<number> {
  const out = new Set<number>();
  for (const word of read.excluded) docsWithAll(index, [word]).forEach((doc) => out.add(doc));
  for (const phrase of read.excludedPhrases ?? []) {
    for (const doc of docsWithAll(index, phrase)) {
      const entry = out.has(doc) ? undefined : entryAt(journal, reach, doc);
      if (!entry) continue;
      const fields = Object.values(wordsByField(journal, entry));
      if (fields.some((words) => holdsPhrase(words, phrase))) out.add(doc);
    }
  }
  return out;
}
