import type { EntryId, HeadingId } from '../journal/records';
import { groupsOf, type Communities, type GroupsAsked } from './communities';
import { graphNow, type JournalGraph } from './graph';
import { idsOf } from './strand-ids';
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

interface StrandOptions {
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
  /** Groups that were tried before ({@link tryStrands}), to be told in full; nothing is grouped again. */
  tried?: Tried;
}

/** A grouping that has only been measured. */
export interface Tried {
  /** At resolution 1. */
  modularity: number;
  /** How many strands it gives. */
  strands: number;
  found: Communities;
  graph: JournalGraph;
}

/** Fewer entries make no strand. */
const LEAST_ENTRIES = 2;

/** What is being done on the way to strands, in this order. */
export const DOINGS = ['ties', 'groups', 'centres', 'words'] as const;

/** A place to breathe: what is being done, and how much of that is done, 0 to 1. Where groups are asked for, they are to be handed in. */
export interface StrandStep {
  doing: (typeof DOINGS)[number];
  share: number;
  asked?: GroupsAsked;
}

/** Strands are found in steps, because of a lifetime's entries they take many seconds. */
export type StrandSteps<T> = Generator<StrandStep, T, Communities[] | undefined>;

/** Goes through all steps at once. */
export function atOnce<T>(steps: StrandSteps<T>): T {
  let step = steps.next();
  while (!step.done) step = steps.next(step.value.asked && groupsOf(step.value.asked));
  return step.value;
}

function* graphIn(index: WeaveIndex): StrandSteps<JournalGraph> {
  const laying = graphNow(index);
  for (;;) {
    const { value, done } = laying.next();
    if (done) return value;
    yield { doing: 'ties', share: value };
  }
}

function* groupsIn(asked: GroupsAsked): StrandSteps<Communities[]> {
  const found = yield { doing: 'groups', share: 0, asked };
  if (!found) throw new Error('no groups were handed in');
  return found;
}

/** Groups the journal afresh at each resolution without telling the strands: a fraction of the work, to choose one by. */
export function* tryStrands(
  index: WeaveIndex,
  seed: number,
  resolutions: readonly number[],
): StrandSteps<Tried[]> {
  const graph = yield* graphIn(index);
  const groupings = yield* groupsIn({ seed, resolutions, links: graph.links });
  return groupings.map((found) => triedOf(index, graph, found));
}

function triedOf(index: WeaveIndex, graph: JournalGraph, found: Communities): Tried {
  const entries = new Map<number, number>();
  graph.ids.forEach((id, node) => {
    const label = found.labels[node]!;
    const tied = graph.csr.starts[node] !== graph.csr.starts[node + 1];
    if (tied && index.journal.tables.entries.has(id as EntryId)) {
      entries.set(label, (entries.get(label) ?? 0) + 1);
    }
  });
  const strands = [...entries.values()].filter((held) => held >= LEAST_ENTRIES).length;
  return { modularity: found.modularity, strands, found, graph };
}

/** The journal's clusters of related material. What is tied to nothing is in none. The same journal, seed and last run give the same strands. */
export const strands = (index: WeaveIndex, options: StrandOptions): Strands =>
  atOnce(strandSteps(index, options));

/** {@link strands} in steps. */
export function* strandSteps(index: WeaveIndex, options: StrandOptions): StrandSteps<Strands> {
  const { tried, previous } = options;
  const graph = tried?.graph ?? (yield* graphIn(index));
  const found = tried?.found ?? (yield* groupsIn(askedOf(graph, options)))[0]!;
  const groups = yield* groupsTold(index, graph, found.labels);
  for (const share of index.readWords()) yield { doing: 'words', share };
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
  return { modularity: found.modularity, strands: largestFirst(rows) };
}

const largestFirst = (rows: Strand[]): Strand[] =>
  rows.sort((a, b) => b.entries.length - a.entries.length || (a.id < b.id ? -1 : 1));

function askedOf({ ids, links }: JournalGraph, options: StrandOptions): GroupsAsked {
  const { seed, resolution = 1, previous } = options;
  const asked: GroupsAsked = { seed, links, resolutions: [resolution] };
  if (!previous || options.afresh) return asked;
  const last = new Map(membership(previous));
  return { ...asked, start: Int32Array.from(ids, (id) => last.get(id) ?? -1) };
}

/**
 * Strands with headings where a reader has put them, by the strand's id, and with them their entries that hang on no other theme. What was found
 * stays as it was, so that it is there again when the reader takes that back; the measures stay those of what was found.
 */
export function withMoved(
  index: WeaveIndex,
  found: readonly Strand[],
  moved: ReadonlyMap<HeadingId, string>,
): Strand[] {
  const rows = found.map((row) => ({ ...row }));
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
  return largestFirst(rows);
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

function* groupsTold(
  index: WeaveIndex,
  { ids, csr }: JournalGraph,
  labels: Int32Array,
): StrandSteps<Group[]> {
  const members = new Map<number, number[]>();
  labels.forEach((label, node) => {
    if (csr.starts[node] === csr.starts[node + 1]) return;
    const held = members.get(label);
    if (held) held.push(node);
    else members.set(label, [node]);
  });
  const groups: Group[] = [];
  let told = 0;
  for (const nodes of members.values()) {
    yield { doing: 'centres', share: told++ / members.size };
    const entries = nodes
      .map((node) => ids[node] as EntryId)
      .filter((id) => index.journal.tables.entries.has(id));
    if (entries.length < LEAST_ENTRIES) continue;
    let [inside, whole] = [0, 0];
    for (const node of nodes) {
      for (let at = csr.starts[node]!; at < csr.starts[node + 1]!; at++) {
        whole += csr.weights[at]!;
        if (labels[csr.targets[at]!] === labels[node]) inside += csr.weights[at]!;
      }
    }
    const central = centralHeadings(index.journal, csr, ids, labels, nodes);
    const headings = central.map(({ id }) => id);
    groups.push({ entries, headings, central, cohesion: inside / whole });
  }
  return groups;
}
