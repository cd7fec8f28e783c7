/** Challenges as screens show them, ready-made ones, and the edits that change them. */
import { headingsCalled } from '../journal/indexes';
import { putRow, removeRow } from '../journal/make-edits';
import type { Challenge, ChallengeId, HeadingId, PromptRule, ReadingId } from '../journal/records';
import { readDate, sayDate } from '../language/dates';
import { challengeSpan, type PromptAnswer } from '../reading/challenge';
import { isDay } from '../reading/days';
import {
  bookPrompts,
  decadePrompts,
  letterPrompts,
  pagesPrompts,
  LETTERS,
} from '../reading/presets';
import { promptsFromWords, ruleFromWords } from '../reading/prompt-words';
import { isFinished, isInHand, sortDay, spanOf } from '../reading/readings';
import { ruleSaid } from '../reading/rule-words';
import { challengeOnto, withIds, type ChallengeDraft } from './challenge-drafts';
import type { Asked, Core } from './core';
import { bookOf, challengeAnswer } from './reading';
import { factsIn } from './reading-cache';
import { authorsShort, readingSaid } from './reading-words';
import { stripOf, type ChallengeStrip } from './reading-year';

export type { ChallengeDraft } from './challenge-drafts';

export interface PromptLine {
  id: string;
  text: string;
  rule: PromptRule;
  /** "a book that was first published in the 1820s". */
  ruleSaid: string;
  state: PromptAnswer['state'];
  book?: HeadingId;
  title?: string;
  author?: string;
  /** When the book that meets it was finished, in words. */
  on?: string;
  pages?: { read: number; wanted: number };
  why?: string;
  would: { book: HeadingId; title: string; author: string; lists: string[]; through?: string }[];
}

export interface ChallengeView {
  challenge: Challenge;
  strip: ChallengeStrip;
  span: string;
  prompts: PromptLine[];
}

export function challengesView(core: Core): ChallengeStrip[] {
  return [...core.journal.tables.challenges.values()]
    .sort((a, b) => (a.to === b.to ? (a.id < b.id ? 1 : -1) : a.to < b.to ? 1 : -1))
    .map((challenge) =>
      stripOf(core, challenge.id, challenge.name, challengeAnswer(core, challenge, factsIn(core))),
    );
}

export function challengeView(core: Core, id: ChallengeId): ChallengeView | undefined {
  const challenge = core.journal.tables.challenges.get(id);
  if (!challenge) return undefined;
  const answer = challengeAnswer(core, challenge, factsIn(core));
  const { from, to } = challengeSpan(challenge);
  const named = namedIn(core);
  const titleOf = (book: HeadingId): string => bookOf(core.journal, book)?.name ?? 'a book';
  const authorOf = (book: HeadingId): string =>
    authorsShort(core.journal, bookOf(core.journal, book));
  const texts = new Map(challenge.prompts.map((prompt) => [prompt.id, prompt.text]));
  return {
    challenge,
    strip: stripOf(core, id, challenge.name, answer),
    span: `${sayDate(from)} to ${sayDate(to)}`,
    prompts: answer.prompts.map((prompt) => {
      const reading = prompt.reading && core.journal.tables.readings.get(prompt.reading);
      return {
        id: prompt.id,
        text: prompt.text,
        rule: prompt.rule,
        ruleSaid: `a book that ${ruleSaid(prompt.rule, named)}`,
        state: prompt.state,
        ...(prompt.book
          ? {
              book: prompt.book,
              title: titleOf(prompt.book),
              author: authorOf(prompt.book),
            }
          : {}),
        ...(reading ? { on: readingSaid(reading) } : {}),
        ...(prompt.pages ? { pages: prompt.pages } : {}),
        ...(prompt.why ? { why: prompt.why } : {}),
        would: prompt.wouldMeet.map(({ book, lists, through }) => ({
          book,
          title: titleOf(book),
          author: authorOf(book),
          lists,
          ...(through ? { through: texts.get(through) ?? through } : {}),
        })),
      };
    }),
  };
}

