/** What stands around something as a scene: on rings while it is little, laid by forces and brought to rest when it is more. */
import type { AroundNode, AroundView, Point, StrandShown } from '../../engine/weave-answers';
import type { Scene, SceneNode } from './map-scene';
import { settled } from './settling';

/** Up to this many nodes lie on rings in fixed slots; more are laid by forces and shown when settled. */
const MOST_ON_RINGS = 40;

/** The scene of a view, or nothing where a later laying has taken over. */
export async function aroundScene(
  view: AroundView,
  roots: readonly string[],
  pinned: Readonly<Record<string, Point>>,
  strands: ReadonlyMap<string, StrandShown>,
): Promise<Scene | undefined> {
  let places: ReadonlyMap<string, Point> = new Map(view.nodes.map((node) => [node.id, node]));
  if (view.nodes.length > MOST_ON_RINGS) {
    const nodes = view.nodes.map(({ id }) => {
      const at = pinned[id] ?? places.get(id) ?? { x: 0, y: 0 };
      return { id, x: at.x, y: at.y, fixed: id in pinned };
    });
    const links = view.links.map(({ from, to, weight }) => ({ from, to, weight }));
    const rested = await settled({ nodes, links });
    if (!rested) return undefined;
    places = rested;
  }
  return {
    nodes: view.nodes.map((node): SceneNode => {
      const at = pinned[node.id] ?? places.get(node.id) ?? { x: 0, y: 0 };
      const strand = node.strand === undefined ? undefined : strands.get(node.strand);
      return sceneNode(node, at, roots.includes(node.id), strand);
    }),
    links: view.links,
    regions: [],
  };
}

function sceneNode(
  node: AroundNode,
  at: Point,
  first: boolean,
  strand: StrandShown | undefined,
): SceneNode {
  const size = node.type === 'entry' ? 7 : 8 + Math.min(4, Math.sqrt(node.count) / 3);
  return {
    key: node.id,
    kind: node.kind,
    label: node.text,
    x: at.x,
    y: at.y,
    size: first ? size + 4 : size,
    first: first || node.type === 'heading',
    side: !first && at.x < -1 ? 'left' : 'right',
    ...(strand ? { strand } : {}),
  };
}
