import type { EntryId, HeadingId } from '../journal/records';
import { communities, type Communities } from './communities';
import { graphNow } from './graph';
import { centralHeadings, nameStrands, type Central } from './strand-names';
import type { WeaveIndex } from './weave-index';

export interface Strand {
  /** The same from run to run while most of the strand stays, where the last run is handed in. */
  id: string;
  name: string;
  /** Words that tell it from the other strands, most telling first, as they stand in its entries. */
  words: string[];
  /** The most central first. */
  headings: HeadingId[];
  /** In order of ids. */
  entries: EntryId[];
  /** The share of the weight of its members' ties that stays inside, 0 to 1. */
  cohesion: number;
}

export interface Strands {
  /** Of the whole grouping, weighted by the roles of ties, at resolution 1. */
  modularity: number;
  /** The largest first. */
  strands: Strand[];
}

export interface StrandOptions {
  seed: number;
  /**
   * The last run's strands: memberships start from them and ids go on, so that strands do not shuffle under a reader's eyes. Headings alone
   * are enough: entries then follow the strand that most of their ties lead to.
   */
  previous?: Strands;
  /** Ids go on with the last run's, memberships are found afresh: for another resolution. */
  afresh?: boolean;
  /** Strands that must keep their ids, told by the headings most central to them; they go before the last run. */
  known?: readonly { id: string; headings: readonly HeadingId[] }[];
  /** 1 if not given; above 1 gives more and smaller strands. */
  resolution?: number;
  /** Headings that a reader has put in a strand, by its id; their entries that have no other theme go with them. */
  moved?: ReadonlyMap<HeadingId, string>;
  /** Groups that were tried before ({@link tryStrands}), to be told in full. */
  tried?: Tried;
}

/** A grouping that has only been measured. */
export interface Tried {
  /** At resolution 1. */
  modularity: number;
  /** How many strands it gives. */
  strands: number;
  found: Communities;
}

/** Fewer entries make no strand. */
const LEAST_ENTRIES = 2;
/** How much of a strand must have stayed for it to keep its id, and of the headings it is known by. */
const LEAST_SHARED = 0.3;
const LEAST_KNOWN = 0.5;

/** Groups the journal afresh without telling the strands: a fraction of the work, to choose a resolution by. */
export function tryStrands(index: WeaveIndex, seed: number, resolution: number): Tried {
  const { graph, csr } = graphNow(index);
  const found = communities(graph, { seed, resolution, csr });
  const entries = new Map<number, number>();
  graph.nodes().forEach((id, node) => {
    const label = found.labels[node]!;
    const tied = csr.starts[node] !== csr.starts[node + 1];
    if (tied && index.journal.tables.entries.has(id as EntryId)) {
      entries.set(label, (entries.get(label) ?? 0) + 1);
    }
  });
  const strands = [...entries.values()].filter((held) => held >= LEAST_ENTRIES).length;
  return { modularity: found.modularity, strands, found };
}

/** The journal's clusters of related material. What is tied to nothing is in none. The same journal, seed and last run give the same strands. */
export function strands(index: WeaveIndex, options: StrandOptions): Strands {
  const { graph, csr } = graphNow(index);
  const { seed, resolution, previous } = options;
  const start = previous && !options.afresh ? new Map(membership(previous)) : undefined;
  const found = options.tried?.found ?? communities(graph, { seed, resolution, start, csr });
  const groups = groupsOf(index, found);
  const named = nameStrands(
    index,
    groups.map(({ entries, central }) => ({ entries, headings: central })),
  );
  const ids = idsOf(groups, previous, options.known ?? []);
  const rows = groups.map((group, at): Strand => {
    const { name, words } = named[at]!;
    const { entries, headings, cohesion } = group;
    return { id: ids[at]!, name, words, headings, entries, cohesion };
  });
  if (options.moved) moveHeadings(index, rows, options.moved);
  rows.sort((a, b) => b.entries.length - a.entries.length || (a.id < b.id ? -1 : 1));
  return { modularity: found.modularity, strands: rows };
}

/** Headings go where a reader has put them, with the entries that hang on no other theme. The measures stay those of what was found. */
function moveHeadings(
  index: WeaveIndex,
  rows: Strand[],
  moved: ReadonlyMap<HeadingId, string>,
): void {
  const { entries, headings } = index.journal.tables;
  for (const [id, to] of [...moved].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const into = rows.find((row) => row.id === to);
    if (!into || into.headings.includes(id) || !headings.has(id)) continue;
    const along = (entry: EntryId): boolean => {
      const ties = entries.get(entry)?.ties ?? [];
      const themes = ties.filter(({ heading }) => headings.get(heading)?.kind === 'theme');
      return (
        ties.some(({ heading }) => heading === id) &&
        themes.every(({ heading }) => heading === id || into.headings.includes(heading))
      );
    };
    const going: EntryId[] = [];
    for (const row of rows) {
      if (row === into) continue;
      row.headings = row.headings.filter((heading) => heading !== id);
      going.push(...row.entries.filter(along));
      row.entries = row.entries.filter((entry) => !along(entry));
    }
    into.headings = [...into.headings, id];
    into.entries = [...into.entries, ...going].sort();
  }
}

