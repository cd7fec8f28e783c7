/** A map as a picture that prints: the same scene as lines and glyphs in SVG, or as PNG at twice its size. */
import { glyphShape } from './glyph-atlas';
import { lookOf } from './cloth-lay';
import { CLEAR_UP_TO, covers, LabelRoom } from './label-room';
import { boxOf, widthOf, type Scene, type SceneNode } from './map-scene';

/** Resolves a token to a colour; handed in, so that a picture can also be made where there is no page. */
type Colour = (token: string) => string;

const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
const round = (value: number): number => Math.round(value * 10) / 10;
/** About what a letter of a label takes, and the height of a line, in pixels. */
const [LETTER, LINE] = [7.2, 15];

/** A picture is at most about this many times as high as it is wide. */
const HIGHEST = 1.2;

/** A scene in a picture of a width in pixels; its height follows. */
export function mapSvg(scene: Scene, wide: number, colour: Colour, title: string): string {
  const box = boxOf(scene);
  const room = scene.regions.length > 0 ? 96 : 240;
  const [across, down] = [box.right - box.left, box.bottom - box.top];
  const scale = Math.min(
    (wide - 2 * room) / Math.max(1, across),
    (HIGHEST * wide) / Math.max(1, down),
  );
  const high = Math.ceil(down * scale + 2 * 40);
  const at = (x: number, y: number): [number, number] => [
    round((x - box.left) * scale + (wide - across * scale) / 2),
    round((y - box.top) * scale + 40),
  ];
  const free = new LabelRoom(wide, high);
  const parts = [
    ...scene.regions.map((region) => {
      const look = lookOf(region.strand);
      const [x, y] = at(region.x, region.y);
      const far = round(region.radius * scale);
      const half = (region.name.length * LETTER) / 2;
      free.take(x - half, y - far - 5 - LINE, half * 2, LINE, true);
      const dash = look.dash && !look.double ? ` stroke-dasharray="${look.dash}"` : '';
      const ring = (radius: number): string =>
        `<circle cx="${x}" cy="${y}" r="${Math.max(1, radius)}" fill="none" stroke="${colour(look.thread)}" stroke-width="1.4"${dash}/>`;
      const name = `<text class="strand" x="${x}" y="${round(y - far - 5)}" text-anchor="middle" fill="${colour(look.word)}">${escaped(region.name)}</text>`;
      return ring(far) + (look.double ? ring(far - 4) : '') + name;
    }),
    dotsOf(scene, at, colour),
    ...linksOf(scene, at, colour),
    ...nodesOf(scene, at, colour, free),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}" height="${high}" viewBox="0 0 ${wide} ${high}" role="img"><title>${escaped(title)}</title><style>text{font:400 15px Alegreya,Georgia,serif}.strand{font-style:italic;font-size:17px}.halo{stroke:${colour('--paper')};stroke-width:4;stroke-linejoin:round;paint-order:stroke}</style><rect width="100%" height="100%" fill="${colour('--paper')}"/>${parts.join('')}</svg>`;
}

type At = (x: number, y: number) => [number, number];

function dotsOf({ dots }: Scene, at: At, colour: Colour): string {
  if (!dots) return '';
  const paths = dots.strands.map(() => '');
  for (let dot = 0; dot < dots.regionOf.length; dot++) {
    if (!dots.shown(dot)) continue;
    const [x, y] = at(dots.places[dot * 2]!, dots.places[dot * 2 + 1]!);
    paths[dots.regionOf[dot]!] += `M${x} ${y}h0`;
  }
  return paths
    .map((path, region) =>
      path === ''
        ? ''
        : `<path d="${path}" fill="none" stroke="${colour(lookOf(dots.strands[region]).thread)}" stroke-width="1.8" stroke-linecap="round"/>`,
    )
    .join('');
}

function linksOf({ nodes, links }: Scene, at: At, colour: Colour): string[] {
  const place = new Map(nodes.map((node) => [node.key, node]));
  return links.flatMap(({ from, to, weight, proposed, faint }) => {
    const [a, b] = [place.get(from), place.get(to)];
    if (!a || !b) return [];
    const [ax, ay] = at(a.x, a.y);
    const [bx, by] = at(b.x, b.y);
    const dash = proposed ? ' stroke-dasharray="5 4"' : faint ? ' stroke-opacity="0.35"' : '';
    return [
      `<path d="M${ax} ${ay}L${bx} ${by}" stroke="${colour(proposed ? '--ink-2' : '--rule')}" stroke-width="${round(widthOf(weight, proposed))}"${dash}/>`,
    ];
  });
}

/** A label as it is set, and where. */
interface Label {
  said: string;
  x: number;
  y: number;
  anchor: 'start' | 'middle' | 'end';
}

/** The labels of nodes, the weightiest first: all of a neighbourhood's, of a whole journal's those that find room beside the others. */
function labelsOf({ nodes, regions }: Scene, at: At, free: LabelRoom): Map<SceneNode, Label> {
  const set = new Map<SceneNode, Label>();
  const weightiest = [...nodes].sort(
    (a, b) => Number(b.first ?? false) - Number(a.first ?? false) || b.size - a.size,
  );
  const glyphs = (nodes.length <= CLEAR_UP_TO ? nodes : []).map((node) => {
    const [x, y] = at(node.x, node.y);
    return { node, x, y, half: node.size };
  });
  for (const node of weightiest) {
    const [x, y] = at(node.x, node.y);
    const said = node.label.length > 52 ? `${node.label.slice(0, 50)}…` : node.label;
    const left = node.side === 'left';
    const wide = said.length * LETTER;
    const beside = node.size + 5;
    const from = left ? x - beside - wide : x + beside;
    const others = glyphs.filter((one) => one.node !== node);
    if (covers(from, wide, y, others)) {
      // Under its glyph, where beside it something would be covered.
      const below = y + beside + LINE;
      if (!free.take(x - wide / 2, below - LINE, wide, LINE, regions.length === 0)) continue;
      set.set(node, { said, x, y: round(below), anchor: 'middle' });
      continue;
    }
    if (!free.take(from, y - LINE / 2, wide, LINE, regions.length === 0)) continue;
    const anchor = left ? 'end' : 'start';
    set.set(node, { said, x: round(left ? x - beside : from), y: round(y + 5), anchor });
  }
  return set;
}

function nodesOf(scene: Scene, at: At, colour: Colour, free: LabelRoom): string[] {
  const labels = labelsOf(scene, at, free);
  return scene.nodes.map((node): string => {
    const [x, y] = at(node.x, node.y);
    const { size } = node;
    const dye = colour(node.strand ? lookOf(node.strand).thread : '--ink');
    const glyph = `<svg x="${round(x - size)}" y="${round(y - size)}" width="${round(size * 2)}" height="${round(size * 2)}" viewBox="0 0 20 20" color="${dye}">${glyphShape(node.kind)}</svg>`;
    const label = labels.get(node);
    if (!label) return glyph;
    const anchor = label.anchor === 'start' ? '' : ` text-anchor="${label.anchor}"`;
    return `${glyph}<text class="halo" x="${label.x}" y="${label.y}"${anchor} fill="${colour('--ink')}">${escaped(label.said)}</text>`;
  });
}

/** The picture as PNG, two pixels to one. */
export async function pngOf(svg: string): Promise<Blob> {
  const image = new Image();
  const url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [image.naturalWidth * 2, image.naturalHeight * 2];
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) => {
      canvas.toBlob((blob) => {
        if (blob) resolve(blob);
        else reject(new Error('The picture could not be made'));
      }, 'image/png');
    });
  } finally {
    URL.revokeObjectURL(url);
  }
}
