import type { EntryId, Heading, HeadingId, HeadingKind, Tie } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import {
  baseShare,
  formsIn,
  goesWith,
  inBook,
  nameEvidence,
  nameShare,
  relatedEvidence,
  relatedShare,
  smoothed,
  wordReason,
  type Evidence,
} from './evidence';
import { spread } from './ranking';
import type { WeaveIndex } from './weave-index';
import { stemsOf } from './words';

/** Entries of one of the text's headings that are looked at for what they are tied to besides. */
const LOOKED_AT = 2000;

/** One thing that speaks of headings: those it brings up, and what it says of any. */
interface Ground {
  brings: Iterable<HeadingId>;
  says: (heading: Heading, base: number) => Evidence | undefined;
}

/** Everything that speaks for headings of a text with these ties. `self` is the entry it belongs to, which does not speak for itself. */
export function evidenceForText(
  index: WeaveIndex,
  text: string,
  ties: readonly Tie[],
  self?: EntryId,
): Map<HeadingId, Evidence[]> {
  const { headings } = index.journal.tables;
  const stems = stemsOf(text);
  const held = [...new Set(ties.map((tie) => tie.heading))].filter((id) => headings.has(id));
  const grounds = [
    byName(index, text),
    byRelated(index, text, stems),
    byLikeEntries(index, text, stems, self),
    ...held.map((id) => byHeld(index, id, self)),
  ];
  const found = new Map<HeadingId, Evidence[]>();
  for (const id of new Set(grounds.flatMap(({ brings }) => [...brings]))) {
    const heading = headings.get(id);
    if (!heading) continue;
    const base = baseShare(index, heading);
    found.set(
      id,
      grounds.flatMap(({ says }) => says(heading, base) ?? []),
    );
  }
  return found;
}

function byName(index: WeaveIndex, text: string): Ground {
  const named = index.names.namedIn(text);
  return {
    brings: named.keys(),
    says: (heading) => {
      const found = named.get(heading.id);
      return found && nameEvidence(heading, nameShare(index, found), () => found);
    },
  };
}

/** The word of the text that is nearest to what a heading is called. */
function byRelated(index: WeaveIndex, text: string, stems: ReadonlyMap<string, number>): Ground {
  const best = new Map<HeadingId, [stem: string, weight: number]>();
  for (const stem of [...stems.keys()].sort()) {
    for (const [id, weight] of index.related.near(stem))
      if (weight > (best.get(id)?.[1] ?? 0)) best.set(id, [stem, weight]);
  }
  return {
    brings: best.keys(),
    says: (heading) => {
      const [stem, weight] = best.get(heading.id) ?? [];
      if (stem === undefined || weight === undefined) return undefined;
      const [told] = formsIn(text, [stem]);
      const share = relatedShare(index, heading.id, stem, weight);
      return relatedEvidence(told?.form ?? stem, heading, share);
    },
  };
}

/** Entries most like the text that have a say, each by its likeness to this power, so that the nearest speak loudest. */
const VOTERS = 300;
const POWER = 3;
/** Votes that go by the base, in the same measure. */
const VOTES_MORE = 0.01;
/** Our own setting, tuned on hidden topics of quotations; see `npm run judge`. */
const LIKE_COUNTS = 0.45;

/** What share of the votes of like entries each heading gets, among entries gone through for headings of its kind. */
class Votes {
  readonly all: Record<HeadingKind, number> = { book: 0, theme: 0, person: 0 };
  readonly held = new Map<HeadingId, number>();

  constructor(
    readonly index: WeaveIndex,
    voters: readonly (readonly [EntryId, weight: number])[],
  ) {
    const { entries } = index.journal.tables;
    for (const [id, weight] of voters) {
      for (const kind of ['book', 'theme', 'person'] as const)
        if (index.kinds.has(id, kind)) this.all[kind] += weight;
      for (const heading of new Set(entries.get(id)?.ties.map((tie) => tie.heading)))
        this.held.set(heading, (this.held.get(heading) ?? 0) + weight);
    }
  }

  share({ id, kind }: Heading, base: number, more: number): number {
    return smoothed(this.held.get(id) ?? 0, this.all[kind], base, more);
  }
}

function byLikeEntries(
  index: WeaveIndex,
  text: string,
  stems: ReadonlyMap<string, number>,
  self: EntryId | undefined,
): Ground {
  const question = index.words.question(stems);
  const near = index.words
    .mostLike(question, VOTERS + 1)
    .filter(([id]) => id !== self)
    .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1));
  const votes = new Votes(
    index,
    near.map(([id, score]) => [id, score ** POWER] as const),
  );
  const reason = (heading: Heading): ReturnType<typeof wordReason> => {
    const tied = entriesTiedTo(index.journal, heading.id);
    const weights = new Map<string, number>();
    for (const [id] of near) {
      if (!tied.has(id)) continue;
      for (const [word, own] of index.words.vectorOf(id)) {
        const asked = question.get(word);
        if (asked !== undefined) weights.set(word, (weights.get(word) ?? 0) + own * asked);
      }
    }
    const told = [...weights].sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1));
    return wordReason(
      index,
      text,
      told.map(([word]) => word),
      heading,
    );
  };
  return {
    brings: votes.held.keys(),
    says: (heading, base) => ({
      share: votes.share(heading, base, VOTES_MORE),
      counts: LIKE_COUNTS,
      ...(votes.held.has(heading.id) ? { reason: () => reason(heading) } : {}),
    }),
  };
}

/** What else is tied where one of the text's headings is; a character leads to the character's books. */
function byHeld(index: WeaveIndex, held: HeadingId, self: EntryId | undefined): Ground {
  const { entries, headings } = index.journal.tables;
  const { kinds } = index;
  const beside = new Map<HeadingId, number>();
  const tied = entriesTiedTo(index.journal, held);
  const looked = tied.size > LOOKED_AT ? spread([...tied].sort(), LOOKED_AT) : tied;
  const scale = tied.size > LOOKED_AT ? tied.size / LOOKED_AT : 1;
  for (const id of looked) {
    if (id === self) continue;
    for (const heading of new Set(entries.get(id)?.ties.map((tie) => tie.heading)))
      beside.set(heading, (beside.get(heading) ?? 0) + 1);
  }
  beside.delete(held);
  const person = headings.get(held);
  const books = person?.kind === 'person' ? (person.books ?? []) : [];
  return {
    brings: [...beside.keys(), ...books],
    says: (heading, base) => {
      if (heading.id === held) return undefined;
      if (person?.kind === 'person' && books.includes(heading.id))
        return inBook(index, person, heading);
      const both = (beside.get(heading.id) ?? 0) * scale;
      const own = self !== undefined && tied.has(self) && kinds.has(self, heading.kind) ? 1 : 0;
      const all = kinds.beside(held, heading.kind) - own;
      return goesWith(index, held, heading.id, { both, all, base });
    },
  };
}
