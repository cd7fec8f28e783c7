import { crc32, deflateRawSync } from 'node:zlib';
import { zipSync, type Zippable } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { FileRead } from '../../src/gather/block';
import { Engine } from '../../src/engine/engine';
import { gatherFiles } from '../../src/engine/gathering';
import { gatherAtOnce } from '../../src/gather/gathering';
import { readFile } from '../../src/gather/read-file';
import { ids, NOW, smallJournal } from '../unit/gather/build';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

async function read(path: string, bytes: Uint8Array, signal?: AbortSignal): Promise<FileRead[]> {
  const answers: FileRead[] = [];
  for await (const answer of readFile({ path, bytes }, signal)) answers.push(answer);
  return answers;
}

/** Why each file was refused, or how many blocks it has. */
async function told(path: string, bytes: Uint8Array): Promise<(string | number)[]> {
  const answers = await read(path, bytes);
  return answers.map(({ result }) => (result.ok ? result.blocks.length : result.code));
}

const MB = 1024 * 1024;

/** With BOOKWEFT_FAULTS=full the longest text allowed is read whole, which takes a minute on a slow machine. */
const LONG_TEXT = (process.env['BOOKWEFT_FAULTS'] === 'full' ? 50 : 8) * MB;

/** A zip packed by Node's own zlib, which is quick about hundreds of megabytes. */
function zipOf(members: Readonly<Record<string, Uint8Array>>): Uint8Array {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const [name, bytes] of Object.entries(members)) {
    const packed = deflateRawSync(bytes, { level: 1 });
    const fields = Buffer.alloc(26);
    fields.writeUInt16LE(20, 0);
    fields.writeUInt16LE(8, 4);
    fields.writeUInt32LE(crc32(bytes), 10);
    fields.writeUInt32LE(packed.length, 14);
    fields.writeUInt32LE(bytes.length, 18);
    fields.writeUInt16LE(name.length, 22);
    parts.push(Buffer.from('PK\u0003\u0004'), fields, Buffer.from(name), packed);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(at, 10);
    directory.push(Buffer.from('PK\u0001\u0002\u0014\u0000'), fields, rest, Buffer.from(name));
    at += 30 + name.length + packed.length;
  }
  const end = Buffer.alloc(18);
  const count = Object.keys(members).length;
  end.writeUInt16LE(count, 4);
  end.writeUInt16LE(count, 6);
  end.writeUInt32LE(Buffer.concat(directory).length, 8);
  end.writeUInt32LE(at, 12);
  return new Uint8Array(
    Buffer.concat([...parts, ...directory, Buffer.from('PK\u0005\u0006'), end]),
  );
}

describe('zips made to fill the memory', { timeout: 120_000 }, () => {
  test('a text that unpacks to more than may be read is refused, and what lies beside it is read', async () => {
    const bomb = new Uint8Array(60 * MB).fill(0x61);
    const zip = zipOf({ 'bomb.txt': bomb, 'note.txt': utf8('The river is lower than last year.') });
    expect(zip.length).toBeLessThan(MB);
    expect((await told('z.zip', zip)).sort()).toEqual([1, 'too-large']);
  });

  test('what all of a zip and the zips in it unpack to is counted together', async () => {
    const inner = zipOf({ 'a.bin': new Uint8Array(110 * MB) });
    const members: Zippable = {};
    for (let at = 0; at < 3; at += 1) members[`${at}.zip`] = [inner, { level: 0 }];
    const zip = zipSync(members);
    expect(zip.length).toBeLessThan(3 * MB);
    const codes = await told('z.zip', zip);
    expect(codes.filter((code) => code === 'too-large').length).toBeGreaterThanOrEqual(1);
    expect(codes.filter((code) => typeof code === 'number')).toEqual([]);
  });

  test('a zip within zips without end is refused at the fourth', async () => {
    let zip = zipSync({ 'note.txt': utf8('Deep down.') });
    for (let depth = 0; depth < 30; depth += 1) zip = zipSync({ 'next.zip': [zip, { level: 0 }] });
    expect(await told('z.zip', zip)).toEqual(['too-deep']);
  });

  test('a document whose text is a bomb is refused', async () => {
    const types =
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>';
    const bomb = new Uint8Array(25 * MB).fill(0x20);
    const docx = zipOf({ '[Content_Types].xml': utf8(types), 'word/document.xml': bomb });
    expect(await told('a.docx', docx)).toEqual(['too-large']);
  }, 120_000);

  test('ten thousand files and one are refused by their number', async () => {
    const members: Zippable = {};
    for (let at = 0; at <= 10_000; at += 1)
      members[`${at}.txt`] = [new Uint8Array([97]), { level: 0 }];
    expect(await told('z.zip', zipSync(members))).toEqual(['too-many']);
  }, 120_000);

  test('names that climb out of the zip stay under its path', async () => {
    const zip = zipSync({
      '../../etc/note.txt': utf8('Outside.'),
      '/root.txt': utf8('At the root.'),
    });
    const paths = (await read('z.zip', zip)).map(({ path }) => path);
    expect(paths).toEqual(['z.zip/etc/note.txt', 'z.zip/root.txt']);
  });
});

