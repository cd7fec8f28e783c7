import type { Level } from '../journal/records';
import questionWords from '../../shared/question-words.json';
import type { Certainty } from './certainty';
import { plainText } from './markdown';
import { fold } from './tokens';

interface LevelProposal {
  level: Level;
  certainty: Certainty;
}

/** Lowest first, as in `LEVELS` of the journal's records; held here as this room reads no journal. */
const ORDER: readonly Level[] = [
  'remember',
  'understand',
  'apply',
  'analyse',
  'evaluate',
  'create',
];
const UNSETTLED: Readonly<Record<string, string>> = questionWords.unsettledVerbs;
const GAP_WORDS = 6;

interface Cue {
  level: Level;
  pattern: RegExp;
}

/** A stretch of the question that speaks for a level. */
interface Sign {
  level: Level;
  start: number;
  end: number;
}

const WORDINGS: readonly Cue[] = ORDER.flatMap((level) =>
  questionWords.levels[level].wordings.map((wording) => ({ level, pattern: patternOf(wording) })),
);
const VERBS: ReadonlyMap<string, Level> = new Map(
  ORDER.flatMap((level) => questionWords.levels[level].verbs.map((verb) => [verb, level] as const)),
);
const OPINION = new RegExp(` (?:${questionWords.opinionWordings.join('|')})(?= )`, 'g');
/** A verb is an order at the start of a clause, or after a word that asks for it. */
const ORDERED =
  /(?<=\| (?:and |then |now |but |or )?|(?:please|can you|could you|let us|let's|then|together|in pairs) )([a-z]+)(?= )/g;

/**
 * Proposes the cognitive level a question asks for (Anderson & Krathwohl 2001) from its whole wording: "sure" only where
 * two separate stretches agree and none speaks for another level; "likely" for one wording, or a verb of one plain use;
 * otherwise a guess. A verb alone never makes it sure: *describe* and *explain* fall at different levels by what is to be
 * described (Webb 2002). The leader confirms or changes it.
 */
export function proposeLevel(question: string): LevelProposal {
  const asked = clausesOf(question);
  const plain = asked.replace(OPINION, '');
  const opinion = plain !== asked;
  const wordings = wordingsIn(plain).filter(({ level }) => !(opinion && level === 'remember'));
  const { settled, unsettled } = verbsIn(plain);
  if (wordings.length > 0) return fromWordings(wordings, settled);
  if (settled.length > 0)
    return { level: highest(settled), certainty: areOneLevel(settled) ? 'likely' : 'guess' };
  const level = unsettled.length > 0 ? highest(unsettled) : 'understand';
  return { level, certainty: 'guess' };
}

/** Where wordings speak for several levels the highest is proposed: what it asks for includes the lower. */
function fromWordings(wordings: readonly Sign[], verbs: readonly Sign[]): LevelProposal {
  const telling = wordings.some(({ level }) => level !== 'remember')
    ? wordings.filter(({ level }) => level !== 'remember')
    : wordings;
  const signs = [...telling, ...verbs];
  const level = highest(signs);
  if (!areOneLevel(signs)) return { level, certainty: 'guess' };
  return { level, certainty: areApart(signs) ? 'sure' : 'likely' };
}

function areOneLevel(signs: readonly Sign[]): boolean {
  return new Set(signs.map(({ level }) => level)).size === 1;
}

/** Whether some two of the stretches share no word, and so are separate reasons. */
function areApart(signs: readonly Sign[]): boolean {
  return signs.some((one) => signs.some((other) => one.end <= other.start));
}

function highest(signs: readonly Sign[]): Level {
  return signs.reduce<Level>(
    (best, { level }) => (ORDER.indexOf(level) > ORDER.indexOf(best) ? level : best),
    'remember',
  );
}

function wordingsIn(clauses: string): Sign[] {
  return WORDINGS.flatMap(({ level, pattern }) => {
    const match = pattern.exec(clauses);
    return match ? [{ level, start: match.index, end: match.index + match[0].length }] : [];
  });
}

function verbsIn(clauses: string): { settled: Sign[]; unsettled: Sign[] } {
  const settled: Sign[] = [];
  const unsettled: Sign[] = [];
  for (const match of clauses.matchAll(ORDERED)) {
    const verb = match[1] ?? '';
    const place = { start: match.index, end: match.index + verb.length };
    const usual = Object.hasOwn(UNSETTLED, verb)
      ? ORDER.find((level) => level === UNSETTLED[verb])
      : undefined;
    const level = VERBS.get(verb);
    if (usual) unsettled.push({ level: usual, ...place });
    else if (level) settled.push({ level, ...place });
  }
  return { settled, unsettled };
}

/** Folded words of the question parted by single spaces, with " | " between sentences and at both ends. */
function clausesOf(question: string): string {
  const bare = fold(plainText(question)).replace(/[.?!;:,\n—–()“”"]+/g, ' | ');
  return ` | ${bare.replace(/[^a-z0-9'| ]+/g, ' ')} | `
    .replace(/\s+/g, ' ')
    .replace(/(?:\| )+/g, '| ');
}

function patternOf(wording: string): RegExp {
  const source = wording.split(' ').map((part) => {
    if (part === '…') return `(?: [^ |]+){0,${GAP_WORDS}}?`;
    const anchored = part.startsWith('^');
    const words = anchored ? part.slice(1) : part;
    return anchored ? ` \\| (?:and |but |then |so |or )?(?:${words})` : ` (?:${words})`;
  });
  return new RegExp(`${source.join('').replace(/^ \\\|/, '(?<= )\\|')}(?= )`);
}
