/** Places for a whole journal: a region for each strand, in it a circle for each heading, and round the heading's middle its entries. */
import { packEnclose, packSiblings } from 'd3-hierarchy';

interface RegionHeading {
  /** Entries placed with this heading, by number. */
  entries: readonly number[];
  /** Entries tied to it: a heading with many has room for its name even where its entries lie with others. */
  size: number;
}

export interface Region {
  headings: readonly RegionHeading[];
  /** Entries that lie with none of the region's headings. */
  loose: readonly number[];
}

interface RegionPlaces {
  regions: { x: number; y: number; radius: number }[];
  /** For each region, the middles of its headings. */
  headings: { x: number; y: number }[][];
  /** x and y of each entry. */
  entries: Float32Array;
}

/** The area of an entry and the radius kept for a heading's own mark, in units. */
const STEP = 1;
const MARK = 2.2;
const GAP = 1.2;
const REGION_GAP = 7;
/** The golden angle: points set round and round by it lie evenly (Vogel 1979). */
const GOLDEN = Math.PI * (3 - Math.sqrt(5));

/**
 * Packs it all into circles in circles, largest first (front-chain packing, Wang et al. 2006). Time grows with entries plus headings squared at
 * worst inside one strand; the same input gives the same places. `entries` is how many entries there are in all.
 */
export function regionPlaces(regions: readonly Region[], entries: number): RegionPlaces {
  const places = new Float32Array(entries * 2);
  const packed = regions.map((region) => {
    const groups = [
      ...region.headings.map(({ entries: own, size }) => ({ own, size })),
      ...(region.loose.length > 0 ? [{ own: region.loose, size: 0 }] : []),
    ];
    const circles = groups.map(({ own, size }, at) => ({ at, x: 0, y: 0, r: radiusOf(own, size) }));
    // The packing lays the first in the middle: the largest, so that small ones lie at the rim.
    packSiblings([...circles].sort((a, b) => b.r - a.r || a.at - b.at));
    return { groups, circles, whole: packEnclose(circles) ?? { x: 0, y: 0, r: 1 } };
  });
  const outer = packed.map(({ whole }, at) => ({ at, x: 0, y: 0, r: whole.r + REGION_GAP }));
  packSiblings([...outer].sort((a, b) => b.r - a.r || a.at - b.at));
  const headings = packed.map(({ groups, circles, whole }, at) => {
    const middle = outer[at]!;
    return circles.map((circle, group) => {
      const x = middle.x + circle.x - whole.x;
      const y = middle.y + circle.y - whole.y;
      sunflower(groups[group]!.own, x, y, places);
      return { x, y };
    });
  });
  return {
    regions: outer.map(({ x, y, r }) => ({ x, y, radius: r - REGION_GAP / 2 })),
    headings: headings.map((row, at) => row.slice(0, regions[at]!.headings.length)),
    entries: places,
  };
}

const radiusOf = (own: readonly number[], size: number): number =>
  MARK + GAP + STEP * Math.sqrt(own.length) + Math.sqrt(size) / 6;

/** Points evenly round a middle, the first just outside the heading's own mark. */
function sunflower(own: readonly number[], x: number, y: number, places: Float32Array): void {
  own.forEach((entry, at) => {
    const far = MARK + STEP * Math.sqrt(at + 0.5);
    const turn = at * GOLDEN;
    places[entry * 2] = x + far * Math.cos(turn);
    places[entry * 2 + 1] = y + far * Math.sin(turn);
  });
}
