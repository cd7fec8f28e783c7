/** Headings that nobody knows and that may be titles: proposed as new books where what stands under them is about a book. */
import { kindPoints, settleKind } from '../language/kinds';
import { placesIn } from './book-places';
import type { PieceTie } from './piece';
import type { RawPiece } from './raw-piece';
import type { Senses } from './senses';

/** Signs under a heading (pages, chapters, questions, quotations) that make a new book likely; fewer make it a guess. */
const SIGNS_FOR_LIKELY = 2;

/** Ties the pieces under such a heading to the book it may be. Pieces under a known book are left as they are. */
export function proposeTitles(raws: readonly RawPiece[], senses: Senses, fileTitle?: string): void {
  const under = new Map<string, RawPiece[]>();
  for (const raw of raws) {
    if (raw.governed.ties.some(({ kind }) => kind === 'book')) continue;
    const heading = raw.under.find((each) => senses.of(each).maybeBook !== undefined);
    if (heading === undefined) continue;
    const held = under.get(heading);
    if (held) held.push(raw);
    else under.set(heading, [raw]);
  }
  for (const [heading, pieces] of under) {
    const signs = pieces.filter(isOfABook).length;
    // Questions and quotations that only their own words tell stand under other headings too: no more than a guess.
    if (signs === 0 && pieces.filter(asksOrQuotes).length < SIGNS_FOR_LIKELY) continue;
    const tie: PieceTie = {
      name: titleCase(senses.of(heading).maybeBook ?? heading),
      kind: 'book',
      role: 'about',
      certainty: signs >= SIGNS_FOR_LIKELY ? 'likely' : 'guess',
      isNew: true,
    };
    for (const { governed } of pieces) {
      governed.ties = [tie, ...governed.ties];
      if (heading === fileTitle) governed.fromTitle = [tie, ...governed.fromTitle];
    }
  }
}

function isOfABook({ governed, text, column }: RawPiece): boolean {
  const { section } = governed;
  return (
    section === 'question' ||
    section === 'quote' ||
    column === 'quote' ||
    governed.place !== undefined ||
    placesIn(text).length > 0
  );
}

function asksOrQuotes({ text }: RawPiece): boolean {
  const { kind, certainty } = settleKind(kindPoints(text));
  return (kind === 'question' || kind === 'quote') && certainty !== 'guess';
}

const SMALL = /^(?:a|an|and|as|at|by|for|from|in|into|of|on|or|the|to|with)$/iu;

/** A title written all in capitals as titles are written: "ANNE OF GREEN GABLES" is "Anne of Green Gables". */
function titleCase(title: string): string {
  if (title !== title.toUpperCase()) return title;
  return title
    .toLowerCase()
    .split(' ')
    .map((word, at) =>
      at > 0 && SMALL.test(word) ? word : word.replace(/\p{L}/u, (letter) => letter.toUpperCase()),
    )
    .join(' ');
}
