import type { Ways } from './ways';

/** Costs closer than this count as the same, so that the order of adding does not choose between two ways. */
const SAME = 1e-9;

/**
 * The cheapest way from one node to another, both included, or undefined where there is none (Dijkstra 1959). `cost` of a step must be above 0;
 * Infinity closes it. Of two ways that cost the same, `before` chooses which node to come from.
 */
export function cheapestWay(
  ways: Ways,
  from: number,
  to: number,
  cost: (from: number, to: number) => number,
  before: (a: number, b: number) => boolean,
): number[] | undefined {
  const costs = new Float64Array(ways.size).fill(Infinity);
  const cameFrom = new Int32Array(ways.size).fill(-1);
  const done = new Uint8Array(ways.size);
  const heap = new Heap();
  costs[from] = 0;
  heap.push(0, from);
  for (let node = heap.pop(); node >= 0; node = heap.pop()) {
    if (done[node]) continue;
    done[node] = 1;
    if (node === to) break;
    const end = ways.end(node);
    for (let link = ways.begin(node); link < end; link++) {
      const next = ways.target(link);
      if (done[next]) continue;
      const sum = costs[node]! + cost(node, next);
      if (sum === Infinity) continue;
      const [held, last] = [costs[next]!, cameFrom[next]!];
      if (sum < held - SAME) {
        costs[next] = sum;
        cameFrom[next] = node;
        heap.push(sum, next);
      } else if (sum <= held + SAME && last >= 0 && last !== node && before(node, last)) {
        cameFrom[next] = node;
      }
    }
  }
  if (costs[to] === Infinity) return undefined;
  const way = [to];
  while (way[0] !== from) way.unshift(cameFrom[way[0]!]!);
  return way;
}

/** A binary heap of nodes, the cheapest on top. */
class Heap {
  #costs: number[] = [];
  #nodes: number[] = [];

  push(cost: number, node: number): void {
    let at = this.#costs.length;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (this.#costs[parent]! <= cost) break;
      this.#costs[at] = this.#costs[parent]!;
      this.#nodes[at] = this.#nodes[parent]!;
      at = parent;
    }
    this.#costs[at] = cost;
    this.#nodes[at] = node;
  }

  /** −1 when empty. */
  pop(): number {
    const top = this.#nodes[0] ?? -1;
    const [cost, node] = [this.#costs.pop(), this.#nodes.pop()];
    const size = this.#costs.length;
    if (cost === undefined || node === undefined || size === 0) return top;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= size) break;
      if (child + 1 < size && this.#costs[child + 1]! < this.#costs[child]!) child += 1;
      if (this.#costs[child]! >= cost) break;
      this.#costs[at] = this.#costs[child]!;
      this.#nodes[at] = this.#nodes[child]!;
      at = child;
    }
    this.#costs[at] = cost;
    this.#nodes[at] = node;
    return top;
  }
}
