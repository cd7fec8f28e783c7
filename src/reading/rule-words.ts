/** A prompt's rule in plain words, to follow "a book that …" or "no book … ". */
import type { PromptRule } from '../journal/records';
import { sayDate } from '../language/dates';
import { spanOf } from './readings';
import { formNamed } from './rules';

const FORMS = { print: 'was read in print', ebook: 'was read on screen', audio: 'was heard' };

/** "was first published in the 1820s", "has a title that files under Q". `named` gives the name of a heading by its id, or the words themselves. */
export function ruleSaid(rule: PromptRule, named: (is: string) => string): string {
  const is = rule.is ?? '';
  switch (rule.by) {
    case 'title-letter':
      return `has a title that files under ${is.toUpperCase()}`;
    case 'author-letter':
      return `has an author who files under ${is.toUpperCase()}`;
    case 'theme':
      return `is tied to the theme ${named(is)}`;
    case 'person':
      return `has ${named(is)} in it`;
    case 'author':
      return `is by ${named(is)}`;
    case 'book':
      return `is ${named(is)}`;
    case 'form': {
      const form = formNamed(is);
      return form ? FORMS[form] : `was read as ${is}`;
    }
    case 'pages':
      return rangeSaid(rule, 'has', 'pages');
    case 'pages-in-all':
      return rangeSaid(rule, 'brings', 'pages in all');
    case 'rating':
      return rangeSaid(rule, 'is rated', '');
    case 'decade':
      return `was first published in the ${is.replace(/[xX]$/, '0').replace(/s$/, '')}s`;
    case 'published':
      return `was first published ${whenSaid(rule)}`;
    case 'language': {
      const other = /^(?:not|other than)\s+(.+)$/i.exec(is)?.[1];
      return other
        ? `is in another language than ${languageSaid(other)}`
        : `is in ${languageSaid(is)}`;
    }
    case 'finished':
      return `was finished ${whenSaid(rule)}`;
    case 'free':
      return 'was chosen for it by hand';
  }
}

function rangeSaid({ atLeast, atMost }: PromptRule, verb: string, unit: string): string {
  const of = unit ? ` ${unit}` : '';
  if (atLeast !== undefined && atMost !== undefined) return `${verb} ${atLeast} to ${atMost}${of}`;
  if (atLeast !== undefined) return `${verb} ${atLeast}${of} or more`;
  return atMost === undefined ? `${verb} any number of${of}` : `${verb} at most ${atMost}${of}`;
}

function whenSaid({ is, from, to }: PromptRule): string {
  if (is) return dateSaid(is);
  const [first, last] = [from && endOf(from, 0), to && endOf(to, 1)];
  if (first && last)
    return first === last ? dateSaid(first) : `from ${sayDate(first)} to ${sayDate(last)}`;
  if (first) return `${dateSaid(first)} or later`;
  return last ? `${dateSaid(last)} or before` : 'at any time';
}

/** "on 14 Mar 2024", "in Mar 2024", "from 1890 to 1899", "until 1899", "about 1818", "perhaps in 1818". */
function dateSaid(edtf: string): string {
  const said = sayDate(edtf);
  const [, perhaps = '', date = ''] = /^(perhaps )?(.*)$/.exec(said) ?? [];
  if (/^(?:about|from|until) /.test(date)) return said;
  if (date === 'any time') return `at ${date}`;
  const span = spanOf(edtf);
  const small = edtf.includes('/') ? 'from' : span && span.earliest === span.latest ? 'on' : 'in';
  return `${perhaps}${small} ${date}`;
}

/** The first (0) or the last (1) date of a span; of one that is open there, or of no span, the whole. */
function endOf(edtf: string, at: 0 | 1): string {
  const end = edtf.split('/')[at] ?? '';
  return end === '' || end === '..' ? edtf : end;
}

/** The English name of a language tag. */
export function languageSaid(tag: string): string {
  try {
    return new Intl.DisplayNames(['en-GB'], { type: 'language' }).of(tag.trim()) ?? tag;
  } catch {
    return tag;
  }
}
