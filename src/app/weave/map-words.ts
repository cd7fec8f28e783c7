/** The words of a map, drawn over or under what sigma draws: names of nodes and of regions, each where there is room, and what is under the pointer. */
import { lookOf } from './cloth-lay';
import { CLEAR_UP_TO, covers, LabelRoom } from './label-room';
import { tokenColour, type SceneNode, type SceneRegion } from './map-scene';

/** How nodes look just now; what is not named looks plain. */
export interface Marks {
  chosen: ReadonlySet<string>;
  /** Where something is lit, all else is dimmed. */
  lit?: ReadonlySet<string>;
  focus?: string;
  pinned: ReadonlySet<string>;
}

/** A map as it stands on the screen. */
export interface View {
  width: number;
  height: number;
  /** Pixels of a unit of the plane. */
  unit: number;
  /** By how much glyphs are grown. */
  grown: number;
  /** Where on the screen a point of the plane is, y downward. */
  at: (x: number, y: number) => { x: number; y: number };
}

/** The left upper corner and the width of words that are there already. */
export type Named = readonly [x: number, y: number, wide: number];

/** Labels drawn at once. */
const MOST_LABELS = 140;
const LABEL_HEIGHT = 18;

export type Palette = Record<'ink' | 'ink2' | 'act' | 'dim' | 'faint' | 'line' | 'ground', string>;

/** The colours of a map as the tokens now stand. */
export function palette(): Palette {
  return {
    ink: tokenColour('--ink'),
    ink2: tokenColour('--ink-2'),
    act: tokenColour('--act-fill'),
    dim: tokenColour('--rule'),
    // Links that only hint: what they join is told in the list.
    faint: tokenColour('--hair'),
    line: tokenColour('--rule'),
    ground: tokenColour('--ground'),
  };
}

const fontOf = (heavy: boolean): string =>
  `${heavy ? 500 : 400} ${heavy ? 16.5 : 15}px "Alegreya Variable", Alegreya, Georgia, serif`;

/** Labels as they were fitted last: measuring text costs more than all else a frame does for a node. */
const measured = new WeakMap<SceneNode, { said: string; wide: number }>();

function labelOf(
  context: CanvasRenderingContext2D,
  node: SceneNode,
): { said: string; wide: number } {
  let known = measured.get(node);
  if (!known) {
    const said = fitted(context, node.label, node.first ? 230 : 170);
    known = { said, wide: context.measureText(said).width };
    measured.set(node, known);
  }
  return known;
}

/** Labels where there is room, the weightiest first; what is looked at, chosen or lit always has its own. */
export function drawLabels(
  context: CanvasRenderingContext2D,
  nodes: readonly SceneNode[],
  view: View,
  { chosen, lit, focus, pinned }: Marks,
  colours: Palette,
  named: readonly Named[],
): void {
  const { width, height } = view;
  const taken = new LabelRoom(width, height);
  for (const [x, y, wide] of named) taken.take(x, y, wide, LABEL_HEIGHT, true);
  const glyphs = (nodes.length <= CLEAR_UP_TO ? nodes : []).map((node) => ({
    node,
    ...view.at(node.x, node.y),
    half: node.size * view.grown,
  }));
  const stands = ({ key }: SceneNode): boolean =>
    key === focus || chosen.has(key) || (lit?.has(key) ?? false);
  context.lineJoin = 'round';
  context.textAlign = 'left';
  const draw = (node: SceneNode, force: boolean): boolean => {
    const at = view.at(node.x, node.y);
    if (at.x < -40 || at.y < -10 || at.x > width + 40 || at.y > height + 10) return false;
    const off = node.size * view.grown + 6;
    context.font = fontOf(node.first ?? false);
    const label = labelOf(context, node);
    const kept = pinned.has(node.key) ? ' ▪' : '';
    const wide = label.wide + (kept ? 14 : 0);
    const side = node.side === 'left' ? at.x - off - wide : at.x + off;
    const others = glyphs.filter((one) => one.node !== node);
    // Where the edge would cut it, or it would cover something, a label stands under its glyph.
    const under = side < 0 || side + wide > width || covers(side, wide, at.y, others);
    const x = under ? Math.max(3, Math.min(width - wide - 3, at.x - wide / 2)) : side;
    const y = under ? at.y + off + 9 : at.y;
    if (!taken.take(x, y - 9, wide, LABEL_HEIGHT, force)) return false;
    context.lineWidth = 4;
    context.strokeStyle = colours.ground;
    context.strokeText(label.said + kept, x, y + 5);
    context.fillStyle = force && !lit ? colours.act : colours.ink;
    context.fillText(label.said + kept, x, y + 5);
    return true;
  };
  let forced = 0;
  for (const node of nodes) {
    if (forced >= MOST_LABELS) break;
    if (stands(node) && draw(node, true)) forced += 1;
  }
  if (lit) return;
  for (const node of nodes) {
    if (taken.count >= MOST_LABELS) break;
    if (!stands(node)) draw(node, false);
  }
}

