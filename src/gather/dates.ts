/** When a piece was written, by its own words: a date it opens or closes with. */
import { datesIn } from './readers/tools/dates-found';

const EARLIEST = 1950;

/** EDTF of a date set before or after the words of a piece: "14 March 2014: …", "… (May 2013)", "… 3.iv.12" at the end of a line. */
export function dateOfPiece(plain: string): string | undefined {
  for (const { edtf, exact, from, to } of datesIn(
    plain.length > 2000 ? plain.slice(0, 200) : plain,
  )) {
    const year = Number(edtf.slice(0, 4));
    if (exact === 'year' || exact === 'span' || year < EARLIEST) continue;
    const [before, after] = [plain.slice(0, from).trim(), plain.slice(to)];
    const opens =
      /^(?:\(|\[|(?:mon|tues|wednes|thurs|fri|satur|sun)day,?|written|noted|copied(?: out)?)?$/iu.test(
        before,
      ) && /^\s*(?:[:.;,)\]–—-]|\n|$)/u.test(after);
    // "14/3/21 Iris read a page": a whole day and then a sentence.
    const heads = exact === 'day' && before === '' && /^\s+[“‘"'(]?\p{Lu}/u.test(after);
    const closes =
      /^[\s.)\]]*$/u.test(after) &&
      /[\n([]$|[.!?”’"'][\s(–—-]*$/u.test(plain.slice(0, from).trimEnd());
    if (opens || heads || closes) return edtf;
  }
  return undefined;
}
