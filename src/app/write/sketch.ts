/** Strokes of a sketch page: outlines of what a pen, a finger or a mouse drew, and the page as a picture. */
import { getStroke } from 'perfect-freehand';

/** A point on the page, in its own units, with the pressure of the pen from 0 to 1. */
export type Point = [x: number, y: number, pressure: number];

export interface Stroke {
  points: Point[];
  /** Width of the line at middling pressure, in units of the page. */
  size: number;
  /** The pen told its pressure; otherwise it is taken from the speed of the hand. */
  pressed: boolean;
  /** Takes away what lies under it. */
  rubs: boolean;
}

/** The page in its own units: four to three, enough to print across a page of a book. */
export const PAGE = { width: 1600, height: 1200 } as const;

/** The outline of a stroke as an SVG path; '' for none. */
export function outline({ points, size, pressed }: Stroke, done = true): string {
  const edge = getStroke(points, {
    size,
    thinning: 0.55,
    smoothing: 0.5,
    streamline: 0.4,
    simulatePressure: !pressed,
    last: done,
  });
  const [first] = edge;
  if (!first) return '';
  // Quadratic curves through the middles of the edge, so that corners of the outline do not show.
  const parts = [`M${round(first[0])},${round(first[1])}Q`];
  edge.forEach(([x, y], at) => {
    const [nextX, nextY] = edge[(at + 1) % edge.length]!;
    parts.push(`${round(x)},${round(y)} ${round((x + nextX) / 2)},${round((y + nextY) / 2)}`);
  });
  return `${parts.join(' ')}Z`;
}

const round = (value: number): number => Math.round(value * 10) / 10;

/** The page as a PNG picture: strokes in ink on white, over the picture that lay there before. */
export async function pagePicture(
  strokes: readonly Stroke[],
  ground: CanvasImageSource | undefined,
): Promise<ArrayBuffer> {
  const canvas = new OffscreenCanvas(PAGE.width, PAGE.height);
  const pen = canvas.getContext('2d')!;
  pen.fillStyle = 'white';
  pen.fillRect(0, 0, PAGE.width, PAGE.height);
  const ink = new OffscreenCanvas(PAGE.width, PAGE.height);
  const on = ink.getContext('2d')!;
  if (ground) drawWhole(on, ground);
  for (const stroke of strokes) {
    on.globalCompositeOperation = stroke.rubs ? 'destination-out' : 'source-over';
    on.fillStyle = 'black';
    on.fill(new Path2D(outline(stroke)));
  }
  pen.drawImage(ink, 0, 0);
  const blob = await canvas.convertToBlob({ type: 'image/png' });
  return blob.arrayBuffer();
}

/** A picture as large as the page allows, in its middle. */
function drawWhole(pen: OffscreenCanvasRenderingContext2D, picture: CanvasImageSource): void {
  const { width, height } = picture as { width: number; height: number };
  const scale = Math.min(PAGE.width / width, PAGE.height / height);
  const [wide, high] = [width * scale, height * scale];
  pen.drawImage(picture, (PAGE.width - wide) / 2, (PAGE.height - high) / 2, wide, high);
}
