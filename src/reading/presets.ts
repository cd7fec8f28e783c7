/** Challenges ready made: prompts with their rules, to be changed as a reader likes. Ids of prompts are short and lasting. */
import type { Challenge, HeadingId } from '../journal/records';
import { sayDate } from '../language/dates';
import { daysFromTo, daysInMonth, monthsFromTo } from './days';

type Prompts = Challenge['prompts'];

export const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];

/** One prompt for each letter, of titles or of authors' family names. */
export function letterPrompts(
  of: 'title' | 'author',
  letters: readonly string[] = LETTERS,
): Prompts {
  return letters.map((letter) => ({
    id: letter.toLowerCase(),
    text:
      of === 'title'
        ? `A book whose title files under ${letter}`
        : `A book by an author who files under ${letter}`,
    rule: { by: `${of}-letter`, is: letter },
  }));
}

/** One prompt for each decade from one year's to another's, both included; at most 100. */
export function decadePrompts(fromYear: number, toYear: number): Prompts {
  const first = Math.floor(Math.min(fromYear, toYear) / 10) * 10;
  const last = Math.floor(Math.max(fromYear, toYear) / 10) * 10;
  const prompts: Prompts = [];
  for (let decade = first; decade <= last && prompts.length < 100; decade += 10) {
    const name = String(decade).padStart(4, '0');
    prompts.push({
      id: `${name}s`,
      text: `A book first published in the ${name}s`,
      rule: { by: 'decade', is: name },
    });
  }
  return prompts;
}

/** So many pages a day, asked month by month and once for the whole, from one ISO day to another. */
export function pagesPrompts(perDay: number, from: string, to: string): Prompts {
  const pages = (days: number): number => Math.ceil(perDay * days);
  const said = (count: number): string => `${count.toLocaleString('en-GB')} pages`;
  const months = monthsFromTo(from, to).map((month): Prompts[number] => {
    const [year = 0, number = 1] = month.split('-').map(Number);
    const lastDay = `${month}-${String(daysInMonth(year, number)).padStart(2, '0')}`;
    const begin = from > `${month}-01` ? from : `${month}-01`;
    const end = to < lastDay ? to : lastDay;
    const wanted = pages(daysFromTo(begin, end));
    const whole = begin === `${month}-01` && end === lastDay;
    return {
      id: month,
      text: `${said(wanted)} in ${sayDate(month)}`,
      rule: {
        by: 'pages-in-all',
        atLeast: wanted,
        ...(whole ? { from: month, to: month } : { from: begin, to: end }),
      },
    };
  });
  const all = pages(daysFromTo(from, to));
  const whole: Prompts[number] = {
    id: 'all',
    text: `${said(all)} in all, ${perDay} a day`,
    rule: { by: 'pages-in-all', atLeast: all },
  };
  return months.length > 1 ? [...months, whole] : [whole];
}

/** Every one of these books. */
export function bookPrompts(books: readonly { id: HeadingId; name: string }[]): Prompts {
  return books.map(({ id, name }, at) => ({
    id: `book-${at + 1}`,
    text: name,
    rule: { by: 'book', is: id },
  }));
}
