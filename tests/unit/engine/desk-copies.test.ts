import fc from 'fast-check';
import { strToU8, unzipSync, zipSync } from 'fflate';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lookInto } from '../../../src/engine/copies';
import type { DeskOver } from '../../../src/engine/desk-over';
import { withoutLineage } from '../../../src/engine/lineage';
import { writeJournalFile } from '../../../src/journal/file';
import type {
  CircleId,
  Entry,
  Guide,
  HeadingId,
  Meeting,
  MeetingItem,
} from '../../../src/journal/records';
import { untimed } from '../../../src/journal/same';
import { MemoryBytes } from '../../../src/keep/byte-store';
import { DocumentStore } from '../../../src/keep/document-store';
import { MemoryStore } from '../../../src/keep/memory-store';
import { NotKept } from '../../../src/keep/store';
import { arbitraryJournal } from '../journal/arbitrary-journal';
import { entry, journalOf, theme, tieTo } from '../journal/few';
import { readAll } from '../keep/session';
import {
  apart,
  bufferOf,
  draft,
  fileOf,
  id,
  journalIn,
  readFile,
  swap,
  take,
  textOf,
} from './desk-apart';
import { must, opened, rows, sha256 } from './desk-setup';

/** Entries by id, but for the times at which they came to be so on each side. */
const saidIn = (desk: DeskOver): unknown[] =>
  [...journalIn(desk).tables.entries.values()]
    .map((row) => untimed(row))
    .sort((a, b) => (a.id < b.id ? -1 : 1));

describe('a copy', () => {
  it('opened elsewhere is the same journal, name and all, also after a reload', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJournal(), async (from) => {
        const first = await opened(new MemoryStore());
        await take(first.desk, fileOf(from), 'replace');
        const { bytes, name, type } = await first.desk.copyOut();
        expect(name).toBe('harbour-lane-2026-11-25.bookweft.json');
        expect(type).toBe('application/json');
        const disk = new MemoryBytes();
        const second = await opened(new DocumentStore(disk));
        await take(second.desk, bytes, 'replace');
        const { lineage, journal } = withoutLineage(readFile(bytes));
        expect(lineage).toBeDefined();
        expect(rows(journal)).toBe(rows(from));
        expect(rows(journalIn(second.desk))).toBe(rows(from));
        const again = await opened(new DocumentStore(disk));
        expect(rows(journalIn(again.desk))).toBe(rows(from));
      }),
      { numRuns: 30 },
    );
  });

  it('put in place is taken back whole by one undo, with the name', async () => {
    const disk = new MemoryBytes();
    const { desk } = await opened(new DocumentStore(disk));
    await must(desk.begin('empty', 'Mine'));
    await must(desk.saveEntry(draft('Mine.')));
    const before = rows(journalIn(desk));
    await take(desk, fileOf(journalOf(theme('t'), entry('a', { ties: [tieTo('t')] }))), 'replace');
    expect(journalIn(desk).name).toBe('Few');
    expect(await desk.totals()).toMatchObject({ entries: 1, headings: 1, name: 'Few' });
    expect((await desk.undo()).said).toBe('Put “Few” in place');
    expect(rows(journalIn(desk))).toBe(before);
    expect(rows((await readAll(new DocumentStore(disk))).journal)).toBe(before);
    await must(desk.redo());
    expect(journalIn(desk).name).toBe('Few');
    expect(rows((await readAll(new DocumentStore(disk))).journal)).toBe(rows(journalIn(desk)));
  });

  it('is compared before it is taken, and nothing is changed by looking', async () => {
    const { desk } = await opened(new MemoryStore());
    expect(await desk.lookInto('copy', fileOf(journalOf(entry('a'))))).toEqual({
      ok: true,
      said: 'Few',
      name: 'Few',
      made: '2024-03-14T10:00:00.000Z',
      counts: expect.objectContaining({ entries: 1, headings: 0 }) as unknown,
    });
    await take(desk, fileOf(journalOf(entry('a'), entry('b'), entry('c'))), 'replace');
    const before = rows(journalIn(desk));
    const other = journalOf(entry('b', { text: 'Other.' }), entry('c'), entry('d'));
    const looked = await desk.lookInto('copy', fileOf(other));
    expect(looked.compared).toEqual({ onlyThere: 1, onlyHere: 1, differing: 1, same: 1 });
    expect(rows(journalIn(desk))).toBe(before);
  });

  it('may hold ties that lead nowhere: they are taken as they stand', async () => {
    const { desk } = await opened(new MemoryStore());
    const from = journalOf(entry('a', { ties: [tieTo('nobody')] }));
    await take(desk, fileOf(from), 'replace');
    expect(rows(journalIn(desk))).toBe(rows(from));
  });

  it('must be chosen before it is taken', async () => {
    const { desk } = await opened(new MemoryStore());
    expect(await desk.takeCopy('merge')).toEqual({
      ok: false,
      said: 'Choose the copy first.',
      code: 'no-copy',
    });
  });
});

