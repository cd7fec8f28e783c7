/** Questions about stories, and sections of one story beside each other. All sections of both parts are searched; the part names the questions. */
import { noteOf, numbered, journalOf } from './journals';
import { hasData, rowsOf, type Section, type StoryQuestion } from './open-data';
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

export type Part = 'train' | 'val';

interface Told extends Section {
  id: string;
  part: Part;
}

function sections(parts: readonly Part[]): Told[] {
  const all = parts.flatMap((part) =>
    rowsOf<Section>(`fairytale-${part}-sections`).map((row) => ({ ...row, part })),
  );
  return all.map((row, at) => ({ ...row, id: numbered('s', at) }));
}

const hasStories = (): boolean =>
  (['train', 'val'] as const).every((part) =>
    hasData(`fairytale-${part}-sections`, `fairytale-${part}-questions`),
  );

/** At most so many of a list, evenly spread, so that a run ends in minutes. */
function spread<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list;
  return Array.from({ length: most }, (_, at) => list[Math.floor((at * list.length) / most)]!);
}

export function questions(part: Part, make: MakeEngine, most = Infinity): Measured | undefined {
  if (!hasStories()) return undefined;
  const told = sections(['train', 'val']);
  const ids = new Map(
    told.map(({ story, section, part, id }) => [`${part} ${story} ${section}`, id]),
  );
  const asked = rowsOf<StoryQuestion>(`fairytale-${part}-questions`).flatMap((row): Query[] => {
    const relevant = row.sections.flatMap((at) => ids.get(`${part} ${row.story} ${at}`) ?? []);
    return relevant.length > 0 ? [{ text: row.question, relevant: new Set(relevant) }] : [];
  });
  const queries = spread(asked, most);
  const plain = new PlainBm25(told.map(({ id, text }) => [id, text]));
  const engine = make(journalOf(told.map(({ id, text }) => noteOf(id, text))));
  return {
    set: `FairytaleQA ${part === 'val' ? 'validation' : 'training'}: question to section`,
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'ndcg10', timesPlain: 1.05 },
    results: [
      judge(PLAIN, queries, ({ text }) => plain.rank(text, DEPTH)),
      judge(ENGINE, queries, foundBy(engine)),
    ],
  };
}

export function sameStory(part: Part, make: MakeEngine, most = Infinity): Measured | undefined {
  if (!hasStories()) return undefined;
  const told = sections(['train', 'val']);
  const byStory = new Map<string, string[]>();
  for (const { story, part, id } of told) {
    const key = `${part} ${story}`;
    byStory.set(key, [...(byStory.get(key) ?? []), id]);
  }
  const seeds = told.filter((row) => row.part === part);
  const queries = spread(seeds, most).flatMap((row): Query[] => {
    const others = byStory.get(`${part} ${row.story}`)!.filter((id) => id !== row.id);
    return others.length > 0
      ? [{ text: row.text, relevant: new Set(others), without: row.id }]
      : [];
  });
  const plain = new PlainBm25(told.map(({ id, text }) => [id, text]));
  const engine = make(journalOf(told.map(({ id, text }) => noteOf(id, text))));
  const learning = engine.weaveIndex.learnMeaning();
  while (!learning.next().done);
  return {
    set: `FairytaleQA ${part === 'val' ? 'validation' : 'training'}: section to sections of its story`,
    shown: ['ndcg10', 'map', 'recall10', 'recall50', 'mrr', 'hit5'],
    goal: { measure: 'ndcg10', timesPlain: 1 },
    results: [
      judge(PLAIN, queries, ({ text, without }) => plain.rank(text, DEPTH, without)),
      judge(ENGINE, queries, ({ without }) =>
        engine
          .near({ entries: [without as never], limit: DEPTH, entriesOnly: true })
          .map(({ id }) => id),
      ),
    ],
  };
}