const namedIn =
  ({ journal }: Core) =>
  (is: string): string =>
    journal.tables.headings.get(is as HeadingId)?.name ?? is;

/** Readings a free prompt may be met by, the newest first. */
export function readingsToChoose(
  core: Core,
  id: ChallengeId,
): { reading: ReadingId; title: string; said: string }[] {
  const challenge = core.journal.tables.challenges.get(id);
  if (!challenge) return [];
  const { from, to } = challengeSpan(challenge);
  return [...core.journal.tables.readings.values()]
    .filter((reading) => {
      if (isInHand(reading)) return true;
      const span = isFinished(reading) ? spanOf(reading.finished) : undefined;
      return span !== undefined && (span.latest ?? '') >= from && (span.earliest ?? '') <= to;
    })
    .sort((a, b) => (sortDay(a) < sortDay(b) ? 1 : -1))
    .map((reading) => ({
      reading: reading.id,
      title: bookOf(core.journal, reading.book)?.name ?? 'A book',
      said: readingSaid(reading),
    }));
}

/** What a ready-made challenge is made from. */
export type PresetAsk = { name?: string; from: string; to: string } & (
  | { kind: 'letters'; of: 'title' | 'author' }
  | { kind: 'decades'; fromYear: number; toYear: number }
  | { kind: 'pages'; perDay: number }
  | { kind: 'author'; author: HeadingId }
  | { kind: 'words'; words: string }
);

/** A challenge to look over before it is kept, with each rule in words; nothing is changed. */
export function presetDraft(core: Core, ask: PresetAsk): ChallengeDraft {
  const made = presetPrompts(core, ask);
  return {
    name: ask.name?.trim() || made.name,
    from: ask.from,
    to: ask.to,
    perBook: 1,
    prompts: made.prompts,
  };
}

function presetPrompts(
  core: Core,
  ask: PresetAsk,
): { name: string; prompts: Challenge['prompts'] } {
  const [from, to] = [spanOf(ask.from)?.earliest ?? '', spanOf(ask.to)?.latest ?? ''];
  switch (ask.kind) {
    case 'letters':
      return {
        name: `${LETTERS.length} letters, by ${ask.of}`,
        prompts: letterPrompts(ask.of),
      };
    case 'decades':
      return {
        name: 'A book from each decade',
        prompts: decadePrompts(ask.fromYear, ask.toYear),
      };
    case 'pages':
      return {
        name: `${ask.perDay} pages a day`,
        prompts: isDay(from) && isDay(to) && from <= to ? pagesPrompts(ask.perDay, from, to) : [],
      };
    case 'author': {
      const books = [...factsIn(core).values()]
        .filter(({ authors }) => authors.some(({ id }) => id === ask.author))
        .sort((a, b) => ((a.published ?? '9') < (b.published ?? '9') ? -1 : 1));
      return {
        name: `Everything by ${namedIn(core)(ask.author)}`,
        prompts: bookPrompts(books),
      };
    }
    case 'words':
      return { name: 'A challenge', prompts: promptsFromWords(ask.words, headingNamed(core)) };
  }
}

/** The id of the one heading that is called so. */
function headingNamed(core: Core) {
  return (words: string, kind: 'book' | 'theme' | 'person'): string | undefined => {
    const found = headingsCalled(core.journal, kind, words);
    return found.size === 1 ? [...found][0] : undefined;
  };
}

export const ruleOfWords = (core: Core, text: string): PromptRule =>
  ruleFromWords(text, headingNamed(core));

/** A rule in words, to be looked over while it is made. */
export const sayRule = (core: Core, rule: PromptRule): string =>
  `a book that ${ruleSaid(rule, namedIn(core))}`;

