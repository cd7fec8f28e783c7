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
const RING = 100;
/** A slot on a ring is at least this wide, in units; a ring that is too narrow for what lies on it is made wider. */
const SLOT = 44;
/** Several in the middle stand round it this far out. */
const MIDDLE = 46;

/**
 * Still places for up to about 40 nodes. Nodes of the first ring share the circle evenly in the order given, beginning at the top, and stay there
 * when one is opened: what hangs on a node lies side by side outside it. The same nodes get the same places.
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
  const radii = radiiOf(nodes);
  let ring = slots(middle.flatMap(({ id }) => children.get(id) ?? []));
  for (let step = 1; ring.length > 0; step++) {
    const far = radii[step] ?? step * RING;
    for (const { id, turn } of ring) {
      places.set(id, { x: far * Math.cos(turn), y: far * Math.sin(turn) });
    }
    const width = SLOT / (radii[step + 1] ?? (step + 1) * RING);
    ring = outside(
      ring.map(({ id, turn }) => ({ turn, nodes: children.get(id) ?? [] })),
      width,
    );
  }
  return places;
}

interface Slot {
  id: string;
  /** Angle on its ring, in radians; the top is a quarter turn below 0. */
  turn: number;
}

/** Nodes evenly round a whole circle, the first at the top. */
const slots = (nodes: readonly RingNode[]): Slot[] =>
  nodes.map(({ id }, at) => ({ id, turn: (at / nodes.length) * 2 * Math.PI - Math.PI / 2 }));

/** What hangs on each node of a ring, side by side outside it; groups that would overlap are moved along, and none past the first. */
function outside(groups: { turn: number; nodes: readonly RingNode[] }[], width: number): Slot[] {
  const held = groups.filter(({ nodes }) => nodes.length > 0).sort((a, b) => a.turn - b.turn);
  const first = held[0];
  if (!first) return [];
  const starts = held.map(({ turn, nodes }) => turn - (nodes.length * width) / 2);
  for (let at = 1; at < held.length; at++) {
    const before = starts[at - 1]! + held[at - 1]!.nodes.length * width;
    starts[at] = Math.max(starts[at]!, before);
  }
  // What has been pushed past the first group's beginning is pushed back.
  let limit = starts[0]! + 2 * Math.PI;
  for (let at = held.length - 1; at > 0; at--) {
    starts[at] = Math.min(starts[at]!, limit - held[at]!.nodes.length * width);
    limit = starts[at]!;
  }
  return held.flatMap(({ nodes }, at) =>
    nodes.map(({ id }, place) => ({ id, turn: starts[at]! + (place + 0.5) * width })),
  );
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
