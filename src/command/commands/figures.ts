import { figuresOf, todayOf, type Figures } from '../../engine/reading';
import { counted } from '../../journal/labels';
import { sayDate } from '../../language/dates';
import { asked, open } from '../asked';
import { Refusal } from '../refusal';
import type { Told } from '../told';

const FORMS = { print: 'in print', ebook: 'on screen', audio: 'by ear' } as const;

function lines(year: number, figures: Figures): string[] {
  const { finished, pages, byForm, byMonth, days, rating, pace } = figures;
  const forms = (Object.keys(FORMS) as (keyof typeof FORMS)[])
    .filter((form) => byForm[form] > 0)
    .map((form) => `${byForm[form]} ${FORMS[form]}`);
  const told = [
    `${year}: ${finished} finished, ${counted(pages, 'page')}, ${counted(days, 'day')} with a book open`,
  ];
  if (forms.length > 0) told.push(forms.join(', '));
  if (rating.mean !== null) told.push(`rated ${rating.mean} on average (${rating.rated} rated)`);
  if (pace.daysPerBook !== null)
    told.push(
      `a book every ${pace.daysPerBook === 1 ? 'day' : counted(pace.daysPerBook, 'day')}, ${counted(pace.pagesPerDay ?? 0, 'page')} a day`,
    );
  told.push('');
  for (const [month, count] of Object.entries(byMonth)) {
    told.push(
      `${sayDate(month).split(' ')[0]}  ${'■'.repeat(count)}${count > 0 ? ' ' : ''}${count}`,
    );
  }
  return told;
}

/** The figures of one calendar year, this year unless another is named; exit 1 where nothing was read in it. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { year: 'number' });
  if (ask.words.length > 0)
    throw new Refusal('wrong-use', `figures takes --year Y and no words, not “${ask.words[0]}”.`);
  const asks = ask.number('year', 1, 9999);
  const engine = await open(ask.path);
  const year = asks ?? Number(todayOf(engine).slice(0, 4));
  const padded = String(year).padStart(4, '0');
  const figures = figuresOf(engine, { from: `${padded}-01-01`, to: `${padded}-12-31` });
  const { finished, pages, byForm, byMonth, days, rating, pace } = figures;
  return {
    answer: { year, finished, pages, byForm, byMonth, days, rating, pace },
    text: lines(year, figures).join('\n'),
    exit: finished > 0 || days > 0 ? 0 : 1,
  };
}
