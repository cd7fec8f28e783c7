/**
 * What each part of finding, nearness and proposing brings: `npm run judge -- --ablation` measures the sets it bears upon with it and without it. A part
 * is left out by putting nothing in the place of what it answers, so that the engine itself has no switches for it.
 */
import { RelatedWords, writeRelatedWords } from '../../../src/language/related-words';
import { linksFrom } from '../thesaurus/links';
import { readWordnet } from '../thesaurus/wordnet';
import { Names } from '../../../src/find/names';
import { PassageIndex } from '../../../src/find/passage-index';
import { WordList } from '../../../src/find/word-list';
import { RelatedNames } from '../../../src/weave/related-names';
import { NameTable } from '../../../src/weave/heading-names';
import { LinkTable } from '../../../src/weave/links';
import { WeaveIndex } from '../../../src/weave/weave-index';
import { WordTable } from '../../../src/weave/words';
import { withoutRelatedWords } from './journals';
import { ENGINE, wholeEngine, type MakeEngine, type Measured } from './result';
import { figure, HEAD } from './table';

interface Part {
  name: string;
  /** Sets it bears upon, by the names of `main.ts`. */
  sets: string[];
  /** Leaves it out and answers how to put it back. */
  leaveOut: () => () => void;
  make?: MakeEngine;
}

/** Puts another method in the place of one of a class. */
function instead<Made extends object, Name extends keyof Made>(
  { prototype }: { prototype: Made },
  name: Name,
  other: Made[Name],
): () => void {
  const own = prototype[name];
  prototype[name] = other;
  return () => void (prototype[name] = own);
}

/** The engine with related words as they were without the encoder's nearness. */
const byWordnetAlone: MakeEngine = (journal) => {
  wordnetAlone ??= new RelatedWords(writeRelatedWords(linksFrom(readWordnet())));
  const engine = withoutRelatedWords(journal);
  engine.useRelatedWords(wordnetAlone);
  return engine;
};
let wordnetAlone: RelatedWords | undefined;

const none = (): never[] => [];
const QUESTIONS = ['fairytale questions', 'scifact'];
const NAMES = ['gold', 'quotations by name'];
const KNOWN = ['known exact', 'known begun', 'known misspelt'];
const NEAR = ['fairytale same story', 'quotations near'];
const PROPOSED = ['quotations hidden topics', 'quotations hidden entries'];

export const PARTS: Part[] = [
  {
    name: 'find: other forms of a word',
    sets: [...QUESTIONS, ...NAMES, ...KNOWN],
    leaveOut: () => instead(WordList, 'kin', none),
  },
  {
    name: 'find: what a word begun may become',
    sets: ['known begun'],
    leaveOut: () => instead(WordList, 'beginning', none),
  },
  {
    name: 'find: slips of the pen',
    sets: [...QUESTIONS, ...KNOWN],
    leaveOut: () => instead(WordList, 'near', none),
  },
  {
    name: 'find: words side by side',
    sets: [...QUESTIONS, ...KNOWN],
    leaveOut: () => instead(PassageIndex, 'pairsOf', none),
  },
  {
    name: 'find: related words of the thesaurus',
    sets: [...QUESTIONS, ...NAMES, ...KNOWN],
    leaveOut: () => none,
    make: withoutRelatedWords,
  },
  {
    name: 'find and proposals: nearness by a sentence encoder',
    sets: [...NAMES, 'gold synonym', 'gold paraphrase', ...PROPOSED],
    leaveOut: () => none,
    make: byWordnetAlone,
  },
  {
    name: 'find: the journal’s own headings',
    sets: ['known exact', 'known misspelt'],
    leaveOut: () => instead(Names, 'called', none),
  },
  {
    name: 'near: likeness of words',
    sets: NEAR,
    leaveOut: () => instead(WordTable, 'mostLike', none),
  },
  {
    name: 'near: meaning learnt from the journal',
    sets: NEAR,
    leaveOut: () => instead(WeaveIndex, 'learnMeaning', function* () {}),
  },
  {
    name: 'near: walks over ties',
    sets: NEAR,
    leaveOut: () => instead(LinkTable, 'nodeOf', () => undefined),
  },
  {
    name: 'proposals: names in the text',
    sets: ['quotations hidden topics'],
    leaveOut: () => instead(NameTable, 'namedIn', () => new Map()),
  },
  {
    name: 'proposals: words near a name in meaning',
    sets: PROPOSED,
    leaveOut: () => {
      const back = [
        instead(RelatedNames, 'near', () => new Map()),
        instead(RelatedNames, 'of', () => new Map()),
      ];
      return () => back.forEach((each) => each());
    },
  },
  {
    name: 'proposals: like entries',
    sets: ['quotations hidden topics'],
    leaveOut: () => instead(WordTable, 'mostLike', none),
  },
  {
    name: 'proposals: words of what is tied',
    sets: ['quotations hidden entries'],
    leaveOut: () => instead(WordTable, 'mostLike', none),
  },
];

const scoreOf = ({ goal, results }: Measured): number =>
  results.find(({ way }) => way === ENGINE)!.scores[goal.measure];

/** One Markdown table: each part by what it bears upon, the measure with it, without it, and the difference. */
export function ablation(
  sets: Record<string, (make: MakeEngine) => Measured | undefined>,
  asked: readonly string[],
): string {
  const whole = new Map<string, Measured | undefined>();
  const lines = [
    '| left out | set | measure | with | without | brings |',
    '| --- | --- | --- | --: | --: | --: |',
  ];
  for (const { name, sets: over, leaveOut, make = wholeEngine } of PARTS) {
    if (asked.length > 0 && !asked.some((word) => name.includes(word))) continue;
    for (const set of over) {
      if (!whole.has(set)) whole.set(set, sets[set]!(wholeEngine));
      const full = whole.get(set);
      if (!full) continue;
      const putBack = leaveOut();
      const less = sets[set]!(make);
      putBack();
      const [a, b] = [scoreOf(full), scoreOf(less!)];
      const brings = `${a >= b ? '+' : '−'}${figure(Math.abs(a - b))}`;
      lines.push(
        `| ${[name, set, HEAD[full.goal.measure], figure(a), figure(b), brings].join(' | ')} |`,
      );
      process.stderr.write(`${lines.at(-1)}\n`);
    }
  }
  return lines.join('\n');
}
