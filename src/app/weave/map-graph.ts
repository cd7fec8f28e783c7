/** A scene as the graph that sigma draws. */
import { UndirectedGraph } from 'graphology';
import { colourOf, widthOf, type Corner, type Scene, type SceneNode } from './map-scene';
import type { Palette } from './map-words';

/** In the order in which nodes get their labels: what stands in the middle first, then by size. */
export const ordered = (nodes: readonly SceneNode[]): SceneNode[] =>
  [...nodes].sort((a, b) => Number(b.first ?? false) - Number(a.first ?? false) || b.size - a.size);

/** Both ends of each tie that is only proposed. */
export function proposedOf({ nodes, links }: Scene): [Corner, Corner][] {
  const place = new Map(nodes.map(({ key, x, y }): [string, Corner] => [key, [x, y]]));
  return links.flatMap(({ from, to, proposed }): [Corner, Corner][] => {
    const [a, b] = [place.get(from), place.get(to)];
    return proposed && a && b ? [[a, b]] : [];
  });
}

/** The graph that is drawn of a scene: its nodes, and its links that are not proposals. */
export function graphOf({ nodes, links }: Scene, colours: Palette): UndirectedGraph {
  const graph = new UndirectedGraph();
  const threads = new Map<SceneNode['strand'], string>();
  for (const node of nodes) {
    let colour = threads.get(node.strand);
    if (colour === undefined) threads.set(node.strand, (colour = colourOf(node.strand)));
    graph.mergeNode(node.key, attributesOf(node, colour));
  }
  for (const { from, to, weight, proposed, faint } of links) {
    if (proposed || !graph.hasNode(from) || !graph.hasNode(to) || graph.hasEdge(from, to)) continue;
    graph.addEdge(from, to, {
      size: widthOf(weight),
      color: faint ? colours.faint : colours.line,
      from,
      to,
    });
  }
  return graph;
}

/** A node as sigma takes it: y upward, and its thread’s colour. */
export function attributesOf(
  { key: _, ...node }: SceneNode,
  color: string,
): Record<string, unknown> {
  return { ...node, y: -node.y, color, type: 'glyph' };
}