describe('very large tables and texts', () => {
  test(
    'a table of 100,000 cells is read row by row; one more row and it is refused',
    { timeout: 60_000 },
    async () => {
      const row = (at: number): string =>
        Array.from({ length: 10 }, (_, cell) => `w${at}x${cell}`).join(',');
      const rows = Array.from({ length: 10_000 }, (_, at) => row(at));
      expect(await told('t.csv', utf8(rows.join('\n')))).toEqual([10_000]);
      expect(await told('t.csv', utf8([...rows, row(1)].join('\n')))).toEqual(['too-many']);
    },
  );

  test(
    'a table on a page is read to its hundred thousandth cell, and it is said that more was left out',
    { timeout: 60_000 },
    async () => {
      const row = `<tr>${'<td>w</td>'.repeat(100)}</tr>`;
      const [answer] = await read(
        't.html',
        utf8(`<table>${row.repeat(1100)}</table><p>After.</p>`),
      );
      const result = answer?.result;
      expect(result?.ok && result.notes.join(' ')).toMatch(/more than 100,000 cells/);
      expect(result?.ok && result.blocks.at(-1)?.text).toBe('After.');
    },
  );

  test('cells that claim to be millions wide are no wider than a page', async () => {
    const [answer] = await read(
      't.html',
      utf8('<table><tr><td colspan=99999999>a<td>b<tr><td>c<td>d</table>'),
    );
    expect(answer?.result.ok).toBe(true);
  });

  test(
    'long texts are read up to 50 MB, a byte more is refused, and stopping is heeded half-way',
    { timeout: 300_000 },
    async () => {
      const line = `${'The river was lower that year than anybody remembered, and the boats lay over. '.repeat(12)}\n\n`;
      const most = 50 * MB;
      const text = line.repeat(Math.floor(most / line.length));
      const bytes = new Uint8Array(most).fill(0x61);
      bytes.set(utf8(text));
      const began = performance.now();
      const codes = await told('long.txt', bytes);
      const took = performance.now() - began;
      expect(typeof codes[0]).toBe('number');
      expect(codes[0]).toBeGreaterThan(LONG_TEXT / 1200);
      expect(await told('long.txt', new Uint8Array(50 * MB + 1).fill(0x61))).toEqual(['too-large']);
      const stop = new AbortController();
      const stopped = read('long.txt', bytes, stop.signal);
      setTimeout(() => stop.abort(), 1);
      const [answer] = await stopped;
      expect(answer?.result).toMatchObject({ ok: false, code: 'stopped' });
      expect(took).toBeLessThan(120_000);
    },
  );
});

