/**
 * How near each entry is to what a guide is for, with the reason in words. Ties speak first: an entry the
 * reader tied to the focus counts whole; then strands and narrower themes, then words and nearness, each weaker.
 */
import type {
  Entry,
  EntryId,
  Focus,
  FocusStrand,
  Heading,
  HeadingId,
  Journal,
} from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { nearTo } from '../weave/near';
import { tiedTo } from '../weave/tied';
import { aheadOf, chapterOf } from './chapters';
import type { Core } from './core';

export interface Relevance {
  score: number;
  reasons: string[];
}

/** Weights of the sources; our own, tuned on the demo so that a tie always outranks a likeness. */
const TIED = 1;
const NARROWER = 0.85;
const PLACE_UNKNOWN = 0.65;
const OUT_OF_RANGE = 0.3;
const WORDS = 0.9;
const NEAR = 0.55;
/** Filed under so many headings of a strand, an entry is in the middle of it. */
const STRAND_WHOLE = 3;
/** A focus of several parts: an entry that serves all of them beats one that serves one well. */
const BEST_SHARE = 0.55;
/** Entries looked at for nearness to one part of the focus. */
const NEAR_LIMIT = 300;

type Scores = Map<EntryId, Relevance>;

function offer(scores: Scores, id: EntryId, score: number, reason: string): void {
  const held = scores.get(id);
  if (!held) scores.set(id, { score, reasons: [reason] });
  else {
    held.reasons.push(reason);
    held.score = Math.max(held.score, score);
  }
}

function inRange(
  entry: Entry,
  book: Heading | undefined,
  { heading, from, to }: Focus['headings'][number],
): number {
  if (from === undefined && to === undefined) return TIED;
  const at = chapterOf(entry.ties.find((tie) => tie.heading === heading)?.place, book);
  if (at === undefined) return PLACE_UNKNOWN;
  const end = (chapter: string | undefined): number | undefined =>
    chapter === undefined ? undefined : chapterOf({ chapter }, book);
  return at >= (end(from) ?? 0) && at <= (end(to) ?? Infinity) ? TIED : OUT_OF_RANGE;
}

function headingScores(engine: Core, part: Focus['headings'][number]): Scores {
  const { journal } = engine;
  const scores: Scores = new Map();
  const heading = journal.tables.headings.get(part.heading);
  const name = heading?.name ?? '';
  const direct = entriesTiedTo(journal, part.heading);
  for (const id of direct) {
    const entry = journal.tables.entries.get(id);
    if (entry) offer(scores, id, inRange(entry, heading, part), `tied to ${name}`);
  }
  for (const id of tiedTo(journal, part.heading, { narrower: true })) {
    if (!direct.has(id)) offer(scores, id, NARROWER, `tied to a narrower theme of ${name}`);
  }
  addNear(engine, scores, { headings: [part.heading] });
  return scores;
}

function addNear(
  engine: Core,
  scores: Scores,
  seeds: { headings?: HeadingId[]; entries?: EntryId[]; text?: string },
): void {
  const near = nearTo(engine.weaveIndex, seeds, { limit: NEAR_LIMIT }).filter(
    (hit) => hit.type === 'entry',
  );
  const best = Math.max(...near.map((hit) => hit.score), Number.MIN_VALUE);
  for (const hit of near) {
    const id = hit.id as EntryId;
    if (scores.has(id)) continue;
    const reason = hit.reasons[0]?.text;
    if (reason) offer(scores, id, NEAR * (hit.score / best), reason);
  }
}

function wordScores(engine: Core, text: string): Scores {
  const scores: Scores = new Map();
  const found = engine.findIndex.find({ text, limit: NEAR_LIMIT }, engine.nowIso());
  const best = Math.max(...found.hits.map((hit) => hit.score), Number.MIN_VALUE);
  for (const hit of found.hits) {
    const held = [
      ...new Set(hit.why.filter((why) => why.field !== 'heading').map((why) => why.word)),
    ];
    const tied = hit.why.find((why) => why.field === 'heading');
    const said =
      held.length > 0
        ? `has ${held.slice(0, 3).join(' and ')}`
        : tied
          ? `tied to ${tied.word}`
          : `answers “${text}”`;
    offer(scores, hit.id, WORDS * (hit.score / best), said);
  }
  addNear(engine, scores, { text });
  return scores;
}

function chosenScores(engine: Core, entries: EntryId[]): Scores {
  const scores: Scores = new Map();
  for (const id of entries) {
    if (engine.journal.tables.entries.has(id)) offer(scores, id, TIED, 'chosen by you');
  }
  addNear(engine, scores, { entries });
  return scores;
}

/**
 * An entry is in a strand when at least half of what it is filed under makes the strand out; it counts more the more
 * of it there is. Others only touch it.
 */
function strandScores(engine: Core, { name, headings }: FocusStrand): Scores {
  const { journal } = engine;
  const within = new Map<EntryId, number>();
  for (const heading of headings)
    for (const id of entriesTiedTo(journal, heading)) within.set(id, (within.get(id) ?? 0) + 1);
  const scores: Scores = new Map();
  for (const [id, held] of within) {
    const ties = new Set(journal.tables.entries.get(id)?.ties.map((tie) => tie.heading));
    const inside = held * 2 >= ties.size;
    const deep = Math.min(1, (held - 1) / (STRAND_WHOLE - 1));
    if (inside) offer(scores, id, NARROWER + (TIED - NARROWER) * deep, `in the strand ${name}`);
    else offer(scores, id, PLACE_UNKNOWN, `touches the strand ${name}`);
  }
  addNear(engine, scores, { headings });
  return scores;
}

/**
 * Relevance 0..1 of every entry that has any, with reasons. An empty focus makes every entry equally welcome. What lies
 * beyond the chapters of the focus has none, whatever else it is near to.
 */
export function relevanceTo(engine: Core, focus: Focus): Map<EntryId, Relevance> {
  const parts: Scores[] = [
    ...focus.headings.map((part) => headingScores(engine, part)),
    ...focus.words.map((text) => wordScores(engine, text)),
    ...(focus.entries.length > 0 ? [chosenScores(engine, focus.entries)] : []),
    ...(focus.strands ?? []).map((strand) => strandScores(engine, strand)),
  ];
  if (parts.length === 0) return everything(engine.journal);
  const all: Scores = new Map();
  for (const part of parts) {
    for (const [id, { score, reasons }] of part) {
      const held = all.get(id) ?? { score: 0, reasons: [] };
      held.reasons.push(...reasons);
      all.set(id, held);
      held.score += ((1 - BEST_SHARE) * score) / parts.length;
    }
  }
  for (const [id, held] of all) {
    held.score += BEST_SHARE * Math.max(...parts.map((part) => part.get(id)?.score ?? 0));
    held.reasons = [...new Set(held.reasons)];
  }
  for (const id of aheadOf(engine.journal, focus)) all.delete(id);
  return all;
}

function everything(journal: Journal): Scores {
  const scores: Scores = new Map();
  for (const id of journal.tables.entries.keys()) {
    scores.set(id as EntryId, { score: 0.5, reasons: ['in your journal'] });
  }
  return scores;
}
