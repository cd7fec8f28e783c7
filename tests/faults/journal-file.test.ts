import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJournalFile, writeJournalFile } from '../../src/journal/file';
import { emptyJournal } from '../../src/journal/journal';
import { apply } from '../../src/journal/edits';
import { putHeading, tieEntries } from '../../src/journal/make-edits';
import { resolveHeading } from '../../src/journal/names';
import type { Entry, EntryId, HeadingId, ThemeHeading } from '../../src/journal/records';
import { entriesTiedTo } from '../../src/journal/uses';
import { arbitraryJournal } from '../unit/journal/arbitrary-journal';
import { entry, journalOf, theme, tieTo } from '../unit/journal/few';

const HEAD =
  '"format":"bookweft-journal","version":1,"id":"j","name":"J","made":"2024-01-01T00:00:00Z"';
const sound = (): string =>
  writeJournalFile(journalOf(entry('e1', { ties: [tieTo('t1')] }), theme('t1')));

/** The code a file is refused with; its message must be one plain sentence or two. */
function codeOf(text: string): string {
  const result = readJournalFile(text);
  if (result.ok) return 'read';
  expect(result.message).toMatch(/^[A-Z“].*[.?]$/s);
  expect(result.message.length).toBeLessThan(400);
  return result.code;
}

describe('a file that is no journal', () => {
  it.each([
    ['', 'empty-file'],
    [' \n\t', 'empty-file'],
    ['\ufeff', 'empty-file'],
    ['hello', 'not-json'],
    ['\u0000\u0001', 'not-json'],
    ['null', 'not-json'],
    ['[]', 'not-json'],
    ['{}', 'not-a-journal'],
    ['{"format":"other"}', 'not-a-journal'],
    ['{"format":"bookweft-journal"}', 'bad-version'],
    ['{"format":"bookweft-journal","version":"1"}', 'bad-version'],
    ['{"format":"bookweft-journal","version":-1}', 'bad-version'],
    ['{"format":"bookweft-journal","version":0.5}', 'bad-version'],
    ['{"format":"bookweft-journal","version":1}', 'bad-journal'],
    [`{${HEAD},"entries":{}}`, 'bad-journal'],
    [`{${HEAD},"entries":[,]}`, 'not-json'],
    [`{${HEAD}}}`, 'not-json'],
  ])('%j is refused as %s', (text, code) => {
    expect(codeOf(text)).toBe(code);
  });

  it('of a newer version is refused with what to do about it', () => {
    const result = readJournalFile(sound().replace('"version": 1', '"version": 2'));
    expect(result).toMatchObject({ ok: false, code: 'newer-version' });
    expect(!result.ok && result.message).toMatch(/newer Bookweft.*Update/);
  });

  it('is read with a byte order mark', () => {
    expect(codeOf(`\ufeff${sound()}`)).toBe('read');
  });
});

