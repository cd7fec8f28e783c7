import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { runInNewContext } from 'node:vm';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { tableOf } from '../../src/gather/readers/table';
import { readFile } from '../../src/gather/read-file';
import { Watch } from '../../src/gather/readers/tools/watch';

const find = createRequire(import.meta.url);
const folderOf = (name: string): string => dirname(find.resolve(`${name}/package.json`));

const cells = async (text: string): Promise<string[][]> => (await tableOf(text, new Watch())).rows;

/** Rows that hold something; an empty last line is no row. */
const filled = (rows: readonly string[][]): string[][] =>
  rows.filter((row) => row.some((cell) => cell !== ''));

/** RFC 4180 section 2, the example of each of its seven rules, CRLF written out. */
describe('the examples of RFC 4180', () => {
  test.each([
    ['1: each record on a line', 'aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['2: no break after the last', 'aaa,bbb,ccc\r\nzzz,yyy,xxx', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['3: a line of names', 'field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n', [['field_name', 'field_name', 'field_name'], ['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['4: commas part fields', 'aaa,bbb,ccc', [['aaa', 'bbb', 'ccc']]],
    ['5: fields in quotation marks', '"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['6: a break inside a field', '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [['aaa', 'b\r\nbb', 'ccc'], ['zzz', 'yyy', 'xxx']]],
    ['7: a quotation mark doubled', '"aaa","b""bb","ccc"', [['aaa', 'b"bb', 'ccc']]],
  ])('rule %s', async (_, text, expected) => {
    expect(filled(await cells(text))).toEqual(expected);
  }); // prettier-ignore
});

/** The package csv-spectrum 2.0.0 by Max Ogden: hard tables, each with what is to be read from it. */
describe('csv-spectrum', () => {
  const folder = folderOf('csv-spectrum');
  const files = readdirSync(join(folder, 'csvs'));

  test('has its twelve tables', () => expect(files).toHaveLength(12));

  test.each(files)('%s', async (name) => {
    const text = readFileSync(join(folder, 'csvs', name), 'utf8');
    const json = readFileSync(join(folder, 'json', `${basename(name, '.csv')}.json`), 'utf8');
    const breaks = (values: string): string => values.replaceAll('\\r\\n', '\\n');
    const value = JSON.parse(breaks(json)) as Record<string, string> | Record<string, string>[];
    // Of one row the package gives the row alone.
    const expected = Array.isArray(value) ? value : [value];
    const [names = [], ...rows] = filled(await cells(text));
    const read = rows.map((row) =>
      Object.fromEntries(names.map((column, at) => [column, row[at] ?? ''])),
    );
    // Both versions of a line break stand for one.
    const own = JSON.parse(breaks(JSON.stringify(read))) as Record<string, string>[];
    // In version 2.0.0 the telephone number was changed on one side only.
    if (name === 'location_coordinates.csv')
      for (const row of [...own, ...expected]) delete row['Contact Phone Number'];
    expect(own).toEqual(expected);
  });
});

interface PapaCase {
  description: string;
  input: string;
  config?: Record<string, unknown>;
  expected: { data: string[][]; errors: unknown[] };
  disabled?: boolean;
}

/** Cases of papaparse 5.7.1's own suite that set no more than a delimiter of ours: its core parser's and its automatic one's. */
describe('papaparse’s own tests', () => {
  const folder = join(folderOf('papaparse'), 'tests');
  const context: Record<string, unknown> = {
    Papa,
    chai: { assert: {} },
    describe: () => undefined,
    setTimeout,
  };
  const source = readFileSync(join(folder, 'test-cases.js'), 'utf8');
  // What comes after the lists of cases runs them, and needs a browser.
  runInNewContext(source.slice(0, source.indexOf('var PARSE_ASYNC_TESTS')), context);
  const all = [
    ...(context['CORE_PARSER_TESTS'] as PapaCase[]),
    ...(context['PARSE_TESTS'] as PapaCase[]),
  ];
  const plain = all.filter(
    ({ config, input, expected }) =>
      Object.keys(config ?? {}).length === 0 &&
      typeof input === 'string' &&
      // Quoting that is broken may be mended in more than one way; that it is told is tried below.
      expected.errors.length === 0 &&
      // Separators nobody writes notes with.
      !/[\u001e\u001f]/.test(input),
  );

  test('are many', () => expect(plain.length).toBeGreaterThan(30));

  test.each(plain.map((each) => [each.description, each] as const))(
    '%s',
    async (_, { input, expected }) => {
      expect(filled(await cells(input))).toEqual(
        filled(JSON.parse(JSON.stringify(expected.data)) as string[][]),
      );
    },
  );

  const broken = all.filter(
    ({ config, expected }) =>
      Object.keys(config ?? {}).length === 0 &&
      (expected.errors as { type?: string }[]).some(({ type }) => type === 'Quotes'),
  );

  test.each(broken.map((each) => [each.description, each] as const))(
    'of broken quoting it is told: %s',
    async (_, { input }) => {
      expect((await tableOf(input, new Watch())).notes.join(' ')).toMatch(/quotation marks.*row/);
    },
  );

  test('broken quoting is among them', () => expect(broken.length).toBeGreaterThan(2));

  test('long-sample.csv has the rows its test names', async () => {
    const rows = filled(await cells(readFileSync(join(folder, 'long-sample.csv'), 'utf8')));
    expect(rows).toHaveLength(8);
    expect(rows[7]?.[2]).toBe('posuere.vulputate.lacus@Donecsollicitudin.example');
  });

  test('verylong-sample.csv has 2,001 rows, every two hundredth as its test names it', async () => {
    const rows = filled(await cells(readFileSync(join(folder, 'verylong-sample.csv'), 'utf8')));
    expect(rows).toHaveLength(2001);
    const each = [200, 400, 600, 800, 1000].map((number) => rows[number - 1]);
    const etiam = ['Etiam a dolor vitae est vestibulum', '84', 'DEF'];
    const lorem = ['Lorem ipsum dolor sit', '42', 'ABC'];
    expect(each).toEqual([etiam, etiam, lorem, etiam, etiam.slice(0, 2)]);
  });

  test('the mark of UTF-8 is no part of the first cell, in utf-8-bom-sample.csv', async () => {
    const bytes = new Uint8Array(readFileSync(join(folder, 'utf-8-bom-sample.csv')));
    for await (const { result } of readFile({ path: 'a.csv', bytes })) {
      expect(result.ok && result.notes).toEqual([]);
      expect(result.ok && result.blocks.map(({ text }) => text)).toEqual([
        'A · B · C',
        'X · Y · Z',
      ]);
    }
  });
});
