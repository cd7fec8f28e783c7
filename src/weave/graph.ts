import { csrOfLinks, type Csr, type Links } from './csr';
import type { Heading, HeadingId, Journal } from '../journal/records';
import type { WeaveIndex } from './weave-index';
import { RELATION_WEIGHT, ROLE_WEIGHT, STRAND_WEIGHT } from './weights';

/** The journal as a graph by numbers: node `n` is `ids[n]`, headings first and then entries, both in order of ids. */
export interface JournalGraph {
  ids: string[];
  links: Links;
  csr: Csr;
}

/** Entries laid between two breaths. */
const SLICE = 4000;
const made = new WeakMap<WeaveIndex, JournalGraph & { edits: number }>();

/**
 * The graph of the journal as it now is, for reading, in steps that tell how much is laid, 0 to 1. It is made anew after an edit, in order
 * of ids, because communities depend on the order of nodes and must not on that of edits.
 */
export function* graphNow(index: WeaveIndex): Generator<number, JournalGraph> {
  const held = made.get(index);
  if (held?.edits === index.edits) return held;
  const { edits } = index;
  const now = { edits, ...(yield* graphOf(index.journal)) };
  made.set(index, now);
  return now;
}

const inOrder = <Row extends { id: string }>(rows: Iterable<Row>): Row[] =>
  [...rows].sort((a, b) => (a.id < b.id ? -1 : 1));

/** Nodes are entries and headings, links ties and relations, so that the same journal gives the same graph however it came about. */
function* graphOf(journal: Journal): Generator<number, JournalGraph> {
  const headings = inOrder(journal.tables.headings.values());
  const entries = inOrder(journal.tables.entries.values());
  const nodes = new Map(headings.map(({ id }, node) => [id, node]));
  const [from, to, weights]: [number[], number[], number[]] = [[], [], []];
  const join = (a: number, b: number, weight: number): void => {
    from.push(a);
    to.push(b);
    weights.push(weight);
  };
  const joined = new Map<number, number>();
  headings.forEach((heading, node) => {
    for (const [id, how] of relationsOf(heading)) {
      const other = nodes.get(id);
      if (other === undefined || other === node) continue;
      const weight = RELATION_WEIGHT[how] * STRAND_WEIGHT[headings[other]!.kind];
      const pair = Math.min(node, other) * headings.length + Math.max(node, other);
      const link = joined.get(pair);
      // Where two things are joined twice, the heaviest counts.
      if (link !== undefined) weights[link] = Math.max(weights[link]!, weight);
      else {
        joined.set(pair, weights.length);
        join(node, other, weight);
      }
    }
  });
  for (const [at, { ties }] of entries.entries()) {
    const sorted = [...ties].sort((a, b) => (a.heading < b.heading ? -1 : 1));
    sorted.forEach(({ heading, role }, tie) => {
      const other = nodes.get(heading);
      if (other === undefined) return;
      const weight = ROLE_WEIGHT[role] * STRAND_WEIGHT[headings[other]!.kind];
      const last = weights.length - 1;
      if (sorted[tie - 1]?.heading !== heading) join(headings.length + at, other, weight);
      else weights[last] = Math.max(weights[last]!, weight);
    });
    if (at % SLICE === SLICE - 1) yield at / entries.length;
  }
  const links: Links = {
    size: headings.length + entries.length,
    from: Int32Array.from(from),
    to: Int32Array.from(to),
    weights: Float64Array.from(weights),
  };
  const ids = [...headings.map(({ id }) => id), ...entries.map(({ id }) => id)];
  return { ids, links, csr: csrOfLinks(links) };
}

/** The headings a heading names, in order of ids, and how. */
export function relationsOf(heading: Heading): [HeadingId, keyof typeof RELATION_WEIGHT][] {
  const named = (
    ids: readonly HeadingId[],
    how: keyof typeof RELATION_WEIGHT,
  ): [HeadingId, keyof typeof RELATION_WEIGHT][] => [...ids].sort().map((id) => [id, how]);
  if (heading.kind === 'book') return named(heading.authors, 'author');
  if (heading.kind === 'person') return named(heading.books ?? [], 'character');
  return [...named(heading.broader, 'broader'), ...named(heading.related, 'related')];
}
