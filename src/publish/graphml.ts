/** The ties of the journal as a graph: GraphML (graphml.graphdrawing.org, schema 1.1), to be drawn or measured elsewhere. */
import { plainText } from '../language/markdown';
import type { OpenRows } from './open-rows';
import { clean } from './safe-text';

/** Keys of the data, for nodes and for edges. */
const KEYS = [
  ['type', 'node', 'type'],
  ['kind', 'node', 'kind'],
  ['label', 'node', 'label'],
  ['text', 'node', 'text'],
  ['written', 'node', 'written'],
  ['level', 'node', 'level'],
  ['relation', 'edge', 'relation'],
  ['chapter', 'edge', 'chapter'],
  ['page', 'edge', 'page'],
  ['by', 'edge', 'by'],
] as const;
type Key = (typeof KEYS)[number][0];
type Data = Partial<Record<Key, string>>;

/**
 * Nodes are entries and headings; edges are directed. `relation` is the role of a tie (about, from, by,
 * for), or between headings: "wrote" (person to book), "in" (character to book), "broader" (theme to
 * the theme above), "related" (written once).
 */
export function toGraphml(rows: OpenRows): string {
  const { headings, entries } = rows;
  const nodes: string[] = [];
  const edges: string[] = [];
  const edge = (from: string, to: string, data: Data): void => {
    if (headings.has(to))
      edges.push(`<edge source="${xml(from)}" target="${xml(to)}">${dataOf(data)}</edge>`);
  };
  for (const heading of headings.values()) {
    const { id, kind, name } = heading;
    nodes.push(node(id, { type: 'heading', kind, label: name }));
    if (heading.kind === 'book')
      for (const author of heading.authors)
        if (headings.has(author)) edge(author, id, { relation: 'wrote' });
    if (heading.kind === 'person')
      for (const book of heading.books ?? []) edge(id, book, { relation: 'in' });
    if (heading.kind !== 'theme') continue;
    for (const above of heading.broader) edge(id, above, { relation: 'broader' });
    for (const other of heading.related) if (id < other) edge(id, other, { relation: 'related' });
  }
  for (const { id, kind, text, title, written, level, ties } of entries) {
    const words = plainText(text);
    const label = title?.trim() || shortened(words);
    nodes.push(node(id, { type: 'entry', kind, label, text: words, written, level }));
    for (const { heading, role, place, by } of ties)
      edge(id, heading, { relation: role, chapter: place?.chapter, page: place?.page, by });
  }
  const keys = KEYS.map(
    ([id, of, name]) => `<key id="${id}" for="${of}" attr.name="${name}" attr.type="string"/>`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<graphml xmlns="http://graphml.graphdrawing.org/xmlns" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://graphml.graphdrawing.org/xmlns http://graphml.graphdrawing.org/xmlns/1.1/graphml.xsd">
${keys.join('\n')}
<graph id="journal" edgedefault="directed">
${[...nodes, ...edges].join('\n')}
</graph>
</graphml>
`;
}

const node = (id: string, data: Data): string => `<node id="${xml(id)}">${dataOf(data)}</node>`;

function dataOf(data: Data): string {
  return KEYS.flatMap(([key]) => {
    const text = data[key];
    return text ? [`<data key="${key}">${xml(text)}</data>`] : [];
  }).join('');
}

const LABEL_LETTERS = 60;

/** The beginning of a text, to a whole word where one ends in time. */
function shortened(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  if (line.length <= LABEL_LETTERS) return line;
  const start = [...line.slice(0, LABEL_LETTERS)].slice(0, -1).join('');
  return `${start.replace(/\s+\S*$/, '')}…`;
}

function xml(text: string): string {
  return clean(text)
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}
