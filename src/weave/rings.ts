/** Places for the nodes of a small map: what is in the middle, and the rest on rings in slots that do not move while it grows. */

export interface RingNode {
  id: string;
  /** Steps from the middle; 0 is in it. */
  step: number;
  /** The node it hangs on; those in the middle hang on none. */
  by?: string;
}

export interface Point {
  x: number;
  y: number;
}

/** Between one ring and the next, in units. */
export const RING = 100;
/** A slot on a ring is at least this wide, in units; a ring that is too narrow for what lies on it is made wider. */
const SLOT = 44;
/** Several in the middle stand round it this far out. */
const MIDDLE = 46;

/**
 * Still places for up to about 40 nodes. Nodes of the first ring share the circle evenly in the order given, beginning at the top; what hangs on a
 * node lies outside it, within its own part of the circle, as wide as what hangs on it needs. The same nodes get the same places.
 */
export function ringPlaces(nodes: readonly RingNode[]): Map<string, Point> {
  const places = new Map<string, Point>();
  const children = new Map<string, RingNode[]>();
  for (const node of nodes) {
    if (node.by === undefined) continue;
    const held = children.get(node.by);
    if (held) held.push(node);
    else children.set(node.by, [node]);
  }
  const middle = nodes.filter(({ by }) => by === undefined);
  middle.forEach(({ id }, at) => {
    const turn = (at / middle.length) * 2 * Math.PI - Math.PI / 2;
    const far = middle.length === 1 ? 0 : MIDDLE;
    places.set(id, { x: far * Math.cos(turn), y: far * Math.sin(turn) });
  });
  const weights = new Map<string, number>();
  const weigh = (node: RingNode): number => {
    const own = children.get(node.id)?.reduce((sum, child) => sum + weigh(child), 0) ?? 0;
    const weight = Math.max(1, own);
    weights.set(node.id, weight);
    return weight;
  };
  middle.forEach(weigh);
  const radii = radiiOf(nodes);
  const first = middle.flatMap(({ id }) => children.get(id) ?? []);
  let ring: { node: RingNode; from: number; to: number }[] = shared(
    first,
    -Math.PI / 2,
    1.5 * Math.PI,
    weights,
    true,
  );
  for (let step = 1; ring.length > 0; step++) {
    const next: typeof ring = [];
    for (const { node, from, to } of ring) {
      const turn = (from + to) / 2;
      const far = radii[step] ?? step * RING;
      places.set(node.id, { x: far * Math.cos(turn), y: far * Math.sin(turn) });
      next.push(...shared(children.get(node.id) ?? [], from, to, weights, false));
    }
    ring = next;
  }
  return places;
}

/** Each ring as wide as its nodes need side by side, and a ring's width outside the one before. */
function radiiOf(nodes: readonly RingNode[]): number[] {
  const counts: number[] = [];
  for (const { step } of nodes) counts[step] = (counts[step] ?? 0) + 1;
  let last = 0;
  return Array.from(counts, (count = 0, step) => {
    if (step === 0) return 0;
    last = Math.max(last + RING, (count * SLOT) / (2 * Math.PI));
    return last;
  });
}

function shared(
  nodes: readonly RingNode[],
  from: number,
  to: number,
  weights: ReadonlyMap<string, number>,
  /** The first node's own middle is at `from`, so that it stands at the top. */
  centred: boolean,
): { node: RingNode; from: number; to: number }[] {
  const total = nodes.reduce((sum, { id }) => sum + (weights.get(id) ?? 1), 0);
  const turn = (weight: number): number => (weight / total) * (to - from);
  let at = centred && nodes[0] ? from - turn(weights.get(nodes[0].id) ?? 1) / 2 : from;
  return nodes.map((node) => {
    const start = at;
    at += turn(weights.get(node.id) ?? 1);
    return { node, from: start, to: at };
  });
}
