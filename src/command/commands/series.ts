import type { Engine } from '../../engine/engine';
import { seriesPlan, type Series, type SeriesAsk } from '../../engine/series';
import { seriesMade } from '../../engine/series-made';
import { isSealed } from '../../engine/sealed';
import { publishSchedule } from '../../engine/series-schedule';
import { counted } from '../../journal/labels';
import type { GuideId } from '../../journal/records';
import { sayDate } from '../../language/dates';
import { asked, circleNamed, dateAsked, guideNamed, headingNamed, open } from '../asked';
import type { Asked } from '../asked';
import { saveJournal, saveWhole } from '../journal-on-disk';
import { endingOf, outAsked } from '../printing';
import { Refusal } from '../refusal';
import type { Told } from '../told';

/** A whole day, in ISO or as people write it. */
function dayAsked(ask: Asked, name: 'first' | 'begin'): string | undefined {
  const said = ask.one(name);
  const day = dateAsked(said);
  if (day === undefined || /^\d{4}-\d{2}-\d{2}$/.test(day)) return day;
  throw new Refusal('wrong-use', `--${name} takes a day such as 2026-12-03, not “${said}”.`);
}

function seriesAsked(engine: Engine, ask: Asked, book: string): SeriesAsk {
  const first = dayAsked(ask, 'first');
  if (!first) throw new Refusal('wrong-use', 'Say when it begins: series BOOK --first DATE.');
  const at = ask.one('at');
  if (at !== undefined && !/^([01]\d|2[0-3]):[0-5]\d$/.test(at))
    throw new Refusal('wrong-use', `--at takes a clock time such as 19:00, not “${at}”.`);
  const shape = ask.one('shape');
  if (shape !== undefined && shape !== 'discussion' && shape !== 'lesson')
    throw new Refusal('wrong-use', `--shape takes discussion or lesson, not “${shape}”.`);
  const meetings = ask.number('meetings', 1, 60);
  const pagesADay = ask.number('pages-a-day', 1, 1000);
  if ((meetings === undefined) === (pagesADay === undefined))
    throw new Refusal('wrong-use', 'Say either --meetings N or --pages-a-day N.');
  const [circle, like] = [ask.one('circle'), ask.one('like')];
  const begin = dayAsked(ask, 'begin');
  const wanted: Omit<SeriesAsk, 'book' | 'first'> = {
    ...(meetings === undefined ? {} : { meetings }),
    ...(pagesADay === undefined ? {} : { pagesADay }),
    ...(circle ? { circle: circleNamed(engine, circle).id } : {}),
    ...(like ? { like: guideNamed(engine, like, 'template').id } : {}),
    ...(begin ? { begin } : {}),
    ...(at ? { at } : {}),
    ...(shape ? { shape } : {}),
  };
  for (const [name, key] of [
    ['chapters', 'chapters'],
    ['every', 'every'],
    ['minutes', 'minutes'],
  ] as const) {
    const value = ask.number(name, name === 'minutes' ? 5 : 1, name === 'minutes' ? 600 : 999);
    if (value !== undefined) wanted[key] = value;
  }
  return { ...wanted, book: headingNamed(engine, book, 'book').id, first };
}

function lines({ meetings, said, pages }: Series): string[] {
  const about = pages === 'estimated' ? 'about ' : '';
  return [
    said,
    ...meetings.map(({ on, title, chapters, pages: stretch, pagesADay, minutesADay }) => {
      const facts = [
        chapters && stretch && `${about}pages ${stretch.from} to ${stretch.to}`,
        pagesADay && `${pagesADay} a day`,
        minutesADay && `about ${counted(minutesADay, 'minute')} a day`,
      ].filter(Boolean);
      return `  ${sayDate(on).padEnd(12)}  ${title}${facts.length > 0 ? `; ${facts.join(', ')}` : ''}`;
    }),
  ];
}

/** Parts a book among meetings; keeps a guide for each with --save, writes the reading schedule with --out. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {
    meetings: 'number',
    'pages-a-day': 'number',
    chapters: 'number',
    first: 'text',
    every: 'number',
    begin: 'text',
    at: 'text',
    circle: 'text',
    like: 'text',
    minutes: 'number',
    shape: 'text',
    out: 'text',
    save: 'flag',
  });
  const name = ask.words.join(' ');
  if (!name) throw new Refusal('wrong-use', 'Say which book: series BOOK --first DATE.');
  const out = await outAsked(ask);
  if (out !== undefined && endingOf(out) !== 'ics')
    throw new Refusal('wrong-use', 'series --out takes a name that ends in ics.');
  const engine = await open(ask.path);
  const wanted = seriesAsked(engine, ask, name);
  const series = seriesPlan(engine.journal, wanted);
  if (!series.ok) throw new Refusal(series.code, series.message);
  if (out && isSealed(engine.journal, series.book.id))
    throw new Refusal('sealed', 'It belongs to a sealed list, and nothing sealed is written out.');
  const told = lines(series);
  let guides: GuideId[] | undefined;
  if (ask.flag('save')) {
    const made = seriesMade(engine, wanted);
    if (!made.ok) throw new Refusal(made.code, made.message);
    const applied = engine.apply(made.edit);
    if (!applied.ok) throw new Refusal(applied.code, applied.message);
    guides = made.guides;
    told.push(`Kept in ${ask.path}: a guide for each meeting.`);
    if (made.empty > 0)
      told.push(`For ${made.empty} of them the journal holds nothing to place yet.`);
  }
  if (out) {
    const circle = wanted.circle && engine.journal.tables.circles.get(wanted.circle);
    const file = await publishSchedule(
      engine.journal,
      series,
      {
        ...(circle ? { circle } : {}),
        ...(guides ? { guides } : {}),
        ...(wanted.minutes ? { minutes: wanted.minutes } : {}),
      },
      new Date(),
    );
    await saveWhole(out, file.bytes);
    told.push(`${file.holds} written to ${out}.`);
  }
  // Last, so that where the schedule cannot be written the journal is as it was.
  if (guides) await saveJournal(ask.path, engine.journal);
  const { book, said, pages, meetings } = series;
  return {
    answer: {
      book,
      said,
      pages,
      meetings: meetings.map((one, at) => ({ ...one, ...(guides ? { guide: guides[at] } : {}) })),
    },
    text: told.join('\n'),
  };
}
