/** Outlines as WOFF2 packs them, made into the `glyf` and `loca` tables of TrueType. After WOFF 2.0, section 5.1. */
import { Reader, Writer } from './bytes';

export interface Glyphs {
  glyf: Uint8Array;
  /** Long offsets. */
  loca: Uint8Array;
  /** The left edge of each glyph, in font units. */
  left: Int16Array;
}

interface Streams {
  contours: Reader;
  points: Reader;
  flags: Reader;
  glyphs: Reader;
  composites: Reader;
  boxes: Reader;
  instructions: Reader;
}

/** Flags of a component (OpenType, "glyf"). */
const WORDS = 0x1;
const SCALE = 0x8;
const MORE = 0x20;
const SCALE_XY = 0x40;
const TWO_BY_TWO = 0x80;
const INSTRUCTIONS = 0x100;
/** Set on the first point of a simple glyph whose outlines overlap. */
const OVERLAP = 0x40;

export function glyphsOf(packed: Uint8Array): Glyphs {
  const head = new Reader(packed);
  head.skip(2);
  const options = head.u16();
  const count = head.u16();
  head.skip(2);
  const sizes = Array.from({ length: 7 }, () => head.u32());
  const next = (at: number): Reader => new Reader(head.bytes(sizes[at]!));
  const streams: Streams = {
    contours: next(0),
    points: next(1),
    flags: next(2),
    glyphs: next(3),
    composites: next(4),
    boxes: next(5),
    instructions: next(6),
  };
  const bits = ((count + 31) >> 5) << 2;
  const boxed = streams.boxes.bytes(bits);
  const overlaps = options & 1 ? head.bytes((count + 7) >> 3) : undefined;
  const has = (map: Uint8Array, at: number): boolean =>
    ((map[at >> 3] ?? 0) & (0x80 >> (at & 7))) !== 0;
  const glyf = new Writer();
  const loca = new Writer();
  const left = new Int16Array(count);
  for (let at = 0; at < count; at += 1) {
    loca.u32(glyf.length);
    const contours = streams.contours.i16();
    const box = has(boxed, at) ? boxOf(streams.boxes) : undefined;
    if (contours > 0)
      left[at] = simple(streams, contours, box, overlaps ? has(overlaps, at) : false, glyf);
    else if (contours < 0) {
      if (!box) throw new Error('A glyph made of others has no box.');
      left[at] = box[0]!;
      composite(streams, box, glyf);
    }
    glyf.pad(4);
  }
  loca.u32(glyf.length);
  return { glyf: glyf.whole(), loca: loca.whole(), left };
}

const boxOf = (boxes: Reader): number[] => Array.from({ length: 4 }, () => boxes.i16());

function composite(streams: Streams, box: readonly number[], out: Writer): void {
  const { composites } = streams;
  out.i16(-1);
  for (const edge of box) out.i16(edge);
  let flags = MORE;
  let instructed = false;
  while (flags & MORE) {
    flags = composites.u16();
    instructed ||= (flags & INSTRUCTIONS) !== 0;
    const scale = flags & SCALE ? 2 : flags & SCALE_XY ? 4 : flags & TWO_BY_TWO ? 8 : 0;
    out.u16(flags);
    out.bytes(composites.bytes(2 + (flags & WORDS ? 4 : 2) + scale));
  }
  if (instructed) instructions(streams, out);
}

function instructions(streams: Streams, out: Writer): void {
  const length = streams.glyphs.short();
  out.u16(length);
  out.bytes(streams.instructions.bytes(length));
}

/** Writes a glyph of contours; answers its left edge. */
function simple(
  streams: Streams,
  contours: number,
  box: readonly number[] | undefined,
  overlap: boolean,
  out: Writer,
): number {
  const ends: number[] = [];
  let total = 0;
  for (let at = 0; at < contours; at += 1) {
    total += streams.points.short();
    ends.push(total - 1);
  }
  const on: boolean[] = [];
  const xs: number[] = [];
  const ys: number[] = [];
  for (let at = 0; at < total; at += 1) {
    const flag = streams.flags.u8();
    on.push(flag < 128);
    const [dx, dy] = triplet(flag & 127, streams.glyphs);
    xs.push(dx);
    ys.push(dy);
  }
  const edges = box ?? extremes(xs, ys);
  out.i16(contours);
  for (const edge of edges) out.i16(edge);
  for (const end of ends) out.u16(end);
  instructions(streams, out);
  points(on, xs, ys, overlap, out);
  return edges[0]!;
}

/** Section 5.2: the step to the next point, by the number of its kind. */
function triplet(kind: number, glyphs: Reader): [number, number] {
  const signed = (value: number, bit: number): number => ((kind >> bit) & 1 ? value : -value);
  if (kind < 10) return [0, signed(((kind & 14) << 7) + glyphs.u8(), 0)];
  if (kind < 20) return [signed((((kind - 10) & 14) << 7) + glyphs.u8(), 0), 0];
  if (kind < 84) {
    const base = kind - 20;
    const byte = glyphs.u8();
    return [
      signed(1 + (base & 0x30) + (byte >> 4), 0),
      signed(1 + ((base & 0x0c) << 2) + (byte & 15), 1),
    ];
  }
  if (kind < 120) {
    const base = kind - 84;
    return [
      signed(1 + (Math.floor(base / 12) << 8) + glyphs.u8(), 0),
      signed(1 + (((base % 12) >> 2) << 8) + glyphs.u8(), 1),
    ];
  }
  if (kind < 124) {
    const [a, b, c] = [glyphs.u8(), glyphs.u8(), glyphs.u8()];
    return [signed((a << 4) + (b >> 4), 0), signed(((b & 15) << 8) + c, 1)];
  }
  return [signed(glyphs.u16(), 0), signed(glyphs.u16(), 1)];
}

function extremes(xs: readonly number[], ys: readonly number[]): number[] {
  const edges = [Infinity, Infinity, -Infinity, -Infinity];
  let x = 0;
  let y = 0;
  xs.forEach((dx, at) => {
    x += dx;
    y += ys[at]!;
    edges[0] = Math.min(edges[0]!, x);
    edges[1] = Math.min(edges[1]!, y);
    edges[2] = Math.max(edges[2]!, x);
    edges[3] = Math.max(edges[3]!, y);
  });
  return edges;
}

/** Flags of points, then the steps in one byte where they are short, in none where there is no step (OpenType, "glyf"). */
function points(
  on: readonly boolean[],
  xs: readonly number[],
  ys: readonly number[],
  overlap: boolean,
  out: Writer,
): void {
  const flagOf = (step: number, short: number, same: number): number => {
    if (step === 0) return same;
    if (Math.abs(step) < 256) return short | (step > 0 ? same : 0);
    return 0;
  };
  on.forEach((onCurve, at) => {
    const first = overlap && at === 0 ? OVERLAP : 0;
    const flag = flagOf(xs[at]!, 0x02, 0x10) | flagOf(ys[at]!, 0x04, 0x20);
    out.u8((onCurve ? 1 : 0) | flag | first);
  });
  for (const steps of [xs, ys]) {
    for (const step of steps) {
      if (step === 0) continue;
      if (Math.abs(step) < 256) out.u8(Math.abs(step));
      else out.i16(step);
    }
  }
}