describe('a copy merged in', () => {
  it('adds what is only there and keeps what is only here, undone as one', async () => {
    const { desk } = await opened(new MemoryStore());
    await take(desk, fileOf(journalOf(theme('t'), entry('a'))), 'replace');
    const before = rows(journalIn(desk));
    await take(desk, fileOf(journalOf(theme('u'), entry('b', { ties: [tieTo('u')] }))), 'merge');
    expect([...journalIn(desk).tables.entries.keys()]).toEqual(['a', 'b']);
    expect([...journalIn(desk).tables.headings.keys()]).toEqual(['t', 'u']);
    await must(desk.undo());
    expect(rows(journalIn(desk))).toBe(before);
  });

  it('takes the wording of the side that has changed an entry since they parted, whichever that is', async () => {
    const [one, two] = await apart(entry('a', { text: 'colour' }), entry('b', { text: 'grey' }));
    await must(one.saveEntry(draft('color', { id: id('a') })));
    await must(two.saveEntry(draft('gray', { id: id('b') })));
    await swap(one, two);
    for (const desk of [one, two]) {
      expect(textOf(desk, 'a')).toBe('color');
      expect(textOf(desk, 'b')).toBe('gray');
    }
    expect(saidIn(one)).toEqual(saidIn(two));
  });

  it('keeps both wordings where both have changed an entry, though copies were saved in between', async () => {
    const [one, two] = await apart(entry('a', { text: 'dark' }));
    await must(one.saveEntry(draft('dark night', { id: id('a'), answer: 'Because.' })));
    await one.copyOut();
    await must(two.saveEntry(draft('very dark', { id: id('a'), answer: 'Perhaps.' })));
    await two.copyOut();
    await swap(one, two);
    for (const desk of [one, two]) {
      for (const words of ['dark night', 'very dark']) expect(textOf(desk, 'a')).toContain(words);
      const { answer } = journalIn(desk).tables.entries.get(id('a'))!;
      for (const words of ['Because.', 'Perhaps.']) expect(answer).toContain(words);
    }
    const once = textOf(one, 'a');
    await swap(one, two);
    await swap(two, one);
    expect(textOf(one, 'a')).toBe(once);
    expect(textOf(two, 'a')).toBe(once);
  });

  it('does not bring back what was removed here since, and keeps what was removed there', async () => {
    const [one, two] = await apart(entry('a'), entry('b'), entry('c'));
    await must(one.removeEntries([id('a')]));
    await must(two.removeEntries([id('b')]));
    await must(two.saveEntry(draft('new there', { id: id('d') })));
    await swap(one, two);
    expect([...journalIn(one).tables.entries.keys()].sort()).toEqual(['b', 'c', 'd']);
    expect([...journalIn(two).tables.entries.keys()].sort()).toEqual(['a', 'c', 'd']);
  });

  it('brings back what was removed here and has been altered there', async () => {
    const [one, two] = await apart(entry('a', { text: 'dark' }));
    await must(one.removeEntries([id('a')]));
    await must(two.saveEntry(draft('dark night', { id: id('a') })));
    await swap(one, two);
    expect(textOf(one, 'a')).toBe('dark night');
  });

  it('goes round three devices, each merging the next, and loses no wording', async () => {
    const [one, two] = await apart(entry('a', { text: 'dark' }), entry('b', { text: 'light' }));
    const three = (await opened(new MemoryStore())).desk;
    await take(three, (await two.copyOut()).bytes, 'replace');
    await must(one.saveEntry(draft('dark one', { id: id('a') })));
    await must(two.saveEntry(draft('light two', { id: id('b') })));
    await must(three.saveEntry(draft('dark three', { id: id('a') })));
    for (let round = 0; round < 2; round++) {
      await take(two, (await one.copyOut()).bytes, 'merge');
      await take(three, (await two.copyOut()).bytes, 'merge');
      await take(one, (await three.copyOut()).bytes, 'merge');
    }
    for (const desk of [one, two, three]) {
      expect(textOf(desk, 'b')).toBe('light two');
      for (const words of ['dark one', 'dark three']) expect(textOf(desk, 'a')).toContain(words);
      expect(textOf(desk, 'a').length).toBe('dark one'.length + 'dark three'.length + 2);
    }
  });

  it('of the same file opened on two devices takes the wording of the one that has changed it', async () => {
    const from = fileOf(journalOf(entry('a', { text: 'colour' }), entry('b', { text: 'grey' })));
    const desks = [
      (await opened(new MemoryStore())).desk,
      (await opened(new MemoryStore())).desk,
    ] as const;
    for (const desk of desks) await take(desk, from, 'merge');
    await must(desks[0].saveEntry(draft('color', { id: id('a') })));
    await must(desks[1].saveEntry(draft('gray', { id: id('b') })));
    await swap(...desks);
    for (const desk of desks)
      expect([textOf(desk, 'a'), textOf(desk, 'b')]).toEqual(['color', 'gray']);
  });

  it('whose lineage is not to be believed is joined with nothing lost', async () => {
    for (const copies of [
      1,
      [],
      { site: 1 },
      { site: 'x', had: { x: 2 } },
      { site: 'x', had: [] },
    ]) {
      const { desk } = await opened(new MemoryStore());
      await take(desk, fileOf(journalOf(entry('a', { text: 'ours' }))), 'replace');
      const there = { ...journalOf(entry('a', { text: 'theirs' })), unknown: { copies } };
      await take(desk, fileOf(there), 'merge');
      for (const words of ['ours', 'theirs']) expect(textOf(desk, 'a')).toContain(words);
    }
  });

  it('joins headings: both notes, all alternates, and a name that did not win as an alternate', async () => {
    const [one, two] = await apart(theme('t', { name: 'Courage' }));
    await must(
      one.saveHeading(theme('t', { name: 'Courage', alternates: ['Nerve'], note: 'Of Ann.' })),
    );
    await must(
      two.saveHeading(theme('t', { name: 'Bravery', alternates: ['Pluck'], note: 'Of Bea.' })),
    );
    await take(one, (await two.copyOut()).bytes, 'merge');
    const heading = journalIn(one).tables.headings.get('t' as HeadingId)!;
    const names = [heading.name, ...heading.alternates];
    expect(names.sort()).toEqual(['Bravery', 'Courage', 'Nerve', 'Pluck']);
    for (const words of ['Of Ann.', 'Of Bea.']) expect(heading.note).toContain(words);
  });

  it('joins a meeting item by item, whichever side takes the other’s copy, and only once', async () => {
    const [one, two] = await apart(entry('a'), entry('b'));
    const { id: circle } = await must(one.saveCircle({ name: 'Thursdays' }));
    const meeting = (first: Partial<MeetingItem>, ...more: MeetingItem[]): Omit<Meeting, 'id'> => ({
      circle: circle as CircleId,
      on: '2026-11-25',
      items: [{ entry: id('a'), used: true, ...first }, ...more],
    });
    const b = { entry: id('b'), used: false };
    const { id: m } = await must(one.saveMeeting(meeting({}, b)));
    const { bytes } = await one.copyOut();
    await take(two, bytes, 'merge');
    const save = (desk: DeskOver, as: Omit<Meeting, 'id'>): Promise<unknown> =>
      must(desk.saveMeeting({ ...as, id: m! }));
    await save(one, meeting({ note: 'Ours.' }, { ...b, used: true, went: 'well' }));
    await save(two, meeting({ note: 'Theirs.' }, b, { text: 'A walk', used: true }));
    const itemsIn = (desk: DeskOver): MeetingItem[] =>
      journalIn(desk).tables.meetings.get(m!)!.items;
    await swap(one, two);
    const once = rows(journalIn(one));
    for (const desk of [one, two]) {
      const [first, ...others] = itemsIn(desk);
      for (const words of ['Ours.', 'Theirs.']) expect(first!.note).toContain(words);
      expect(others).toEqual([
        { entry: 'b', used: true, went: 'well' },
        { text: 'A walk', used: true },
      ]);
    }
    await swap(one, two);
    expect(rows(journalIn(one))).toBe(once);
  });

  it('keeps a guide composed differently on both sides twice, and only once more however often', async () => {
    const guide = (part: string): Guide => ({
      id: 'g' as Guide['id'],
      title: 'Thursday',
      shape: 'discussion',
      focus: { words: [], headings: [], entries: [] },
      minutes: 60,
      parts: [{ name: part, minutes: 60, items: [] }],
      made: '2024-03-14T10:00:00.000Z',
    });
    const [one, two] = await apart(entry('a'));
    await must(one.saveGuide(guide('Opening')));
    await must(two.saveGuide(guide('Beginning')));
    const copy = (await two.copyOut()).bytes;
    for (let n = 0; n < 3; n++) await take(one, copy, 'merge');
    const guides = [...journalIn(one).tables.guides.values()];
    expect(guides.map(({ title }) => title)).toEqual(['Thursday', 'Thursday (from the copy)']);
    expect(guides.map(({ parts }) => parts[0]!.name)).toEqual(['Opening', 'Beginning']);
  });

  it('loses no word that was written on either side, and entries come out the same', async () => {
    const where = fc.constantFrom('text', 'answer', 'title', 'probes', 'new');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.boolean(), fc.nat(1), where, fc.boolean()), { maxLength: 10 }),
        async (writings) => {
          const desks = await apart(entry('e0', { text: 'dark' }), entry('e1', { text: 'light' }));
          const words: string[] = [];
          for (const [n, [first, which, field, copy]] of writings.entries()) {
            const desk = desks[first ? 0 : 1];
            const word = `word${n}x`;
            words.push(word);
            const held = journalIn(desk).tables.entries.get(id(`e${which}`))!;
            const { added: _a, changed: _c, ...rest } = held;
            const more: Partial<Entry> =
              field === 'probes'
                ? { probes: [...(held.probes ?? []), word] }
                : {
                    [field]:
                      `${(held as unknown as Record<string, string>)[field] ?? ''} ${word}`.trim(),
                  };
            await must(desk.saveEntry(field === 'new' ? draft(word) : { ...rest, ...more }));
            if (copy) await desk.copyOut();
          }
          await swap(...desks);
          for (const desk of desks) {
            const all = rows(journalIn(desk));
            for (const word of words) expect(all).toContain(word);
          }
          expect(saidIn(desks[0])).toEqual(saidIn(desks[1]));
        },
      ),
      { numRuns: 60 },
    );
  }, 60_000);
});

