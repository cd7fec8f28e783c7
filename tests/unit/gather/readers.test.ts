import { columnRoles } from '../../../src/gather/readers/tools/columns';
import exifr from 'exifr';
import { strToU8, zipSync } from 'fflate';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import type { FileRead, ReadWhole } from '../../../src/gather/block';
import { readFile } from '../../../src/gather/read-file';

async function read(name: string, bytes: Uint8Array): Promise<FileRead[]> {
  const found: FileRead[] = [];
  for await (const one of readFile({ path: name, bytes })) found.push(one);
  return found;
}

async function whole(name: string, bytes: Uint8Array): Promise<ReadWhole> {
  const [one] = await read(name, bytes);
  expect(one?.result.ok).toBe(true);
  return one!.result as ReadWhole;
}

const words = async (name: string, bytes: Uint8Array): Promise<string[]> =>
  (await whole(name, bytes)).blocks.map(({ text }) => text);

/** One directory of Exif in the order of a big-endian machine; longer values lie behind it. */
function directory(
  at: number,
  entries: [tag: number, type: number, count: number, value: number | Uint8Array][],
): Uint8Array {
  const size = 2 + entries.length * 12 + 4;
  const behind: number[] = [];
  const out = new Uint8Array(size);
  const view = new DataView(out.buffer);
  view.setUint16(0, entries.length);
  entries.forEach(([tag, type, count, value], number) => {
    const from = 2 + number * 12;
    view.setUint16(from, tag);
    view.setUint16(from + 2, type);
    view.setUint32(from + 4, count);
    if (typeof value === 'number') view.setUint32(from + 8, value);
    else if (value.length <= 4) out.set(value, from + 8);
    else {
      view.setUint32(from + 8, at + size + behind.length);
      behind.push(...value);
    }
  });
  return Uint8Array.of(...out, ...behind);
}

const rationals = (...numbers: number[]): Uint8Array =>
  Uint8Array.from(numbers.flatMap((number) => [0, 0, 0, number, 0, 0, 0, 1]));

/** Exif 2.3 with a day (tag 0x9003) and a place (the GPS directory, 0x8825), as a telephone writes it. */
function exifWithPlace(): Uint8Array {
  const day = strToU8('2014:06:21 15:04:05\0');
  const [first, own] = [8, 8 + 2 + 2 * 12 + 4];
  const exif = directory(own, [[0x9003, 2, day.length, day]]);
  const at = own + exif.length;
  const place = directory(at, [
    [1, 2, 2, strToU8('N\0')],
    [2, 5, 3, rationals(53, 24, 7)],
    [3, 2, 2, strToU8('W\0')],
    [4, 5, 3, rationals(2, 9, 11)],
  ]);
  const main = directory(first, [
    [0x8769, 4, 1, own],
    [0x8825, 4, 1, at],
  ]);
  const tiff = Uint8Array.of(0x4d, 0x4d, 0, 42, 0, 0, 0, 8, ...main, ...exif, ...place);
  return segment(0xe1, Uint8Array.of(...strToU8('Exif\0\0'), ...tiff));
}

const segment = (marker: number, body: Uint8Array): Uint8Array =>
  Uint8Array.of(0xff, marker, (body.length + 2) >> 8, (body.length + 2) & 255, ...body);

const SKETCH = new Uint8Array(
  readFileSync(
    path.resolve(import.meta.dirname, '../../../demo-data/scattered/garden wall sketch.jpg'),
  ),
);

describe('pictures', () => {
  const xmp = strToU8(
    'http://ns.adobe.com/xap/1.0/\0<x:xmpmeta><exif:GPSLatitude>53,24.1N</exif:GPSLatitude></x:xmpmeta>',
  );
  const withPlace = Uint8Array.of(
    ...SKETCH.subarray(0, 2),
    ...exifWithPlace(),
    ...segment(0xe1, xmp),
    ...segment(0xfe, strToU8('taken at home, Harbour Lane')),
    ...SKETCH.subarray(2),
  );

  test('the day it was taken is read, and no place is in what is kept', async () => {
    // What is given does hold a place, as somebody else's reader finds it.
    expect(await exifr.gps(withPlace)).toMatchObject({
      latitude: expect.closeTo(53.4, 1) as number,
    });
    const { blocks, written } = await whole('sketch.jpg', withPlace);
    expect(written).toBe('2014-06-21');
    const kept = blocks[0]!.picture!;
    expect(kept.width).toBeGreaterThan(0);
    expect(await exifr.gps(kept.bytes).catch(() => undefined)).toBeUndefined();
    expect(Buffer.from(kept.bytes).toString('latin1')).not.toMatch(/GPS|Exif|Harbour Lane|xmpmeta/);
  });
});