describe('pages made to break their reader', () => {
  const within = async (html: string): Promise<FileRead['result']> => {
    const began = process.cpuUsage();
    const [answer] = await read('p.html', utf8(html));
    // Of work: what other programs take meanwhile is not counted.
    const { user, system } = process.cpuUsage(began);
    expect((user + system) / 1000).toBeLessThan(5000);
    return answer?.result ?? { ok: false, code: 'failed', message: '' };
  };

  test.each([
    'div',
    'blockquote',
    'ul><li',
    'b',
    'table><tr><td',
    'span style="font-style:italic"',
    'font',
  ])(
    'a hundred thousand elements in one another: <%s>',
    async (tag) => {
      const result = await within(
        `<p>Before.</p>${`<${tag}>`.repeat(100_000)}deep</p><p>After.</p>`,
      );
      if (result.ok) expect(result.blocks[0]?.text).toBe('Before.');
      else
        expect(result).toMatchObject({
          code: 'too-deep',
          message: expect.stringMatching(/\.$/) as string,
        });
    },
    30_000,
  );

  test('nothing of a program comes through, and none is run', async () => {
    const flag = globalThis as { ranFromAPage?: boolean };
    delete flag.ranFromAPage;
    const run = 'globalThis.ranFromAPage = true';
    const result =
      await within(`<!doctype html><html><head><title>Notes</title><script>${run}</script>
      <meta http-equiv="refresh" content="0;url=javascript:${run}"><base href="javascript:${run}//"></head>
      <body onload="${run}"><h1 onclick="${run}">Notes</h1>
      <p>Read <a href="javascript:${run}">this</a> and <a href="https://example.org/x" onmouseover="${run}">that</a>.</p>
      <img src=x onerror="${run}"><svg onload="${run}"><script>${run}</script><a xlink:href="javascript:${run}"><text>drawn</text></a></svg>
      <math><mtext><style><img src=x onerror="${run}"></style></mtext></math>
      <iframe srcdoc="<script>${run}</script>"></iframe><object data="data:text/html,<script>${run}</script>"></object>
      <form action="javascript:${run}"><input autofocus onfocus="${run}"><button formaction="javascript:${run}">go</button></form>
      <noscript><p title="</noscript><img src=x onerror='${run}'>"></noscript>
      <template><script>${run}</script></template><details open ontoggle="${run}"><summary>More</summary>Kept.</details>
      <p>&lt;script&gt;${run}&lt;/script&gt; is what he typed.</p>
      <style>@import 'javascript:${run}'; p::after { content: "styled" }</style></body></html>`);
    expect(flag.ranFromAPage).toBeUndefined();
    if (!result.ok) throw new Error(result.message);
    const texts = result.blocks.map(({ text }) => text);
    const typed = texts.filter((text) => text.includes('he typed'));
    expect(typed).toHaveLength(1);
    // What somebody wrote as text stays text, every mark of it escaped.
    expect(typed[0]).not.toMatch(/(?<!\\)</);
    const others = texts.filter((text) => !text.includes('he typed')).join('\n');
    expect(others).not.toMatch(/ranFromAPage|javascript:|onerror|styled|drawn/i);
    expect(others).toContain('[that](https://example.org/x)');
    expect(others).toContain('Kept.');
    const [piece] = gatherAtOnce(smallJournal(), [
      { path: 'p.html', digest: 'd'.repeat(64), result },
    ]).pieces;
    expect(piece?.text).toContain('[that](https://example.org/x)');
  });

  test('a million attributes, comments without end and entities in entities', async () => {
    expect((await within(`<p ${'a=b '.repeat(300_000)}>Words.</p>`)).ok).toBe(true);
    expect((await within(`<p>Words.</p>${'<!--'.repeat(200_000)}`)).ok).toBe(true);
    expect((await within(`<p>${'&amp;'.repeat(300_000)}</p>`)).ok).toBe(true);
    const laughs = `<?xml version="1.0"?><!DOCTYPE opml [<!ENTITY a "ha">${Array.from({ length: 20 }, (_, at) => `<!ENTITY a${at + 1} "&a${at};&a${at};&a${at};">`).join('')}]><opml><body><outline text="&a20;"/></body></opml>`;
    const [answer] = await read('o.opml', utf8(laughs));
    expect(JSON.stringify(answer).length).toBeLessThan(5000);
  });
});

test('among many files a broken, a locked and a hostile one cost no other anything', async () => {
  const engine = (): Engine =>
    new Engine(smallJournal(), { now: () => new Date(NOW), newId: ids() });
  const good = {
    'river.txt':
      'The Wind in the Willows\n\nWhy does Mole leave home?\n\nI read it twice and was glad.\n',
    'quotes.csv': 'Quote,Book\nThe bank is where we live.,The Wind in the Willows\n',
  };
  const offered = Object.entries(good).map(([path, text]) => ({ path, bytes: () => utf8(text) }));
  const bad = [
    { path: 'a broken.docx', bytes: () => Uint8Array.from([80, 75, 3, 4, 20, 0, 0, 0, 1, 2, 3]) },
    { path: 'b bomb.zip', bytes: () => zipOf({ 'x.txt': new Uint8Array(60 * MB).fill(97) }) },
    { path: 'c cut.pdf', bytes: () => utf8('%PDF-1.7\n1 0 obj <<') },
    { path: 'd gone.txt', bytes: () => Promise.reject(new Error('no such file')) },
    { path: 'e deep.html', bytes: () => utf8('<div>'.repeat(50_000)) },
    { path: 'f.json', bytes: () => utf8('['.repeat(100_000)) },
    { path: 'z empty.rtf', bytes: () => new Uint8Array() },
  ];
  const alone = await gatherFiles(engine(), offered);
  const [first, second] = offered;
  const among = await gatherFiles(
    engine(),
    [...bad.slice(0, 3), first, ...bad.slice(3, 5), second, ...bad.slice(5)].flatMap(
      (each) => each ?? [],
    ),
  );
  expect(among.pieces).toEqual(alone.pieces);
  const unread = among.files.filter(({ status }) => status === 'unreadable');
  expect(unread).toHaveLength(bad.length);
  for (const { reason } of unread) expect(reason).toMatch(/^\p{Lu}[^]*\.$/u);
}, 120_000);