describe('pictures', () => {
  const png = new Uint8Array([0x89, 0x50, 0x4e, 0x47, 1, 2, 3]);
  async function withPicture(): Promise<{ desk: DeskOver; digest: string; zip: ArrayBuffer }> {
    const { desk } = await opened(new MemoryStore());
    const digest = await desk.keepPicture(bufferOf(png), 'image/png');
    const picture = { digest, type: 'image/png', alt: 'A boat' };
    await must(desk.saveEntry(draft('See.', { id: id('a'), picture })));
    const copy = await desk.copyOut();
    expect(copy.name).toBe('my-reading-2026-11-25.bookweft.zip');
    expect(copy.type).toBe('application/zip');
    return { desk, digest, zip: copy.bytes };
  }
  const repacked = (
    zip: ArrayBuffer,
    change: (files: Record<string, Uint8Array>) => void,
  ): ArrayBuffer => {
    const files = unzipSync(new Uint8Array(zip));
    change(files);
    return bufferOf(zipSync(files));
  };

  it('travel with the copy in a zip and are there when it is opened', async () => {
    const { zip, digest } = await withPicture();
    const disk = new MemoryBytes();
    const { desk } = await opened(new DocumentStore(disk));
    await take(desk, zip, 'merge');
    const found = (await (await opened(new DocumentStore(disk))).desk.picture(digest))!;
    expect([...new Uint8Array(found.bytes)]).toEqual([...png]);
    expect(found.type).toBe('image/png');
  });

  it('that are not what their name says, or that no row names, are left out', async () => {
    const { zip, digest } = await withPicture();
    const other = new Uint8Array([1, 2, 3]);
    const unnamed = await sha256(other);
    const odd = repacked(zip, (files) => {
      files[`pictures/${digest}.png`] = other;
      files[`pictures/${unnamed}.png`] = other;
      files['../../elsewhere.png'] = other;
    });
    const store = new MemoryStore();
    const { desk } = await opened(store);
    expect(await take(desk, odd, 'merge')).toBe(
      'Put “My reading” in place; 1 damaged picture left out',
    );
    expect(await store.pictures()).toEqual([]);
    expect(journalIn(desk).tables.entries.size).toBe(1);
  });

  it('that were damaged on their way are left out and counted, with the journal whole', async () => {
    const { zip, digest } = await withPicture();
    const bytes = zipSync(unzipSync(new Uint8Array(zip)), { level: 0 });
    const at = bytes.findIndex((_, from) => png.every((byte, n) => bytes[from + n] === byte));
    expect(at).toBeGreaterThan(0);
    bytes[at + 5]! ^= 1;
    const { desk } = await opened(new MemoryStore());
    expect(await take(desk, bufferOf(bytes), 'merge')).toBe(
      'Put “My reading” in place; 1 damaged picture left out',
    );
    expect(await desk.picture(digest)).toBeUndefined();
    expect(journalIn(desk).tables.entries.size).toBe(1);
  });

  it('that cannot be kept are told in a sentence, with the journal unchanged', async () => {
    class Full extends MemoryStore {
      override async keepPicture(): Promise<void> {
        throw new NotKept('disk-full', 'the disk is full.');
      }
    }
    const { zip } = await withPicture();
    const { desk } = await opened(new Full());
    await desk.lookInto('copy', zip);
    expect(await desk.takeCopy('merge')).toEqual({
      ok: false,
      code: 'not-kept',
      said: 'The pictures of this copy could not be kept: the disk is full.',
    });
    expect(journalIn(desk).tables.entries.size).toBe(0);
  });
});

