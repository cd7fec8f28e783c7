/**
 * A WOFF2 file unpacked to the TrueType font inside it, because the library that embeds fonts cannot
 * part glyphs made of others (é, Å) from a packed one. After "WOFF File Format 2.0", W3C
 * Recommendation 2018, section numbers below; the unpacking of the stream itself is a library's.
 */
import decompress from 'brotli/decompress.js';
import { Reader, Writer } from './bytes';
import { glyphsOf, type Glyphs } from './woff2-glyphs';

/** Tags by number, section 4.1. */
const TAGS = (
  'cmap head hhea hmtx maxp name OS/2 post cvt_ fpgm glyf loca prep CFF_ VORG EBDT EBLC gasp hdmx ' +
  'kern LTSH PCLT VDMX vhea vmtx BASE GDEF GPOS GSUB EBSC JSTF MATH CBDT CBLC COLR CPAL SVG_ sbix ' +
  'acnt avar bdat bloc bsln cvar fdsc feat fmtx fvar gvar hsty just lcar mort morx opbd prop trak ' +
  'Zapf Silf Glat Gloc Feat Sill'
)
  .split(' ')
  .map((tag) => tag.replace('_', ' '));

interface Table {
  tag: string;
  bytes: Uint8Array;
  /** Whether it was packed in the manner of its own. */
  transformed: boolean;
}

/** The font's bytes. Throws where the file is not WOFF2, is a collection, or ends too early. Check sums are left at nought. */
export function unpackWoff2(file: Uint8Array): Uint8Array {
  const head = new Reader(file);
  if (head.tag() !== 'wOF2') throw new Error('This is not a WOFF2 file.');
  const flavor = head.u32();
  head.skip(4);
  const count = head.u16();
  head.skip(6);
  const packedSize = head.u32();
  head.at = 48;
  const entries = Array.from({ length: count }, () => directoryEntry(head));
  const size = entries.reduce((sum, entry) => sum + entry.size, 0);
  const stream = decompress(file.subarray(head.at, head.at + packedSize), size);
  const unpacked = new Reader(stream);
  const tables = entries.map(({ tag, size: length, transformed }): Table => {
    return { tag, transformed, bytes: unpacked.bytes(length) };
  });
  return sfnt(flavor, rebuilt(tables));
}

/** Section 4.1: flags, tag, length, and the packed length of a transformed table. */
function directoryEntry(head: Reader): { tag: string; size: number; transformed: boolean } {
  const flags = head.u8();
  const tag = (flags & 63) === 63 ? head.tag() : TAGS[flags & 63]!;
  const version = flags >> 6;
  const size = head.base128();
  const outlines = tag === 'glyf' || tag === 'loca';
  const transformed = outlines ? version !== 3 : version !== 0;
  return { tag, size: transformed ? head.base128() : size, transformed };
}

function rebuilt(tables: readonly Table[]): Table[] {
  const glyf = tables.find(({ tag }) => tag === 'glyf');
  if (!glyf?.transformed) return [...tables];
  const glyphs = glyphsOf(glyf.bytes);
  return tables.map((table) => {
    if (table.tag === 'glyf') return { ...table, bytes: glyphs.glyf };
    if (table.tag === 'loca') return { ...table, bytes: glyphs.loca };
    if (table.tag === 'hmtx' && table.transformed)
      return { ...table, bytes: metrics(table.bytes, tables, glyphs) };
    if (table.tag === 'head') {
      const bytes = table.bytes.slice();
      new DataView(bytes.buffer).setInt16(50, 1);
      return { ...table, bytes };
    }
    return table;
  });
}

/** Section 5.4: side bearings left out are the left edges of the glyphs. */
function metrics(packed: Uint8Array, tables: readonly Table[], glyphs: Glyphs): Uint8Array {
  const hhea = tables.find(({ tag }) => tag === 'hhea');
  if (!hhea) throw new Error('The font has no hhea table.');
  const long = new DataView(hhea.bytes.buffer, hhea.bytes.byteOffset).getUint16(34);
  const count = glyphs.left.length;
  const reader = new Reader(packed);
  const flags = reader.u8();
  const advances = Array.from({ length: long }, () => reader.u16());
  const bearing = (from: number, to: number, absent: number): number[] =>
    Array.from({ length: to - from }, (_, at) => (absent ? glyphs.left[from + at]! : reader.i16()));
  const bearings = [...bearing(0, long, flags & 1), ...bearing(long, count, flags & 2)];
  const out = new Writer();
  for (let at = 0; at < count; at += 1) {
    if (at < long) out.u16(advances[at]!);
    out.i16(bearings[at]!);
  }
  return out.whole();
}

/** The tables behind a directory sorted by tag (OpenType, "Organization of an OpenType Font"). */
function sfnt(flavor: number, tables: readonly Table[]): Uint8Array {
  const sorted = [...tables].sort((a, b) => (a.tag < b.tag ? -1 : 1));
  const out = new Writer();
  const power = Math.floor(Math.log2(sorted.length));
  out.u32(flavor);
  out.u16(sorted.length);
  out.u16(2 ** power * 16);
  out.u16(power);
  out.u16((sorted.length - 2 ** power) * 16);
  let offset = 12 + sorted.length * 16;
  for (const { tag, bytes } of sorted) {
    for (const letter of tag) out.u8(letter.charCodeAt(0));
    out.u32(0);
    out.u32(offset);
    out.u32(bytes.length);
    offset += (bytes.length + 3) & ~3;
  }
  for (const { bytes } of sorted) {
    out.bytes(bytes);
    out.pad(4);
  }
  return out.whole();
}
