/** Rules of prompts as they are chosen on screen. */
import type { PromptRule } from '../../journal/records';

export type RuleBy = PromptRule['by'];

export const RULE_SAYS: Record<RuleBy, string> = {
  free: 'chosen by hand',
  'title-letter': 'letter of the title',
  'author-letter': 'letter of the author',
  author: 'by an author',
  book: 'one book',
  theme: 'a theme',
  person: 'a person in it',
  form: 'how it is read',
  pages: 'length',
  published: 'when published',
  decade: 'decade',
  language: 'language',
  finished: 'when finished',
  rating: 'rating',
  'pages-in-all': 'pages in all',
};

/** What a rule is told by: a heading, words, two numbers, a stretch of time, or nothing. */
export const RULE_FIELD: Record<
  RuleBy,
  'none' | 'heading' | 'words' | 'numbers' | 'dates' | 'form'
> = {
  free: 'none',
  'title-letter': 'words',
  'author-letter': 'words',
  author: 'heading',
  book: 'heading',
  theme: 'heading',
  person: 'heading',
  form: 'form',
  pages: 'numbers',
  published: 'dates',
  decade: 'words',
  language: 'words',
  finished: 'dates',
  rating: 'numbers',
  'pages-in-all': 'numbers',
};

export const RULE_KIND: Partial<Record<RuleBy, 'book' | 'theme' | 'person'>> = {
  author: 'person',
  person: 'person',
  theme: 'theme',
  book: 'book',
};

/** The first and the last date a rule about time goes between, as kept or as typed; '' where it is open. */
export function endsOf({ is = '', from, to }: PromptRule): { from: string; to: string } {
  const ends = is.split('/').map((end) => (end === '..' ? '' : end));
  return { from: from ?? ends[0] ?? '', to: to ?? ends.at(-1) ?? '' };
}
