/** Which readings meet which prompts of a challenge: the best assignment there is, and why a prompt stays open. */
import { counted } from '../journal/labels';
import type { Challenge, HeadingId, PromptRule, Reading, ReadingId } from '../journal/records';
import type { ChallengeAsk, WouldMeet } from './challenge-ask';
import { challengePace, type ChallengePace } from './challenge-pace';
import { pagesRead } from './figures';
import { bestMatching, contestedWith, type Choice, type Matching } from './matching';
import { isFinished, isInHand, sortDay, spanOf, within } from './readings';
import { isPast, meets } from './rules';
import { whyOpen, type Open } from './why-open';

export interface PromptAnswer {
  id: string;
  text: string;
  rule: PromptRule;
  state: 'met' | 'in-hand' | 'open';
  reading?: ReadingId;
  book?: HeadingId;
  /** For pages in all: what has been read of what is wanted. */
  pages?: { read: number; wanted: number };
  why?: string;
  wouldMeet: WouldMeet[];
}

export interface ChallengeAnswer {
  prompts: PromptAnswer[];
  met: number;
  inHand: number;
  of: number;
  from: string;
  to: string;
  pace: ChallengePace;
}

/** First and last ISO day of a challenge. */
export function challengeSpan(challenge: Challenge): { from: string; to: string } {
  const from = spanOf(challenge.from)?.earliest ?? '0000-01-01';
  return { from, to: spanOf(challenge.to)?.latest ?? '9999-12-31' };
}

/**
 * Solves a challenge. A reading counts when it was surely finished within the challenge (chosen by hand: whenever), and one book serves as many prompts as
 * `perBook` says, whichever of its readings are used. As many prompts as can be are met by finished readings; then as many more as can be by books
 * in hand; and among equal answers the readings finished first are used, so that a book finished later takes no place away.
 */
export function solveChallenge(ask: ChallengeAsk): ChallengeAnswer {
  const { challenge } = ask;
  const span = challengeSpan(challenge);
  const readings = [...ask.readings].sort(
    (a, b) => compare(sortDay(a), sortDay(b)) || compare(a.id, b.id),
  );
  const single = challenge.prompts.filter(({ rule }) => rule.by !== 'pages-in-all');
  const table = choicesOf(ask, single, readings, span);
  const best = bestMatching(
    table.choices,
    table.books.map(() => (challenge.perBook === 'any' ? Infinity : challenge.perBook)),
  );
  const finished = table.edges.map((edges) => edges.filter(({ finished: done }) => done));
  const done: Matching = {
    right: best.right.map((right, left) =>
      finished[left]!.some(({ right: r }) => r === right) ? right : -1,
    ),
    size: 0,
  };
  const edges = finished.map((each) => each.map(({ right }) => right));
  const states = new Map<string, PromptAnswer>();
  single.forEach((prompt, left) => {
    const edge = table.edges[left]!.find(({ right }) => right === best.right[left]);
    const answer: PromptAnswer = { ...prompt, state: 'open', wouldMeet: [] };
    if (edge) {
      answer.state = edge.finished ? 'met' : 'in-hand';
      answer.reading = edge.reading.id;
      answer.book = edge.reading.book;
    }
    if (answer.state !== 'met') {
      const contest = contestedWith(edges, done, left);
      const open: Open = {
        ask,
        span,
        readings,
        prompts: single,
        left,
        rivals: contest.left,
        books: contest.right.map((right) => table.books[right]!),
        ...(edge ? { inHand: edge.reading.book } : {}),
      };
      Object.assign(answer, whyOpen(open));
    }
    states.set(prompt.id, answer);
  });
  const prompts = challenge.prompts.map(
    (prompt) => states.get(prompt.id) ?? inAll(prompt, readings, ask, span),
  );
  const met = prompts.filter(({ state }) => state === 'met').length;
  return {
    prompts,
    met,
    inHand: prompts.filter(({ state }) => state === 'in-hand').length,
    of: prompts.length,
    ...span,
    pace: challengePace({ met, of: prompts.length, ...span, today: ask.today }),
  };
}

interface Edge extends Choice {
  reading: Reading;
  finished: boolean;
}

/** For each prompt the books that would do, each by its first reading that does; books in hand cost more than all that is finished together. */
function choicesOf(
  { facts, meant, today }: ChallengeAsk,
  prompts: Challenge['prompts'],
  readings: readonly Reading[],
  span: { from: string; to: string },
): { books: HeadingId[]; edges: Edge[][]; choices: Choice[][] } {
  const books: HeadingId[] = [];
  const indexOf = new Map<HeadingId, number>();
  const inHandCost = (readings.length + 1) * (prompts.length + 1);
  const edges = prompts.map(({ rule }) => {
    const found = new Map<number, Edge>();
    const open = !isPast(rule, span, today);
    readings.forEach((reading, rank) => {
      const book = facts.get(reading.book);
      const finished = isFinished(reading);
      if (!book || !(finished || (open && isInHand(reading)))) return;
      if (finished && rule.by !== 'free' && within(reading.finished, span.from, span.to) !== 'yes')
        return;
      if (meets(rule, book, finished ? reading : asFinished(reading, rule), meant).meets !== 'yes')
        return;
      let right = indexOf.get(book.id);
      if (right === undefined) {
        right = books.length;
        indexOf.set(book.id, right);
        books.push(book.id);
      }
      const cost = finished ? rank : inHandCost + rank;
      const known = found.get(right);
      if (!known || cost < known.cost) found.set(right, { right, cost, reading, finished });
    });
    return [...found.values()];
  });
  return { books, edges, choices: edges };
}

/** A book in hand is asked as it is, except for the day it will be finished, which is not known yet. */
const asFinished = (reading: Reading, rule: PromptRule): Reading | undefined =>
  rule.by === 'finished' || rule.by === 'rating' ? undefined : reading;

function inAll(
  prompt: Challenge['prompts'][number],
  readings: readonly Reading[],
  { facts, named }: ChallengeAsk,
  span: { from: string; to: string },
): PromptAnswer {
  const { rule } = prompt;
  const from = spanOf(rule.from)?.earliest ?? span.from;
  const to = spanOf(rule.to)?.latest ?? span.to;
  let read = 0;
  for (const reading of readings) {
    if (!isFinished(reading) || within(reading.finished, from, to) !== 'yes') continue;
    read += pagesRead(reading, (book) => facts.get(book)?.pages) ?? 0;
  }
  const wanted = rule.atLeast ?? 0;
  const met = read >= wanted && read <= (rule.atMost ?? Infinity) && wanted > 0;
  const answer: PromptAnswer = {
    ...prompt,
    state: met ? 'met' : 'open',
    pages: { read, wanted },
    wouldMeet: [],
  };
  if (!met)
    answer.why =
      wanted === 0
        ? `No number of pages is set for “${named(prompt.text)}”.`
        : inAllSaid(read, rule);
  return answer;
}

function inAllSaid(read: number, { atLeast = 0, atMost = Infinity }: PromptRule): string {
  const number = (pages: number): string => pages.toLocaleString('en-GB');
  if (read > atMost)
    return `${counted(read, 'page')} are finished; at most ${number(atMost)} are asked for.`;
  return `${number(read)} of ${counted(atLeast, 'page')} are finished; ${number(atLeast - read)} to go.`;
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