describe('a damaged file', () => {
  it('cut anywhere is told to be cut short', () => {
    const text = sound();
    for (let length = 1; length < text.trimEnd().length; length++) {
      expect([length, codeOf(text.slice(0, length))]).toEqual([length, 'cut-short']);
    }
  });

  it('with a quotation mark among backslashes is not mistaken', () => {
    const text = '\\"}]\\\\" \\';
    expect(codeOf(writeJournalFile(journalOf(entry('e', { text, title: `${text}\\` }))))).toBe(
      'read',
    );
  });

  it('with any stretch overwritten or taken out never throws', () => {
    fc.assert(
      fc.property(
        arbitraryJournal().map(writeJournalFile),
        fc.nat(),
        fc.nat(40),
        fc.string({ maxLength: 20 }),
        (text, at, length, instead) => {
          const from = at % text.length;
          codeOf(text.slice(0, from) + instead + text.slice(from + length));
        },
      ),
      { numRuns: 500 },
    );
  });

  it('of any JSON in place of any table or row never throws', () => {
    const table = fc.constantFrom(
      'entries',
      'headings',
      'guides',
      'meetings',
      'challenges',
      'lists',
    );
    fc.assert(
      fc.property(
        table,
        fc.jsonValue(),
        fc.boolean(),
        fc.integer({ min: 0, max: 1 }),
        (name, value, row, version) => {
          const json = JSON.stringify(row ? [value] : value);
          codeOf(`{${HEAD.replace('"version":1', `"version":${version}`)},"${name}":${json}}`);
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('a row of the wrong type', () => {
  it.each([
    [{ text: 7 }],
    [{ kind: 'poem' }],
    [{ kind: '__proto__' }],
    [{ kind: { toString: 1 } }],
    [{ ties: {} }],
    [{ ties: [null] }],
    [{ ties: [{ heading: 't1', role: 'near', by: 'reader' }] }],
    [{ probes: 'one' }],
    [{ minutes: '5' }],
    [{ id: '' }],
    [{ id: 'x'.repeat(201) }],
    [{ lesson: [] }],
    [{ title: null }],
    [{ text: 'x'.repeat(1_000_001) }],
  ])('%o refuses the file', (wrong) => {
    const rows = JSON.stringify([{ ...entry('e1'), ...wrong }]);
    expect(codeOf(`{${HEAD},"entries":${rows}}`)).toBe('bad-row');
  });

  it('is told with its table, field and row', () => {
    const rows = JSON.stringify([entry('e1'), { ...entry('e2'), probes: ['a', 7] }]);
    const result = readJournalFile(`{${HEAD},"entries":${rows}}`);
    expect(!result.ok && result.message).toMatch(/probes\/1 in entries.*row 2/);
  });

  it.each(['null', '7', '"x"', '[]', '{}'])('%s instead of a row refuses the file', (row) => {
    for (const table of ['entries', 'headings', 'meetings', 'declined']) {
      expect(codeOf(`{${HEAD},"${table}":[${row}]}`)).toBe('bad-row');
    }
  });

  it('of one id twice refuses the file', () => {
    const rows = JSON.stringify([entry('e1'), entry('e1', { text: 'Another' })]);
    expect(codeOf(`{${HEAD},"entries":${rows}}`)).toBe('duplicate-id');
  });
});

describe('a hostile file', () => {
  it('of depth 100,000 is refused, in brackets or in braces, known field or unknown', () => {
    const deep = 100_000;
    const lists = '['.repeat(deep) + ']'.repeat(deep);
    const records = '{"a":'.repeat(deep) + '1' + '}'.repeat(deep);
    for (const value of [lists, records]) {
      expect(codeOf(`{${HEAD},"later":${value}}`)).toBe('too-deep');
      expect(codeOf(`{${HEAD},"entries":${value}}`)).toBe('too-deep');
    }
    expect(codeOf('{"a":'.repeat(deep))).toBe('too-deep');
  });

  it('with __proto__ fields is read without them, which is told, and changes no prototype', () => {
    const hostile = '"__proto__":{"polluted":true},"constructor":{"prototype":{"polluted":true}}';
    const row = JSON.stringify(entry('e1')).slice(0, -1);
    const text = `{${HEAD},${hostile},"later":{"\\u005f_proto__":[]},"entries":[${row},${hostile},"ties":[]}]}`;
    const result = readJournalFile(text);
    if (!result.ok) throw new Error(result.message);
    expect(result.problems).toMatchObject([{ code: 'hostile-name' }]);
    expect(result.problems[0]?.message).toContain('3 times');
    const e1 = result.journal.tables.entries.get('e1') as Entry;
    expect(Object.getPrototypeOf(e1)).toBe(Object.prototype);
    expect('polluted' in e1 || 'polluted' in {}).toBe(false);
    expect(Object.hasOwn(e1, '__proto__')).toBe(false);
    expect(Object.hasOwn(result.journal.unknown?.later as object, '__proto__')).toBe(false);
    const saved = writeJournalFile(result.journal);
    expect(saved).not.toContain('__proto__');
    expect(saved).toContain('"constructor"');
    expect(codeOf(saved)).toBe('read');
  });

  it('with hostile words as ids is an ordinary journal', () => {
    const rows = ['__proto__', 'constructor', 'toString'].map((id) => theme(id));
    const result = readJournalFile(
      writeJournalFile(journalOf(...rows, entry('hasOwnProperty', { ties: [tieTo('__proto__')] }))),
    );
    if (!result.ok) throw new Error(result.message);
    expect(result.problems).toEqual([]);
    expect([...entriesTiedTo(result.journal, '__proto__' as HeadingId)]).toEqual([
      'hasOwnProperty',
    ]);
  });

  it('of 200 MB is answered, whatever it is filled with', () => {
    const size = 200_000_000;
    const fill = (piece: string): string => piece.repeat(Math.floor(size / piece.length));
    expect(codeOf(fill(' '))).toBe('empty-file');
    expect(codeOf(fill('x'))).toBe('not-json');
    expect(codeOf(`{${fill('[')}`)).toBe('too-deep');
    expect(codeOf(`{"a":[${fill('[],')}0]}`)).toBe('too-many-values');
    expect(codeOf(`{"a":"${fill('\\"')}`)).toBe('cut-short');
    expect(codeOf(`{"a":"${fill('\\')}`)).toBe('cut-short');
    const row = JSON.stringify(entry('e1')).replace('Text of e1', fill('x'));
    expect(codeOf(`{${HEAD},"entries":[${row}]}`)).toBe('bad-row');
  }, 120_000);

  it('is refused above the largest size', () => {
    expect(codeOf(' '.repeat(500_000_001))).toBe('file-too-large');
  });
});

describe('a file with faults that can be mended', () => {
  it('is read as it stands, each fault told and nothing dropped', () => {
    const file = journalOf(
      entry('e1', { ties: [tieTo('nowhere'), tieTo('t1')], written: 'long ago', minutes: -3 }),
      theme('t1', { broader: ['gone' as HeadingId] }),
    );
    const text = writeJournalFile(file);
    const result = readJournalFile(text);
    if (!result.ok) throw new Error(result.message);
    expect(result.problems.map(({ path, code }) => `${path} ${code}`).sort()).toEqual([
      'entries/e1/minutes out-of-range',
      'entries/e1/ties/0/heading missing-heading',
      'entries/e1/written bad-date',
      'headings/t1/broader/0 missing-heading',
    ]);
    expect(writeJournalFile(result.journal)).toBe(text);
    const edit = tieEntries(
      result.journal,
      ['e1' as EntryId],
      tieTo('t1', { role: 'for' }),
      '2026-01-01T00:00:00Z',
    );
    expect(apply(result.journal, edit).ok).toBe(true);
  });

  it('with very many faults tells a thousand of them', () => {
    const rows = Array.from({ length: 3000 }, (_, at) =>
      entry(`e${at}`, { ties: [tieTo('nowhere')] }),
    );
    const result = readJournalFile(writeJournalFile(journalOf(...rows)));
    expect(result.ok && result.problems.length).toBe(1000);
  });

  it('with lists longer than a call can take is answered like any other', () => {
    const many = Array.from({ length: 300_000 }, (_, at) => `t${at}` as HeadingId);
    const wide = journalOf(
      theme('t', { broader: many, alternates: many }),
      theme('u', { broader: ['t' as HeadingId] }),
    );
    const missing = readJournalFile(writeJournalFile(wide));
    expect(missing.ok && missing.problems.length).toBe(1000);
    if (!missing.ok) return;
    expect(resolveHeading(missing.journal, 'nothing of the kind')).toMatchObject({ ok: false });
    const u = missing.journal.tables.headings.get('u') as ThemeHeading;
    const edit = putHeading(missing.journal, { ...u, note: 'Changed' });
    expect(apply(missing.journal, edit).ok).toBe(true);
  });

  it('with a circle among themes at every step tells a thousand of them', () => {
    const id = (at: number): string => `t${at}`;
    const rows = Array.from({ length: 150_000 }, (_, at) =>
      theme(id(at), { broader: [id(at) as HeadingId] }),
    );
    const journal = emptyJournal('j', 'J', '2024-01-01T00:00:00Z');
    for (const row of rows) journal.tables.headings.set(row.id, row);
    const result = readJournalFile(writeJournalFile(journal));
    expect(result.ok && result.problems.length).toBe(1000);
    expect(result.ok && result.problems[0]?.code).toBe('circle-of-themes');
  });

  it('may leave out empty tables', () => {
    const result = readJournalFile(`{${HEAD}}`);
    expect(result).toMatchObject({ ok: true, problems: [] });
    expect(result.ok && result.journal).toEqual(emptyJournal('j', 'J', '2024-01-01T00:00:00Z'));
  });
});