export function putChallenge(core: Core, { base, ...sent }: ChallengeDraft): Asked {
  const known = sent.id ? core.journal.tables.challenges.get(sent.id) : undefined;
  const draft = known && base ? challengeOnto(known, base, sent) : sent;
  const name = draft.name.trim();
  if (name === '') return { ok: false, code: 'no-name', said: 'A challenge wants a name.' };
  for (const date of [draft.from, draft.to]) {
    const read = readDate(date);
    if (!read.ok) return { ok: false, code: read.code, said: read.message };
  }
  const [from, to] = [spanOf(draft.from)?.earliest ?? '', spanOf(draft.to)?.latest ?? '9999'];
  if (to < from) return { ok: false, code: 'ends-first', said: 'It cannot end before it begins.' };
  const fault = draft.prompts.map(({ text, rule }) => faultOf(text, rule)).find(Boolean);
  if (fault) return { ok: false, code: 'bad-rule', said: fault };
  const { perBook } = draft;
  if (perBook !== 'any' && !(Number.isInteger(perBook) && perBook >= 1))
    return { ok: false, code: 'bad-number', said: 'A book serves once or more often.' };
  const id = draft.id ?? (core.around.newId() as ChallengeId);
  const row: Challenge = {
    ...known,
    ...draft,
    id,
    name,
    prompts: withIds(draft.prompts, [...(known?.prompts ?? []), ...(base?.prompts ?? [])]),
  };
  const does = `${known ? 'Change' : 'Begin'} the challenge ${name}`;
  return { ok: true, edit: { ...putRow(core.journal, 'challenges', row), does }, id };
}

function faultOf(text: string, rule: PromptRule): string | undefined {
  const says = `“${text.trim() || 'A prompt'}”`;
  if (text.trim() === '') return 'Each prompt wants its words.';
  for (const date of [rule.from, rule.to]) {
    const read = date === undefined ? undefined : readDate(date);
    if (read && !read.ok) return `${says}: ${read.message}`;
  }
  const needs = ['title-letter', 'author-letter', 'theme', 'person', 'author', 'book', 'form'];
  if ([...needs, 'decade', 'language'].includes(rule.by) && !rule.is?.trim())
    return `${says}: say which ${rule.by.replace('-', ' ')} is meant.`;
  const { atLeast, atMost } = rule;
  if (['pages', 'rating'].includes(rule.by) && atLeast === undefined && atMost === undefined)
    return `${says}: say at least or at most how many.`;
  if (rule.by === 'pages-in-all' && atLeast === undefined) return `${says}: say how many pages.`;
  if (atLeast !== undefined && atMost !== undefined && atMost < atLeast)
    return `${says}: the most is less than the least.`;
  return undefined;
}

/** Chooses by hand the readings that meet a free prompt. */
export function chooseReadings(
  core: Core,
  id: ChallengeId,
  prompt: string,
  readings: readonly ReadingId[],
): Asked {
  const challenge = core.journal.tables.challenges.get(id);
  const there = challenge?.prompts.find((each) => each.id === prompt);
  if (!challenge || !there) return { ok: false, code: 'gone', said: 'That prompt is gone.' };
  const prompts = challenge.prompts.map((each) => {
    if (each.id !== prompt) return each;
    const { readings: _readings, ...rule } = each.rule;
    return {
      ...each,
      rule: readings.length > 0 ? { ...rule, readings: [...readings] } : rule,
    };
  });
  const does = `Choose what meets “${there.text}”`;
  return {
    ok: true,
    edit: { ...putRow(core.journal, 'challenges', { ...challenge, prompts }), does },
    id,
  };
}

export function dropChallenge(core: Core, id: ChallengeId): Asked {
  const challenge = core.journal.tables.challenges.get(id);
  if (!challenge) return { ok: false, code: 'gone', said: 'That challenge is no longer there.' };
  const does = `Remove the challenge ${challenge.name}`;
  return { ok: true, edit: { ...removeRow(core.journal, 'challenges', id), does } };
}
