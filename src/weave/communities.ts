import { UndirectedGraph } from 'graphology';
import louvain from 'graphology-communities-louvain';
import { csrOfGraph, csrOfLinks, type Csr, type Links } from './csr';
import { modularity } from './modularity';
import { seededRandom } from './rng';

interface CommunityOptions {
  seed: number;
  /** Above 1 gives more and smaller groups, below 1 fewer and larger. */
  resolution?: number;
  /** Groups to begin from, by node; a node of group -1 joins its nearest. Keeps groups steady after small edits. */
  start?: Int32Array;
  /** The graph's links as numbers, where they have been laid out before. */
  csr?: Csr;
}

export interface Communities {
  /** Group of each node of the graph, in the graph's order, numbered from 0 without gaps in order of first sight. */
  labels: Int32Array;
  /** At resolution 1, whatever resolution was asked for. */
  modularity: number;
}

/** Groups that are asked for of links, one grouping at each resolution: plain data, that can be handed to a worker. */
export interface GroupsAsked extends Omit<CommunityOptions, 'csr' | 'resolution'> {
  links: Links;
  resolutions: readonly number[];
}

/** The {@link communities} of links at each resolution, their nodes in the order of their numbers. */
export function groupsOf({ links, resolutions, ...options }: GroupsAsked): Communities[] {
  const graph = new UndirectedGraph();
  for (let node = 0; node < links.size; node++) graph.addNode(String(node));
  links.from.forEach((from, link) => {
    graph.addEdge(String(from), String(links.to[link]!), { weight: links.weights[link]! });
  });
  const csr = csrOfLinks(links);
  return resolutions.map((resolution) => communities(graph, { ...options, resolution, csr }));
}

/** A move must better the whole by more than this share of it, so that rounding alone moves nothing. */
const LEAST_GAIN = 1e-12;
const MOST_ROUNDS = 50;

/**
 * Groups of an undirected graph that raise modularity: Louvain (Blondel et al. 2008; a library), then single nodes are moved
 * while that helps. The same graph, in the same order of nodes and edges, and the same seed give the same groups.
 */
export function communities(graph: UndirectedGraph, options: CommunityOptions): Communities {
  const { seed, resolution = 1, start } = options;
  const csr = options.csr ?? csrOfGraph(graph);
  if (graph.size === 0) {
    return { labels: Int32Array.from(graph.nodes(), (_, node) => node), modularity: 0 };
  }
  const labels = start ? startLabels(csr, start) : byLouvain(graph, seed, resolution);
  moveNodes(csr, labels, resolution);
  mergeGroups(csr, labels, seed, resolution);
  moveNodes(csr, labels, resolution);
  renumber(labels);
  return { labels, modularity: modularity(csr, labels) };
}

function byLouvain(graph: UndirectedGraph, seed: number, resolution: number): Int32Array {
  const found = louvain(graph, { getEdgeWeight: 'weight', resolution, rng: seededRandom(seed) });
  return Int32Array.from(graph.nodes(), (node) => found[node] ?? 0);
}

function startLabels(csr: Csr, known: Int32Array): Int32Array {
  let fresh = known.reduce((a, b) => Math.max(a, b), -1);
  return Int32Array.from(known, (label, node) => {
    if (label >= 0) return label;
    const pull = new Map<number, number>();
    for (let at = csr.starts[node]!; at < csr.starts[node + 1]!; at++) {
      const group = known[csr.targets[at]!]!;
      if (group >= 0) pull.set(group, (pull.get(group) ?? 0) + csr.weights[at]!);
    }
    const [best] = [...pull].sort(([a, left], [b, right]) => right - left || a - b);
    return best ? best[0] : ++fresh;
  });
}

/** Moves one node after another to the neighbouring group that gains most, until none gains. */
function moveNodes(csr: Csr, labels: Int32Array, resolution: number): void {
  const { size, starts, targets, weights } = csr;
  const groups = labels.reduce((a, b) => Math.max(a, b), 0) + 1;
  const own = new Float64Array(size);
  const degree = new Float64Array(groups);
  let total = 0;
  for (let node = 0; node < size; node++) {
    for (let at = starts[node]!; at < starts[node + 1]!; at++) own[node]! += weights[at]!;
    degree[labels[node]!]! += own[node]!;
    total += own[node]!;
  }
  const pull = new Float64Array(groups);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let moves = 0;
    for (let node = 0; node < size; node++) {
      const here = labels[node]!;
      const near: number[] = [];
      for (let at = starts[node]!; at < starts[node + 1]!; at++) {
        if (targets[at] === node) continue;
        const group = labels[targets[at]!]!;
        if (pull[group] === 0) near.push(group);
        pull[group]! += weights[at]!;
      }
      degree[here]! -= own[node]!;
      const gain = (group: number): number =>
        pull[group]! - (resolution * own[node]! * degree[group]!) / total;
      let [best, most] = [here, gain(here)];
      for (const group of near) {
        const found = gain(group);
        if (found > most + LEAST_GAIN * total) [best, most] = [group, found];
      }
      degree[best]! += own[node]!;
      labels[node] = best;
      if (best !== here) moves += 1;
      for (const group of near) pull[group] = 0;
    }
    if (moves === 0) return;
  }
}

/** Joins whole groups where that helps: Louvain once more, on the graph whose nodes are the groups. */
function mergeGroups(csr: Csr, labels: Int32Array, seed: number, resolution: number): void {
  renumber(labels);
  const between = new UndirectedGraph();
  const groups = labels.reduce((a, b) => Math.max(a, b), 0) + 1;
  for (let group = 0; group < groups; group++) between.addNode(String(group));
  const weights = new Map<number, number>();
  for (let node = 0; node < csr.size; node++) {
    for (let at = csr.starts[node]!; at < csr.starts[node + 1]!; at++) {
      const [from, to] = [labels[node]!, labels[csr.targets[at]!]!];
      if (csr.targets[at]! < node) continue;
      const key = Math.min(from, to) * groups + Math.max(from, to);
      weights.set(key, (weights.get(key) ?? 0) + csr.weights[at]!);
    }
  }
  for (const [key, weight] of weights) {
    between.addEdge(String(Math.floor(key / groups)), String(key % groups), { weight });
  }
  const merged = byLouvain(between, seed, resolution);
  const tried = labels.map((label) => merged[label]!);
  const before = modularity(csr, labels, resolution);
  if (modularity(csr, tried, resolution) > before + LEAST_GAIN) labels.set(tried);
}

function renumber(labels: Int32Array): void {
  const numbers = new Map<number, number>();
  labels.forEach((label, node) => {
    let number = numbers.get(label);
    if (number === undefined) numbers.set(label, (number = numbers.size));
    labels[node] = number;
  });
}