/** Regions: their lines under the nodes, their names over them; answers where the names stand, so that labels keep clear of them. */
export function drawRegions(
  context: CanvasRenderingContext2D,
  words: CanvasRenderingContext2D,
  regions: readonly SceneRegion[],
  view: View,
  ground: string,
): Named[] {
  const named: Named[] = [];
  const { width, height, unit } = view;
  const room = new LabelRoom(width, height);
  // In the order of dyes and sizes: where names would meet, that of the lesser strand waits until one comes nearer.
  for (const { name, x, y, radius, strand } of regions) {
    const at = view.at(x, y);
    const far = radius * unit;
    if (at.x + far < 0 || at.x - far > width || at.y + far < 0 || at.y - far > height) continue;
    const look = lookOf(strand);
    context.strokeStyle = tokenColour(look.thread);
    context.lineWidth = 1.4;
    context.setLineDash(look.double ? [] : look.dash.split(' ').filter(Boolean).map(Number));
    for (const inset of look.double ? [0, 4] : [0]) {
      context.beginPath();
      context.arc(at.x, at.y, Math.max(1, far - inset), 0, 2 * Math.PI);
      context.stroke();
    }
    context.setLineDash([]);
    if (far < 26) continue;
    words.font = 'italic 400 17px "Alegreya Variable", Alegreya, Georgia, serif';
    words.textAlign = 'center';
    words.lineJoin = 'round';
    words.lineWidth = 5;
    words.strokeStyle = ground;
    // Over the region while that is in view, else at the top of the screen.
    const top = Math.max(20, at.y - far + 5);
    const said = fitted(words, name, Math.max(90, far * 1.8));
    const middle = Math.max(90, Math.min(width - 90, at.x));
    const wide = words.measureText(said).width;
    if (!room.take(middle - wide / 2, top - 14, wide, LABEL_HEIGHT)) continue;
    named.push([middle - wide / 2, top - 14, wide]);
    words.strokeText(said, middle, top);
    words.fillStyle = tokenColour(look.word);
    words.fillText(said, middle, top);
  }
  return named;
}

/** Under the pointer: a ring round the node and its words whole, over everything else. */
export function drawHover(
  context: CanvasRenderingContext2D,
  data: { x: number; y: number; size: number; label?: string | null | undefined },
  width: number,
  colours: Palette,
): void {
  const half = data.size + 4;
  context.lineWidth = 2;
  context.strokeStyle = colours.act;
  context.strokeRect(data.x - half, data.y - half, half * 2, half * 2);
  if (!data.label) return;
  context.font = fontOf(true);
  context.textAlign = 'left';
  const said = fitted(context, data.label, 420);
  const wide = context.measureText(said).width;
  const right = data.x + half + 6;
  const x = right + wide > width ? Math.max(4, data.x - half - 6 - wide) : right;
  context.fillStyle = colours.ground;
  context.fillRect(x - 4, data.y - 12, wide + 8, 24);
  context.fillStyle = colours.act;
  context.fillText(said, x, data.y + 5);
}

/** As much of a text as fits a width. */
function fitted(context: CanvasRenderingContext2D, text: string, wide: number): string {
  if (context.measureText(text).width <= wide) return text;
  let end = text.length;
  while (end > 3 && context.measureText(`${text.slice(0, end)}…`).width > wide) end -= 1;
  return `${text.slice(0, end).trimEnd()}…`;
}
