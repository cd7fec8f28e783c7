/** Whether a book, read in this way, is what a prompt asks for. */
import type { HeadingId, PromptRule, Reading } from '../journal/records';
import { fold } from '../language/tokens';
import { letterOf, type BookFacts } from './book-facts';
import { spanOf, within, type Sureness } from './readings';

/** Headings that a rule's `is` means, looked up by whoever has the journal. */
export type Meant = (rule: PromptRule) => ReadonlySet<HeadingId>;

interface Verdict {
  meets: Sureness;
  /** What is not known, where the answer is `maybe`: a finished phrase such as "its year is not known". */
  unknown?: string;
}

const YES: Verdict = { meets: 'yes' };
const NO: Verdict = { meets: 'no' };
const verdict = (met: boolean): Verdict => (met ? YES : NO);
const maybe = (unknown: string): Verdict => ({ meets: 'maybe', unknown });

/** The form a rule names in `is`, by our word or a common one; undefined for no such form. */
export function formNamed(text: string): Reading['form'] | undefined {
  const word = fold(text.trim()).replace(/[\s-]+/g, '');
  if (/^(audio|audiobook|byear|listened)$/.test(word)) return 'audio';
  if (/^(ebook|screen|onscreen)$/.test(word)) return 'ebook';
  return /^(print|inprint|paper|paperback|hardback)$/.test(word) ? 'print' : undefined;
}

/** The letter class a rule names: "a" and "A" alike; any figure is "0–9". */
export const letterNamed = (text: string): string =>
  letterOf(fold(text.trim().replace(/^['"“‘]/, '')));

/**
 * Whether a reading of a book meets a rule. Without a reading the question is whether the book would meet it if it were read in time: what lies with
 * the reader (the form, the day) is then taken as met. `pages-in-all` is asked of all readings together and is no question for one.
 */
export function meets(
  rule: PromptRule,
  facts: BookFacts,
  reading: Reading | undefined,
  meant: Meant,
): Verdict {
  switch (rule.by) {
    case 'title-letter':
      return verdict(facts.letter !== '' && facts.letter === letterNamed(rule.is ?? ''));
    case 'author-letter': {
      const letter = letterNamed(rule.is ?? '');
      if (facts.authors.length === 0) return maybe('its author is not known');
      return verdict(facts.authors.some((author) => author.letter === letter));
    }
    case 'theme':
      return verdict(overlap(meant(rule), facts.themes));
    case 'person':
      return verdict(overlap(meant(rule), facts.people));
    case 'author':
      return verdict(overlap(meant(rule), new Set(facts.authors.map(({ id }) => id))));
    case 'book':
      return verdict(meant(rule).has(facts.id));
    case 'form':
      return verdict(!reading || reading.form === formNamed(rule.is ?? ''));
    case 'pages':
      return inRange(reading?.pages ?? facts.pages, rule, 'its length is not known');
    case 'rating':
      if (!reading) return maybe('it is not rated yet');
      return inRange(reading.rating, rule, 'it is not rated');
    case 'published':
    case 'decade':
      return publishedIn(rule, facts);
    case 'language':
      return inLanguage(rule.is ?? '', facts.language);
    case 'finished':
      return finishedIn(rule, reading);
    case 'free':
      return verdict(reading !== undefined && (rule.readings ?? []).includes(reading.id));
    case 'pages-in-all':
      return NO;
  }
}

function overlap(a: ReadonlySet<HeadingId>, b: ReadonlySet<HeadingId>): boolean {
  for (const id of a) if (b.has(id)) return true;
  return false;
}

function inRange(value: number | undefined, rule: PromptRule, unknown: string): Verdict {
  const { atLeast = -Infinity, atMost = Infinity } = rule;
  if (value === undefined) return maybe(unknown);
  return verdict(value >= atLeast && value <= atMost);
}

/** First and last day a rule about publishing asks for; a decade is named by its first year or as EDTF ("1810", "1810s", "181X"). */
function publishedSpan(rule: PromptRule): { from: string; to: string } | undefined {
  if (rule.by === 'decade') {
    const decade = /^(-?\d{3})[\dXx]s?$/.exec((rule.is ?? '').trim())?.[1];
    if (decade === undefined) return undefined;
    return { from: `${decade}0-01-01`, to: `${decade}9-12-31` };
  }
  const is = spanOf(rule.is);
  const from = is?.earliest ?? spanOf(rule.from)?.earliest ?? '0000-01-01';
  const to = is?.latest ?? spanOf(rule.to)?.latest ?? '9999-12-31';
  return { from, to };
}

/** When a book was first published: of an interval the beginning, as the first part of a work is its first publishing. */
const firstPublished = (published: string): string => {
  const [from = ''] = published.split('/');
  return from === '' || from === '..' ? published : from;
};

function publishedIn(rule: PromptRule, { published }: BookFacts): Verdict {
  const span = publishedSpan(rule);
  if (!span) return NO;
  if (published === undefined) return maybe('its year of publication is not known');
  const sure = within(firstPublished(published), span.from, span.to);
  return sure === 'maybe' ? maybe('its year of publication is not sure') : { meets: sure };
}

function inLanguage(wanted: string, language: string | undefined): Verdict {
  if (language === undefined) return maybe('its language is not marked');
  const primary = (tag: string): string => tag.trim().toLowerCase().split('-')[0] ?? '';
  const other = /^(?:not|other than)\s+(.+)$/i.exec(wanted.trim())?.[1];
  if (other !== undefined) return verdict(primary(language) !== primary(other));
  return verdict(primary(language) === primary(wanted));
}

function finishedIn(rule: PromptRule, reading: Reading | undefined): Verdict {
  if (!reading) return YES;
  const { from, to } = finishedSpan(rule);
  const sure = within(reading.finished, from, to);
  return sure === 'maybe' ? maybe('the day it was finished is not sure') : { meets: sure };
}

function finishedSpan(rule: PromptRule): { from: string; to: string } {
  const is = spanOf(rule.is);
  const from = is?.earliest ?? spanOf(rule.from)?.earliest ?? '0000-01-01';
  return { from, to: is?.latest ?? spanOf(rule.to)?.latest ?? '9999-12-31' };
}

/** Whether it is too late to finish a book for a prompt: its challenge is over, or the days its rule asks for are. */
export const isPast = (rule: PromptRule, span: { to: string }, today: string): boolean =>
  today > span.to || (rule.by === 'finished' && today > finishedSpan(rule).to);