describe('a file that is no copy', () => {
  const sentence = /^[^\n]+[.!]$/;
  const look = async (bytes: ArrayBuffer): Promise<{ ok: boolean; said: string }> => {
    const { desk } = await opened(new MemoryStore());
    await desk.lookInto('good', fileOf(journalOf(entry('a'))));
    const looked = await desk.lookInto('notes.zip', bytes);
    // A refused file is not taken in place of the one looked into before.
    if (!looked.ok) expect((await desk.takeCopy('merge')).code).toBe('no-copy');
    return looked;
  };

  it('is refused with one sentence that names it', async () => {
    const bad: (Uint8Array | string)[] = [
      '',
      'Dear diary',
      '{"format": "other"}',
      '{"format": "bookweft-journal", "version": 99}',
      writeJournalFile(journalOf(entry('a'))).slice(0, -40),
      new Uint8Array([0xff, 0xfe, 0xfd]),
      new Uint8Array([0x50, 0x4b, 3, 4, 9, 9, 9]),
      zipSync({ 'readme.txt': strToU8('hello') }),
      zipSync({ 'journal.bookweft.json': strToU8('not json') }),
      zipSync({ 'journal.bookweft.json': new Uint8Array([0x7b, 0xff, 0xff]) }),
    ];
    for (const bytes of bad) {
      const looked = await look(bufferOf(bytes));
      expect(looked.ok).toBe(false);
      expect(looked.said).toMatch(sentence);
      expect(looked.said).toContain('notes.zip');
    }
  });

  it('that unpacks to far more than a journal holds is refused before it is unpacked', async () => {
    const bomb = zipSync(
      { 'journal.bookweft.json': new Uint8Array(200 * 1024 * 1024) },
      { level: 6 },
    );
    expect(bomb.length).toBeLessThan(1024 * 1024);
    const before = process.memoryUsage().arrayBuffers;
    const looked = await look(bufferOf(bomb));
    expect(looked.said).toBe(
      'notes.zip could not be read: it would unpack to far more than a journal holds.',
    );
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(50 * 1024 * 1024);
  });

  it('that was damaged on its way is refused, or is what was saved to the letter', async () => {
    const { desk } = await opened(new MemoryStore());
    const texts = Array.from({ length: 40 }, (_, at) =>
      entry(`e${at}`, { text: `${at} ships, ${at * 7919} miles and ${at * 104729} gulls` }),
    );
    const text = writeJournalFile(journalOf(...texts));
    const zip = zipSync({ 'journal.bookweft.json': strToU8(text) });
    const saidThere = (bytes: Uint8Array): ReturnType<typeof lookInto> =>
      lookInto('notes.zip', bufferOf(bytes));
    const whole = await saidThere(zip);
    if (!whole.ok) throw new Error(whole.said);
    let refused = 0;
    for (let at = 0; at < zip.length; at += 3) {
      const flipped = zip.slice();
      flipped[at]! ^= 1 << (at % 8);
      const looked = await saidThere(flipped);
      if (looked.ok) expect(looked.found.print).toBe(whole.found.print);
      else refused += 1;
      // The directory at the end may come to say that there is very much of it.
      if (!looked.ok && at < zip.length - 100) expect(looked.said).not.toContain('far more');
    }
    // A flip in the middle, where the text lies packed.
    zip[zip.length >> 1]! ^= 4;
    const said = 'notes.zip could not be read: it is damaged; open an earlier copy.';
    expect((await desk.lookInto('notes.zip', bufferOf(zip))).said).toBe(said);
    expect(refused).toBeGreaterThan(zip.length / 6);
  });

  it('that says it unpacks to little and does not is refused as well', async () => {
    const bomb = zipSync(
      { 'journal.bookweft.json': new Uint8Array(64 * 1024 * 1024).fill(32) },
      { level: 6 },
    );
    const view = new DataView(bomb.buffer, bomb.byteOffset, bomb.byteLength);
    // The size unpacked stands in the local header (byte 22) and in the central directory (byte 24); .ZIP appnote 4.3.
    view.setUint32(22, 10, true);
    for (let at = 0; at < bomb.length - 4; at++) {
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 10, true);
    }
    const before = process.memoryUsage().arrayBuffers;
    expect((await look(bufferOf(bomb))).ok).toBe(false);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(50 * 1024 * 1024);
  });

  it('is never a reason to fail otherwise, whatever its bytes', async () => {
    const { desk } = await opened(new MemoryStore());
    const zip = zipSync({
      'journal.bookweft.json': strToU8(writeJournalFile(journalOf(entry('a')))),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(
          fc.uint8Array(),
          fc.tuple(fc.nat(), fc.nat(255)).map(([at, value]) => {
            const changed = zip.slice();
            changed[at % zip.length] = value;
            return changed;
          }),
          fc.nat().map((length) => zip.slice(0, length % zip.length)),
        ),
        async (bytes) => {
          const looked = await desk.lookInto('notes.zip', bufferOf(bytes));
          if (!looked.ok) expect(looked.said).toMatch(sentence);
        },
      ),
      { numRuns: 400 },
    );
  });
});