function membership(last: Strands): [string, number][] {
  return last.strands.flatMap(({ entries, headings }, at) =>
    [...entries, ...headings].map((id): [string, number] => [id, at]),
  );
}

interface Group {
  entries: EntryId[];
  headings: HeadingId[];
  central: Central[];
  cohesion: number;
}

function groupsOf(index: WeaveIndex, { labels, csr }: Communities): Group[] {
  const ids = graphNow(index).graph.nodes();
  const members = new Map<number, number[]>();
  labels.forEach((label, node) => {
    if (csr.starts[node] === csr.starts[node + 1]) return;
    const held = members.get(label);
    if (held) held.push(node);
    else members.set(label, [node]);
  });
  return [...members.values()].flatMap((nodes) => {
    const entries = nodes
      .map((node) => ids[node] as EntryId)
      .filter((id) => index.journal.tables.entries.has(id));
    if (entries.length < LEAST_ENTRIES) return [];
    let [inside, whole] = [0, 0];
    for (const node of nodes) {
      for (let at = csr.starts[node]!; at < csr.starts[node + 1]!; at++) {
        whole += csr.weights[at]!;
        if (labels[csr.targets[at]!] === labels[node]) inside += csr.weights[at]!;
      }
    }
    const central = centralHeadings(index.journal, csr, ids, labels, nodes);
    const headings = central.map(({ id }) => id);
    return [{ entries, headings, central, cohesion: inside / whole }];
  });
}

/** Ids go on with the strands that keep most; a new strand is called after its most central heading, or its first entry. */
function idsOf(
  groups: readonly Group[],
  previous: Strands | undefined,
  known: NonNullable<StrandOptions['known']>,
): string[] {
  const ids: (string | undefined)[] = groups.map(() => undefined);
  const used = new Set<string>();
  const give = (pairs: Pair[], least: number): void => {
    pairs.sort((a, b) => b.part - a.part || a.here - b.here || (a.id < b.id ? -1 : 1));
    for (const { here, id, part } of pairs) {
      if (part < least || ids[here] !== undefined || used.has(id)) continue;
      ids[here] = id;
      used.add(id);
    }
  };
  const byHeadings = pairsOf(
    groups.map(({ headings }) => headings),
    known.map(({ id, headings }) => ({ id, members: headings })),
    ({ there, shared }) => shared / there,
  );
  give(byHeadings, LEAST_KNOWN);
  if (previous) {
    // Where only headings are remembered, only headings are compared.
    const bare = previous.strands.every(({ entries }) => entries.length === 0);
    const byMembers = pairsOf(
      groups.map(({ entries, headings }) => (bare ? headings : [...entries, ...headings])),
      previous.strands.map(({ id, entries, headings }) => ({
        id,
        members: [...entries, ...headings],
      })),
      ({ here, there, shared }) => shared / (here + there - shared),
    );
    give(byMembers, LEAST_SHARED);
  }
  return ids.map((id, here) => {
    if (id !== undefined) return id;
    const { headings, entries } = groups[here]!;
    const base = `strand-${headings[0] ?? entries[0]}`;
    let own = base;
    for (let count = 2; used.has(own); count++) own = `${base}-${count}`;
    used.add(own);
    return own;
  });
}

interface Pair {
  here: number;
  id: string;
  part: number;
}

/** Groups and earlier strands that share members, with how much of them they share. */
function pairsOf(
  groups: readonly (readonly string[])[],
  earlier: readonly { id: string; members: readonly string[] }[],
  partOf: (sizes: { here: number; there: number; shared: number }) => number,
): Pair[] {
  const holders = new Map<string, number[]>();
  earlier.forEach(({ members }, there) => {
    for (const id of members) {
      const held = holders.get(id);
      if (held) held.push(there);
      else holders.set(id, [there]);
    }
  });
  return groups.flatMap((members, here) => {
    const counts = new Map<number, number>();
    for (const id of members) {
      for (const there of holders.get(id) ?? []) counts.set(there, (counts.get(there) ?? 0) + 1);
    }
    return [...counts].map(([there, shared]) => {
      const { id, members: all } = earlier[there]!;
      return { here, id, part: partOf({ here: members.length, there: all.length, shared }) };
    });
  });
}