describe('letters of older programs', () => {
  const TEXT = 'Zoë’s café — “half a crown”, she said.\n\nÆsop, £3.';
  const SAID = ['Zoë’s café — “half a crown”, she said.', 'Æsop, £3.'];
  const little = new Uint8Array(Buffer.from(TEXT, 'utf16le'));
  const big = new Uint8Array(Buffer.from(TEXT, 'utf16le').swap16());

  test.each([
    ['UTF-16, little end first, with its mark', Uint8Array.of(0xff, 0xfe, ...little)],
    ['UTF-16, big end first, with its mark', Uint8Array.of(0xfe, 0xff, ...big)],
    ['UTF-8 with its mark', Uint8Array.of(0xef, 0xbb, 0xbf, ...strToU8(TEXT))],
    [
      'Windows-1252',
      Uint8Array.from(
        [...TEXT].map(
          (letter) =>
            ({ '’': 0x92, '—': 0x97, '“': 0x93, '”': 0x94 })[letter] ?? letter.charCodeAt(0),
        ),
      ),
    ],
  ])('%s', async (_, bytes) => {
    expect(await words('old.txt', bytes)).toEqual(SAID);
  });
});

test('a zip within a zip is read to its end, each file by its own path', async () => {
  const inner = zipSync({ 'deep/tides.txt': strToU8('The tide keeps its own hours.') });
  const outer = zipSync({ 'older.zip': inner, 'top.txt': strToU8('A lamp is lit at four.') });
  const found = await read('laptop.zip', outer);
  const said = found.map(({ path: own, result }) => [
    own,
    result.ok ? result.blocks.map(({ text }) => text).join() : result.message,
  ]);
  expect(said.sort()).toEqual([
    ['laptop.zip/older.zip/deep/tides.txt', 'The tide keeps its own hours.'],
    ['laptop.zip/top.txt', 'A lamp is lit at four.'],
  ]);
});

test('a saved page keeps its headings over lists within lists, its table’s rows and its picture', async () => {
  const sketched = `data:image/jpeg;base64,${Buffer.from(SKETCH).toString('base64')}`;
  const page = `<html><body><h1>Heidi by Johanna Spyri</h1>
    <article><h2>Questions</h2><ul><li>Why does she hide the bread?<ul><li>What does it turn into?</li></ul></li></ul>
    <article><h3>Quotations</h3><blockquote>The fire in the evening was the best.</blockquote></article></article>
    <table><tr><th>Quote</th><th>Page</th></tr><tr><td>The firs rustled.</td><td>12</td></tr></table>
    <img src="${sketched}" alt="The hut"></body></html>`;
  const { blocks } = await whole('heidi.html', strToU8(page));
  const said = blocks.map(({ as, text }) => `${as} ${text}`);
  expect(said).toEqual(
    expect.arrayContaining([
      expect.stringMatching(/Why does she hide the bread/),
      expect.stringMatching(/What does it turn into/),
      expect.stringMatching(/^quote .*best/),
      expect.stringMatching(/^row .*The firs rustled/),
    ]),
  );
  const nested = blocks.find(({ text }) => text.includes('turn into'));
  expect(nested?.under?.slice(-2)).toEqual(['Questions', 'Why does she hide the bread?']);
  const quoted = blocks.find(({ text }) => text.includes('the best'));
  expect(quoted?.under?.slice(-2)).toEqual(['Questions', 'Quotations']);
  expect(blocks.find(({ picture }) => picture)?.picture).toMatchObject({
    alt: 'The hut',
    type: 'image/jpeg',
  });
});

describe('the columns of a table', () => {
  test('a page beside quotations or questions is where they stand, beside books how long they are', () => {
    expect(columnRoles(['Quote', 'Book', 'Page'])).toMatchObject({ Page: 'page' });
    expect(columnRoles(['Pages', 'Question', 'Book'])).toMatchObject({ Pages: 'page' });
    expect(columnRoles(['Quote', 'p.', 'Pages'])).toMatchObject({ 'p.': 'page', Pages: 'pages' });
    expect(columnRoles(['Title', 'Author', 'Page'])).toMatchObject({ Page: 'pages' });
  });
});
