import type { EntryId, HeadingId, Journal } from '../journal/records';
import { betweenness } from './centrality';
import { csrOf, type Csr } from './csr';
import { sayList } from './reason';
import { tellingWords } from './strand-words';
import type { WeaveIndex } from './weave-index';

/** Ways through a strand are counted from this many of its members. */
const PIVOTS = 32;
/** A strand is a matter of its themes first; books and people stand in where there are none. */
const KIND_COUNTS = { theme: 1, book: 0.5, person: 0.35 } as const;
/** The second heading is named when it is at least this central, the first being 1. */
const SECOND_AT_LEAST = 0.4;

export interface Central {
  id: HeadingId;
  /** 0 to about 1. */
  central: number;
}

/**
 * The headings among a strand's members, most central first: by the share of ways inside the strand that lead through a heading
 * (betweenness), by the share of its own ties that stay inside, and by its kind.
 */
export function centralHeadings(
  journal: Journal,
  csr: Csr,
  ids: readonly string[],
  labels: Int32Array,
  nodes: readonly number[],
): Central[] {
  const local = new Map(nodes.map((node, at) => [node, at]));
  const inside = nodes.map(() => 0);
  const links: [number, number][] = [];
  nodes.forEach((node, at) => {
    for (let link = csr.starts[node]!; link < csr.starts[node + 1]!; link++) {
      const target = csr.targets[link]!;
      if (labels[target] !== labels[node]) continue;
      inside[at]! += 1;
      if (target > node) links.push([at, local.get(target)!]);
    }
  });
  const through = betweenness(csrOf(nodes.length, links, 'undirected'), PIVOTS);
  const scored = nodes.flatMap((node, at) => {
    const heading = journal.tables.headings.get(ids[node] ?? '');
    if (!heading) return [];
    const all = csr.starts[node + 1]! - csr.starts[node]!;
    // A little for ties alone, so that headings of strands too small for ways through them are still in order.
    const central = (through[at]! + inside[at]! / nodes.length / 10) * (inside[at]! / all);
    return [{ id: heading.id, central: central * KIND_COUNTS[heading.kind] }];
  });
  scored.sort((a, b) => b.central - a.central || (a.id < b.id ? -1 : 1));
  return scored;
}

export interface Named {
  name: string;
  words: string[];
}

/** Names for strands, no two alike: one or two central headings, else the telling words; with a word more where two would be the same. */
export function nameStrands(
  index: WeaveIndex,
  groups: readonly { entries: readonly EntryId[]; headings: readonly Central[] }[],
): Named[] {
  const telling = tellingWords(
    index,
    groups.map(({ entries }) => entries),
  );
  const taken = new Set<string>();
  return groups.map(({ headings }, at) => {
    const words = telling[at]!;
    const stem =
      headingNames(index.journal, headings) || words.slice(0, 3).join(', ') || 'Without words';
    const spare = words.filter((word) => !stem.toLowerCase().includes(word.toLowerCase()));
    let name = stem;
    for (let count = 1; taken.has(name); count++) {
      name =
        count <= spare.length
          ? `${stem}: ${spare.slice(0, count).join(', ')}`
          : `${stem} (${count})`;
    }
    taken.add(name);
    return { name, words };
  });
}

function headingNames(journal: Journal, headings: readonly Central[]): string {
  const [first, second] = headings;
  if (!first || first.central <= 0) return '';
  const told =
    second && second.central >= SECOND_AT_LEAST * first.central ? [first, second] : [first];
  const names = told.flatMap(({ id }) => journal.tables.headings.get(id)?.name ?? []);
  // "Truth and stories and Silence and speech" would be read three ways.
  return names.some((name) => / and /i.test(name)) ? names.join(', ') : sayList(names);
}
