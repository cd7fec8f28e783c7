/** What a map shows, before anything is drawn: the drawing by WebGL, the picture that is saved and the list beside it all go by this. */
import type { EntryKind, HeadingKind } from '../../journal/records';
import { lookOf } from './cloth-lay';
import type { StrandShown } from '../../engine/weave-answers';

export interface SceneNode {
  key: string;
  kind: EntryKind | HeadingKind;
  label: string;
  x: number;
  /** Downward, as on a page. */
  y: number;
  /** Half the height of its glyph, in pixels. */
  size: number;
  strand?: StrandShown;
  /** What stands in the middle, or a heading of weight: its label is shown wherever there is room. */
  first?: boolean;
  /** Where its label stands. */
  side?: 'left' | 'right';
}

interface SceneLink {
  from: string;
  to: string;
  weight: number;
  proposed?: boolean;
  /** Drawn so that it does not stand before what lies round it. */
  faint?: boolean;
}

export interface SceneRegion {
  name: string;
  x: number;
  y: number;
  radius: number;
  strand?: StrandShown;
}

export interface Dots {
  /** x and y of each, y downward. */
  places: Float32Array;
  regionOf: Uint16Array;
  /** By the numbers of the regions. */
  strands: readonly (StrandShown | undefined)[];
  shown: (dot: number) => boolean;
}

export interface Scene {
  nodes: SceneNode[];
  links: SceneLink[];
  regions: SceneRegion[];
  dots?: Dots;
}

export interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** The part of the plane that a scene takes up, with a little room round it. */
export function boxOf({ nodes, regions }: Pick<Scene, 'nodes' | 'regions'>): Box {
  const box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };
  const take = (x: number, y: number, far: number): void => {
    box.left = Math.min(box.left, x - far);
    box.right = Math.max(box.right, x + far);
    box.top = Math.min(box.top, y - far);
    box.bottom = Math.max(box.bottom, y + far);
  };
  for (const { x, y } of nodes) take(x, y, 10);
  for (const { x, y, radius } of regions) take(x, y, radius);
  if (box.left > box.right) return { left: -1, top: -1, right: 1, bottom: 1 };
  return box;
}

/** The colour of a token as it now stands: drawings outside the page's own styles need the value. */
export function tokenColour(token: string): string {
  const name = /var\((--[\w-]+)\)/.exec(token)?.[1] ?? token;
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim() || '#000';
}

/** What is made while tokens are those of the light scheme, whatever the screen's: ink on paper, as it prints. */
export function inLight<T>(make: () => T): T {
  const { dataset } = document.documentElement;
  const held = dataset['scheme'];
  dataset['scheme'] = 'light';
  try {
    return make();
  } finally {
    if (held === undefined) delete dataset['scheme'];
    else dataset['scheme'] = held;
  }
}

export const colourOf = (strand: StrandShown | undefined): string =>
  tokenColour(strand ? lookOf(strand).thread : '--ink');

/** How wide a link is drawn, in pixels. */
export const widthOf = (weight: number, proposed?: boolean): number =>
  proposed ? 1.2 : Math.min(5, 0.8 + 0.75 * Math.sqrt(weight));

export type Corner = readonly [number, number];

/** Whether a point lies inside a polygon (even-odd rule). */
export function inside(x: number, y: number, polygon: readonly Corner[]): boolean {
  let within = false;
  for (let at = 0, last = polygon.length - 1; at < polygon.length; last = at++) {
    const [ax, ay] = polygon[at]!;
    const [bx, by] = polygon[last]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) within = !within;
  }
  return within;
}

/** The nearest of some nodes in a direction from one of them: within a quarter turn of it, the least far when turned aside counts double. */
export function towards(
  nodes: readonly { key: string; x: number; y: number }[],
  from: { key: string; x: number; y: number },
  [dx, dy]: readonly [number, number],
): string | undefined {
  let [best, least]: [string | undefined, number] = [undefined, Infinity];
  for (const { key, x, y } of nodes) {
    if (key === from.key) continue;
    const [along, aside] = [
      (x - from.x) * dx + (y - from.y) * dy,
      Math.abs((x - from.x) * dy) + Math.abs((y - from.y) * dx),
    ];
    if (along <= 0 || aside > along) continue;
    const far = along + 2 * aside;
    if (far < least) [best, least] = [key, far];
  }
  return best;
}
