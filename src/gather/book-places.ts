/** Pages and chapters as people write them: "p. 61", "pp. 61–63", "ch. xii", "chapter 4, page 9", "Act II, scene 1", "Stave Two". */
import type { Place } from '../journal/records';

export interface PlaceFound {
  place: Place;
  /** Offsets into the text, `to` exclusive. */
  from: number;
  to: number;
}

const NUMBER_WORDS =
  'one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty'.split(
    ' ',
  );
const NUMERAL = `(?:\\d{1,4}|[ivxlc]{1,8}(?![\\p{L}’'])|${NUMBER_WORDS.join('|')})`;
const RANGE = `${NUMERAL}(?:(?:\\s?[-–—]\\s?|\\s(?:to|and)\\s)${NUMERAL}|ff?\\b)?`;
const FORMS: readonly [keyof Place, RegExp][] = [
  [
    'page',
    new RegExp(
      `(?<![\\p{L}\\d])(?:pp?\\.?|pg\\.?|pages?)\\s?(\\d{1,4}(?:(?:\\s?[-–—]\\s?|\\sto\\s)\\d{1,4}|ff?\\b)?|[ivxlc]{1,8}(?![\\p{L}’']))(?![\\p{L}\\d])`,
      'giu',
    ),
  ],
  [
    'chapter',
    new RegExp(
      `(?<![\\p{L}\\d])(?:chapters?|chaps?\\.?|chs?\\.?|c\\.)\\s?(${RANGE})(?![\\p{L}\\d])`,
      'giu',
    ),
  ],
  [
    'note',
    new RegExp(
      `(?<![\\p{L}\\d])((?:act|stave|canto|part|book|letter|vol(?:ume|\\.)?)\\s${NUMERAL}(?:,?\\s(?:scene|sc\\.)\\s?${NUMERAL})?)(?![\\p{L}\\d])`,
      'giu',
    ),
  ],
];

/** Every page and chapter named in a text, in order. */
export function placesIn(text: string): PlaceFound[] {
  const found: PlaceFound[] = [];
  for (const [field, form] of FORMS) {
    for (const match of text.matchAll(form)) {
      const said = match[1];
      if (!said) continue;
      found.push({
        place: { [field]: tidy(said, field) },
        from: match.index,
        to: match.index + match[0].length,
      });
    }
  }
  return joined(
    found.sort((a, b) => a.from - b.from),
    text,
  );
}

function tidy(said: string, field: keyof Place): string {
  const even = said.replace(/\s?[-–—]\s?|\sto\s/gu, '–').replace(/\s+/gu, ' ');
  if (field !== 'chapter') return even;
  const word = NUMBER_WORDS.indexOf(even.toLowerCase());
  return word >= 0 ? String(word + 1) : even;
}

/** "ch. 4, p. 61" is one place. */
function joined(found: readonly PlaceFound[], text: string): PlaceFound[] {
  const places: PlaceFound[] = [];
  for (const next of found) {
    const last = places.at(-1);
    if (last && next.from < last.to) continue;
    const shares = last && Object.keys(next.place).some((field) => field in last.place);
    if (last && !shares && /^[\s,;:.]{0,3}$/u.test(text.slice(last.to, next.from))) {
      last.place = { ...last.place, ...next.place };
      last.to = next.to;
    } else places.push({ ...next, place: { ...next.place } });
  }
  return places;
}

/** The chapter a heading names: "Chapter 4", "CHAPTER IV. The Field of Daisies", "Ch 4: Daisies". */
export function chapterOfHeading(heading: string): Place | undefined {
  const [first] = placesIn(heading);
  if (!first || first.from > 3) return undefined;
  return first.place;
}