describe('beginning', () => {
  it('an empty journal keeps its name before the first entry', async () => {
    const disk = new MemoryBytes();
    const { desk } = await opened(new DocumentStore(disk));
    expect((await desk.totals()).empty).toBe(true);
    expect(await desk.begin('empty', ' Kitchen table ')).toEqual({
      ok: true,
      said: 'Kitchen table is begun',
    });
    expect((await desk.totals()).empty).toBe(false);
    const again = await opened(new DocumentStore(disk));
    expect(await again.desk.totals()).toMatchObject({
      name: 'Kitchen table',
      empty: false,
      entries: 0,
    });
    expect((await again.desk.begin('empty', 'Other')).code).toBe('begun');
    expect((await again.desk.totals()).name).toBe('Kitchen table');
  });

  it('the demo is the journal of its file, and one undo takes it back', async () => {
    const disk = new MemoryBytes();
    const from = journalOf(theme('t'), entry('a', { ties: [tieTo('t')] }));
    from.name = 'Harbour Lane';
    const demo = async (): Promise<string> => writeJournalFile(from);
    const { desk } = await opened(new DocumentStore(disk), { demo });
    expect(await desk.begin('demo')).toEqual({ ok: true, said: 'Harbour Lane is open' });
    expect(rows(journalIn(desk))).toBe(rows(from));
    expect(rows((await readAll(new DocumentStore(disk))).journal)).toBe(rows(from));
    await must(desk.undo());
    expect(await desk.totals()).toMatchObject({ entries: 0, headings: 0, empty: false });
  });

  it('tells what is wrong with a demo that cannot be read', async () => {
    const { desk } = await opened(new MemoryStore(), { demo: async () => '{' });
    expect(await desk.begin('demo')).toMatchObject({ ok: false });
    expect((await desk.totals()).empty).toBe(true);
  });

  const path = 'demo-data/harbour-lane.bookweft.json';
  it.skipIf(!existsSync(path))(
    'the demo that comes with Bookweft opens, is kept and reads the same',
    async () => {
      const text = readFileSync(path, 'utf8');
      const disk = new MemoryBytes();
      const { desk } = await opened(new DocumentStore(disk), { demo: async () => text });
      await must(desk.begin('demo'));
      const there = rows(readFile(bufferOf(text)));
      expect(rows(journalIn(desk))).toBe(there);
      expect(rows((await readAll(new DocumentStore(disk))).journal)).toBe(there);
    },
  );
});
