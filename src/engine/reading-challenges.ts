/** Challenges as screens show them, ready-made ones, and the edits that change them. */
import { putRow, removeRow } from '../journal/make-edits';
import type { Challenge, ChallengeId, HeadingId, PromptRule, ReadingId } from '../journal/records';
import { sayDate } from '../language/dates';
import { challengeSpan, type PromptAnswer } from '../reading/challenge';
import { isDay } from '../reading/days';
import {
  bookPrompts,
  decadePrompts,
  letterPrompts,
  pagesPrompts,
  LETTERS,
} from '../reading/presets';
import { promptsFromWords } from '../reading/prompt-words';
import { isFinished, isInHand, sortDay, spanOf } from '../reading/readings';
import { challengeOnto, withIds, type ChallengeDraft } from './challenge-drafts';
import { faultOf, headingNamed, namedIn, ruleTyped, sayRule } from './challenge-rules';
import type { Asked, Core } from './core';
import { dateTyped } from './dates-typed';
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
        ruleSaid: sayRule(core, prompt.rule),
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
  const [from, to] = [ask.from, ask.to].map((typed) => {
    const date = dateTyped(typed);
    return date.ok ? date.edtf : typed;
  }) as [string, string];
  const made = presetPrompts(core, { ...ask, from, to });
  return { name: ask.name?.trim() || made.name, from, to, perBook: 1, prompts: made.prompts };
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

export function putChallenge(core: Core, { base, ...asked }: ChallengeDraft): Asked {
  const [begins, ends] = [dateTyped(asked.from), dateTyped(asked.to)];
  if (!begins.ok) return { ok: false, code: begins.code, said: begins.message };
  if (!ends.ok) return { ok: false, code: ends.code, said: ends.message };
  const fault = asked.prompts.map(({ text, rule }) => faultOf(text, rule)).find(Boolean);
  if (fault) return { ok: false, code: 'bad-rule', said: fault };
  const sent: ChallengeDraft = {
    ...asked,
    from: begins.edtf,
    to: ends.edtf,
    prompts: asked.prompts.map((prompt) => ({ ...prompt, rule: ruleTyped(prompt.rule) })),
  };
  const known = sent.id ? core.journal.tables.challenges.get(sent.id) : undefined;
  const draft = known && base ? challengeOnto(known, base, sent) : sent;
  const name = draft.name.trim();
  if (name === '') return { ok: false, code: 'no-name', said: 'A challenge wants a name.' };
  const [from, to] = [spanOf(draft.from)?.earliest ?? '', spanOf(draft.to)?.latest ?? '9999'];
  if (to < from) return { ok: false, code: 'ends-first', said: 'It cannot end before it begins.' };
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
