import { UndirectedGraph } from 'graphology';
import { csrOfGraph, type Csr } from './csr';
import type { Entry, Heading, HeadingId, Journal } from '../journal/records';
import type { WeaveIndex } from './weave-index';
import { RELATION_WEIGHT, ROLE_WEIGHT, STRAND_WEIGHT } from './weights';

export interface NodeData {
  type: 'entry' | 'heading';
  kind: Entry['kind'] | Heading['kind'];
}

/** `weight` is that of strands. `how` is the role of a tie or the name of a relation; where two things are joined twice, the heaviest. */
export interface EdgeData {
  weight: number;
  how: keyof typeof ROLE_WEIGHT | keyof typeof RELATION_WEIGHT;
}

const made = new WeakMap<
  WeaveIndex,
  { edits: number; graph: UndirectedGraph<NodeData, EdgeData>; csr: Csr }
>();

/**
 * The graph of the journal as it now is, for reading. It is made anew after an edit, in order of ids, because communities depend on the
 * order of nodes and must not on that of edits.
 */
export function graphNow(index: WeaveIndex): {
  graph: UndirectedGraph<NodeData, EdgeData>;
  csr: Csr;
} {
  const held = made.get(index);
  if (held?.edits === index.edits) return held;
  const graph = graphOf(index.journal);
  const now = { edits: index.edits, graph, csr: csrOfGraph(graph) };
  made.set(index, now);
  return now;
}

/** The journal as a graph: nodes are entries and headings by id, edges ties and relations; nodes and edges in order of ids, so that the same journal gives the same graph however it came about. */
export function graphOf(journal: Journal): UndirectedGraph<NodeData, EdgeData> {
  const { entries, headings } = journal.tables;
  const graph = new UndirectedGraph<NodeData, EdgeData>();
  const inOrder = <Row extends { id: string }>(rows: Iterable<Row>): Row[] =>
    [...rows].sort((a, b) => (a.id < b.id ? -1 : 1));
  const sortedHeadings = inOrder(headings.values());
  const sortedEntries = inOrder(entries.values());
  for (const { id, kind } of sortedHeadings) graph.addNode(id, { type: 'heading', kind });
  for (const { id, kind } of sortedEntries) graph.addNode(id, { type: 'entry', kind });
  const join = (from: string, to: HeadingId, how: EdgeData['how'], own: number): void => {
    const heading = headings.get(to);
    if (!heading || from === to) return;
    const weight = own * STRAND_WEIGHT[heading.kind];
    const edge = graph.edge(from, to);
    if (edge === undefined) graph.addEdge(from, to, { weight, how });
    else if (graph.getEdgeAttribute(edge, 'weight') < weight) {
      graph.replaceEdgeAttributes(edge, { weight, how });
    }
  };
  for (const heading of sortedHeadings) {
    for (const [to, how] of relationsOf(heading)) join(heading.id, to, how, RELATION_WEIGHT[how]);
  }
  for (const { id, ties } of sortedEntries) {
    const sorted = [...ties].sort((a, b) => (a.heading < b.heading ? -1 : 1));
    sorted.forEach(({ heading: to, role }, at) => {
      // Only what is tied twice is looked for: of a lifetime's ties that saves half the time.
      if (sorted[at - 1]?.heading === to) join(id, to, role, ROLE_WEIGHT[role]);
      else {
        const kind = headings.get(to)?.kind;
        if (kind)
          graph.addEdge(id, to, { weight: ROLE_WEIGHT[role] * STRAND_WEIGHT[kind], how: role });
      }
    });
  }
  return graph;
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
