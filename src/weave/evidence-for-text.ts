import type { EntryId, HeadingId, Tie } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { goesWith, inBook, nameShare, nameEvidence, wordReason, type Evidence } from './evidence';
import type { WeaveIndex } from './weave-index';
import { stemsOf } from './words';

/** Entries most like the text whose headings are looked at. */
const NEIGHBOURS = 25;
/** Likenesses below this are chance. */
const LEAST_LIKENESS = 0.08;
/** How far the vote of like entries is trusted. Our own setting. */
const VOTE_COUNTS = 0.8;
/** Entries of the text's headings that are looked at for what they are tied to besides. */
const LOOKED_AT = 2000;

/** Everything that speaks for headings of a text with these ties. `self` is the entry it belongs to, which does not speak for itself. */
export function evidenceForText(
  index: WeaveIndex,
  text: string,
  ties: readonly Tie[],
  self?: EntryId,
): Map<HeadingId, Evidence[]> {
  const { headings } = index.journal.tables;
  const grounds = new Map<HeadingId, Evidence[]>();
  const add = (id: HeadingId, evidence: Evidence): void => {
    const held = grounds.get(id);
    if (held) held.push(evidence);
    else grounds.set(id, [evidence]);
  };
  for (const [id, named] of index.names.namedIn(text)) {
    add(id, nameEvidence(named, headings.get(id)!, nameShare(index, named)));
  }
  byLikeEntries(index, text, self, add);
  byHeldTies(index, ties, self, add);
  byHeldCharacters(index, ties, add);
  return grounds;
}

type Add = (id: HeadingId, evidence: Evidence) => void;

function byLikeEntries(index: WeaveIndex, text: string, self: EntryId | undefined, add: Add): void {
  const { entries, headings } = index.journal.tables;
  const question = index.words.question(stemsOf(text));
  const near = [...index.words.likeness(question)]
    .filter(([id, score]) => id !== self && score >= LEAST_LIKENESS)
    .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1))
    .slice(0, NEIGHBOURS);
  const votes = new Map<HeadingId, { sum: number; voters: EntryId[] }>();
  let total = 0;
  for (const [id, score] of near) {
    total += score;
    for (const heading of new Set(entries.get(id)?.ties.map((tie) => tie.heading))) {
      const held = votes.get(heading) ?? { sum: 0, voters: [] };
      held.sum += score;
      held.voters.push(id);
      votes.set(heading, held);
    }
  }
  for (const [id, { sum, voters }] of votes) {
    const heading = headings.get(id);
    if (!heading || voters.length < 2) continue;
    const weight = new Map<string, number>();
    for (const voter of voters) {
      for (const [word, own] of index.words.vectorOf(voter)) {
        const asked = question.get(word);
        if (asked !== undefined) weight.set(word, (weight.get(word) ?? 0) + own * asked);
      }
    }
    const stems = [...weight]
      .sort(([a, left], [b, right]) => right - left || (a < b ? -1 : 1))
      .map(([word]) => word);
    if (stems.length < 2) continue;
    // A share of few votes is worth less: as if two more had voted otherwise with a middling likeness.
    const share = (VOTE_COUNTS * sum) / (total + (2 * total) / near.length);
    add(id, { share, reason: () => wordReason(index, text, stems, heading) });
  }
}

function byHeldTies(
  index: WeaveIndex,
  ties: readonly Tie[],
  self: EntryId | undefined,
  add: Add,
): void {
  const { entries, headings } = index.journal.tables;
  const best = new Map<HeadingId, Evidence>();
  for (const held of new Set(ties.map((tie) => tie.heading))) {
    const beside = new Map<HeadingId, number>();
    let looked = 0;
    for (const id of entriesTiedTo(index.journal, held)) {
      if (id === self || looked++ > LOOKED_AT) continue;
      for (const tie of entries.get(id)?.ties ?? []) {
        beside.set(tie.heading, (beside.get(tie.heading) ?? 0) + 1);
      }
    }
    for (const [wanted, times] of beside) {
      if (wanted === held || times < 2 || !headings.has(wanted)) continue;
      const evidence = goesWith(index, held, wanted);
      const known = best.get(wanted);
      if (evidence && (!known || known.share < evidence.share)) best.set(wanted, evidence);
    }
  }
  for (const [id, evidence] of best) add(id, evidence);
}

function byHeldCharacters(index: WeaveIndex, ties: readonly Tie[], add: Add): void {
  const { headings } = index.journal.tables;
  for (const held of new Set(ties.map((tie) => tie.heading))) {
    const person = headings.get(held);
    if (person?.kind !== 'person') continue;
    for (const id of person.books ?? []) {
      const book = headings.get(id);
      if (book) add(id, inBook(index, person, book));
    }
  }
}
