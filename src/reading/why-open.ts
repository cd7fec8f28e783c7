/** Why a prompt stays open, and which unread books would change that. Every sentence is read off the readings and the matching. */
import type { Challenge, HeadingId, Reading } from '../journal/records';
import { sayDate } from '../language/dates';
import type { ChallengeAsk, WouldMeet } from './challenge-ask';
import { dayNumber } from './days';
import { isFinished, spanOf, within } from './readings';
import { ruleSaid } from './rule-words';
import { isPast, meets } from './rules';

export interface Open {
  ask: ChallengeAsk;
  span: { from: string; to: string };
  /** Every reading, in the order they were finished. */
  readings: readonly Reading[];
  prompts: Challenge['prompts'];
  /** Index of the open prompt. */
  left: number;
  /** Indexes of all prompts that it contends with, itself among them. */
  rivals: number[];
  /** The books they contend for. */
  books: HeadingId[];
  inHand?: HeadingId;
}

const MOST_NAMED = 4;
const MOST_OFFERED = 12;

export function whyOpen(open: Open): { why: string; wouldMeet: WouldMeet[] } {
  const sentences = [open.books.length > 0 ? contested(open) : nobody(open)];
  if (open.inHand) {
    sentences.unshift(`${nameOf(open, open.inHand)} is in hand and would meet it when finished.`);
  } else sentences.push(...nearMisses(open));
  return { why: sentences.join(' '), wouldMeet: wouldMeet(open) };
}

const nameOf = ({ ask }: Open, book: HeadingId): string => ask.facts.get(book)?.name ?? 'a book';

/** "A, B and C"; "A, B, C and 7 more". */
function listed(names: readonly string[]): string {
  const shown = names.length > MOST_NAMED + 1 ? names.slice(0, MOST_NAMED) : [...names];
  const rest = names.length - shown.length;
  if (rest > 0) return `${shown.join(', ')} and ${rest} more`;
  const last = shown.pop();
  return shown.length > 0 ? `${shown.join(', ')} and ${last}` : (last ?? '');
}

/** No reading does: said by the rule. */
function nobody({ ask, span, prompts, left }: Open): string {
  const { rule } = prompts[left]!;
  if (rule.by === 'free') return 'No finished reading has been chosen for it yet.';
  const when = `from ${sayDate(span.from)} to ${sayDate(span.to)}`;
  return `No book finished ${when} ${ruleSaid(rule, ask.named)}.`;
}

/** Some do, but each serves another prompt already, and those have nothing else. */
function contested(open: Open): string {
  const { ask, prompts, left, rivals, books } = open;
  const others = rivals
    .filter((index) => index !== left)
    .map((index) => `“${prompts[index]!.text}”`);
  const names = listed(books.map((book) => nameOf(open, book)));
  const { perBook } = ask.challenge;
  const each = perBook === 1 ? 'one prompt' : `${String(perBook)} prompts`;
  if (books.length === 1) {
    return `Only ${names} would do, and it meets ${listed(others)} already; a book serves ${each}.`;
  }
  return `It and ${listed(others)} ask for the same ${books.length} books (${names}); a book serves ${each}, so one prompt must stay open.`;
}

/** Readings that would do but for their day, or that may do. */
function nearMisses({ ask, span, readings, prompts, left }: Open): string[] {
  const { rule } = prompts[left]!;
  if (rule.by === 'free') return [];
  const [vague, unsure]: [string[], string[]] = [[], []];
  let outside: { name: string; finished: string; off: number } | undefined;
  for (const reading of readings) {
    const facts = ask.facts.get(reading.book);
    if (!facts || !isFinished(reading)) continue;
    const verdict = meets(rule, facts, reading, ask.meant);
    const inTime = within(reading.finished, span.from, span.to);
    if (verdict.meets === 'maybe' && inTime !== 'no') {
      unsure.push(`${facts.name} may do: ${verdict.unknown}.`);
    } else if (verdict.meets === 'yes' && inTime === 'maybe') {
      vague.push(
        `${facts.name} would do, but the day it was finished (${sayDate(reading.finished!)}) is not sure.`,
      );
    } else if (verdict.meets === 'yes' && inTime === 'no') {
      const off = daysOutside(reading.finished!, span);
      if (!outside || off < outside.off)
        outside = { name: facts.name, finished: reading.finished!, off };
    }
  }
  const late = outside
    ? [
        `${outside.name} would do, but it was finished outside the challenge (${sayDate(outside.finished)}).`,
      ]
    : [];
  return [...vague.slice(0, 2), ...unsure.slice(0, 2), ...late];
}

function daysOutside(finished: string, span: { from: string; to: string }): number {
  const { earliest, latest } = spanOf(finished) ?? {};
  const plain = (day: string | undefined): day is string => /^\d{4}-/.test(day ?? '');
  if (plain(latest) && latest < span.from) return dayNumber(span.from) - dayNumber(latest);
  if (plain(earliest) && earliest > span.to) return dayNumber(earliest) - dayNumber(span.to);
  return Infinity;
}

/**
 * Books not yet read in the challenge that meet the open prompt, or one it contends with: those on lists first, in their order, then books of the
 * catalogue never read.
 */
function wouldMeet({ ask, span, readings, prompts, left, rivals, inHand }: Open): WouldMeet[] {
  if (ask.today > span.to) return [];
  const [taken, everRead] = [new Set<HeadingId>(), new Set<HeadingId>()];
  for (const reading of readings) {
    if (!isFinished(reading)) continue;
    everRead.add(reading.book);
    if (within(reading.finished, span.from, span.to) !== 'no') taken.add(reading.book);
  }
  if (inHand) taken.add(inHand);
  const order = [left, ...rivals.filter((index) => index !== left)];
  const through = (book: HeadingId): WouldMeet | undefined => {
    const facts = ask.facts.get(book);
    if (!facts || taken.has(book)) return undefined;
    for (const index of order) {
      const { rule, id } = prompts[index]!;
      if (rule.by === 'free' || isPast(rule, span, ask.today)) continue;
      if (meets(rule, facts, undefined, ask.meant).meets !== 'yes') continue;
      const found: WouldMeet = { book, lists: ask.listed.get(book) ?? [] };
      return index === left ? found : { ...found, through: id };
    }
    return undefined;
  };
  const onLists = [...ask.listed.keys()].flatMap((book) => through(book) ?? []);
  const rest: WouldMeet[] = [];
  for (const book of ask.facts.keys()) {
    if (onLists.length + rest.length >= MOST_OFFERED) break;
    if (ask.listed.has(book) || everRead.has(book)) continue;
    const found = through(book);
    if (found && !found.through) rest.push(found);
  }
  const direct = onLists.filter((each) => !each.through);
  const indirect = onLists.filter((each) => each.through);
  return [...direct, ...indirect, ...rest].slice(0, MOST_OFFERED);
}
