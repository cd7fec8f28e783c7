import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import schema from '../../../shared/journal.schema.json';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import {
  TABLES,
  type Entry,
  type Journal,
  type Records,
  type TableName,
} from '../../../src/journal/records';
import { checkAgainstSchema } from '../../../src/journal/schema';
import { shapeOf, type Shape, type Spec } from '../../../src/journal/shapes';
import { arbitraryJournal } from './arbitrary-journal';
import { book, entry, journalOf, person, theme, tieTo } from './few';

const read = (text: string): { journal: Journal; problems: unknown[]; migrated?: number } => {
  const result = readJournalFile(text);
  if (!result.ok) throw new Error(`${result.code}: ${result.message}`);
  return result;
};
/** Tables as plain lists in order of ids, without fields that hold undefined. */
const plain = (journal: Journal): unknown =>
  JSON.parse(
    JSON.stringify({
      ...journal,
      tables: Object.fromEntries(
        TABLES.map((table) => [
          table,
          [...(journal.tables[table] as Map<string, { id: string }>).values()].sort((a, b) =>
            a.id < b.id ? -1 : 1,
          ),
        ]),
      ),
    }),
  );

describe('saving then reading', () => {
  it('gives the same journal, unknown fields and all, and finds no fault', () => {
    fc.assert(
      fc.property(arbitraryJournal(), (journal) => {
        const text = writeJournalFile(journal);
        const result = read(text);
        expect(result.problems).toEqual([]);
        expect(plain(result.journal)).toEqual(plain(journal));
        expect(writeJournalFile(result.journal)).toBe(text);
      }),
      { numRuns: 200 },
    );
  });

  it('writes the same text in whatever order rows and fields came', () => {
    const a = { ...entry('a', { title: 'A' }), zeta: { y: 1, x: 2 }, beta: 3 } as Entry;
    const turned = Object.fromEntries(Object.entries(a).reverse()) as unknown as Entry;
    const other = { ...turned, zeta: { x: 2, y: 1 } } as Entry;
    expect(writeJournalFile(journalOf(entry('b'), other))).toBe(
      writeJournalFile(journalOf(a, entry('b'))),
    );
  });

  it('puts each row on a line of its own', () => {
    const one = writeJournalFile(journalOf(entry('a'), entry('b'))).split('\n');
    const two = writeJournalFile(journalOf(entry('a', { text: 'Other' }), entry('b'))).split('\n');
    expect(one.filter((line, at) => line !== two[at])).toHaveLength(1);
  });

  it('keeps text of every script, line ends and half surrogates', () => {
    const text = 'Zoë “—” 日本 😀 \u2028 \r\n\t\u0000 \ud800';
    expect(
      read(writeJournalFile(journalOf(entry('a', { text })))).journal.tables.entries.get('a')?.text,
    ).toBe(text);
  });
});

describe('a file of version 0', () => {
  it('gets roles on its ties and says that it was migrated', () => {
    const tie = (heading: string) => ({ heading });
    const file = {
      format: 'bookweft-journal',
      version: 0,
      id: 'j',
      name: 'Old',
      made: '2020-01-01T00:00:00Z',
      headings: [book('b'), person('p'), theme('t')],
      entries: [
        { ...entry('q', { kind: 'quote' }), ties: [tie('b'), tie('p'), tie('t')] },
        { ...entry('n'), ties: [tie('b')], extra: 1 },
      ],
    };
    const result = read(JSON.stringify(file));
    expect(result).toMatchObject({ migrated: 0, problems: [] });
    const roles = (id: string) =>
      result.journal.tables.entries.get(id)?.ties.map(({ role, by }) => `${role} ${by}`);
    expect(roles('q')).toEqual(['from reader', 'by reader', 'about reader']);
    expect(roles('n')).toEqual(['about reader']);
    expect(result.journal.tables.entries.get('n')).toHaveProperty('extra', 1);
    expect(JSON.parse(writeJournalFile(result.journal))).toHaveProperty('version', 1);
  });
});

type Node = {
  description?: string;
  properties?: Record<string, Node>;
  required?: string[];
  items?: Node;
  $ref?: string;
  type?: string;
  const?: unknown;
};
const defs = schema.$defs as unknown as Record<string, Node>;
const resolved = (node: Node): Node =>
  node.$ref ? (defs[node.$ref.replace('#/$defs/', '')] ?? {}) : node;

/** Compares a definition of the schema with the shape the program checks by, field for field. */
function compare(node: Node, shape: Shape, at: string): void {
  expect([at, Object.keys(node.properties ?? {}).sort()]).toEqual([
    at,
    shape.fields.map(({ name }) => name).sort(),
  ]);
  const needed = shape.fields.filter(({ must }) => must).map(({ name }) => name);
  expect([at, [...(node.required ?? [])].sort()]).toEqual([at, needed.sort()]);
  for (const { name, spec } of shape.fields)
    compareSpec(node.properties?.[name] ?? {}, spec, `${at}/${name}`);
}
function compareSpec(from: Node, spec: Spec, at: string): void {
  const node = resolved(from);
  if (spec.is === 'list') {
    expect([at, node.type]).toEqual([at, 'array']);
    compareSpec(node.items ?? {}, spec.of, `${at}/*`);
  } else if (spec.is === 'record') compare(node, spec.shape, at);
}

describe('the schema', () => {
  const ROWS: [TableName, string, object][] = [
    ...TABLES.filter((table) => table !== 'headings').map((table): [TableName, string, object] => {
      const items = (schema.properties as unknown as Record<string, Node>)[table]?.items;
      return [table, items?.$ref?.replace('#/$defs/', '') ?? '', {}];
    }),
    ['headings', 'book', { kind: 'book' }],
    ['headings', 'theme', { kind: 'theme' }],
    ['headings', 'person', { kind: 'person' }],
  ];

  it.each(ROWS)('has the same fields as the program for %s (%s)', (table, name, row) => {
    const shape = shapeOf(table, row as Records[typeof table]);
    expect(shape).toBeDefined();
    if (shape) compare(defs[name] ?? {}, shape, name);
  });

  it('describes every record and every field', () => {
    const bare: string[] = [];
    const walk = (node: Node, at: string): void => {
      if (!node.description) bare.push(at);
      for (const [name, child] of Object.entries(node.properties ?? {}))
        walk(child, `${at}/${name}`);
      if (node.items) walk(node.items, `${at}/*`);
    };
    walk(schema as unknown as Node, '');
    for (const [name, node] of Object.entries(defs)) walk(node, name);
    expect(bare).toEqual([]);
  });

  it('accepts every file the program writes', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryJournal(), async (journal) => {
        expect(await checkAgainstSchema(JSON.parse(writeJournalFile(journal)))).toEqual([]);
      }),
    );
  });

  it('refuses broken files, and says where', async () => {
    const broken = async (
      alter: (
        file: Record<string, unknown> & {
          entries: Record<string, unknown>[];
          headings: Record<string, unknown>[];
        },
      ) => void,
    ) => {
      const file = JSON.parse(
        writeJournalFile(journalOf(entry('e', { ties: [tieTo('t')] }), theme('t'))),
      );
      alter(file);
      return (await checkAgainstSchema(file)).map(({ path, code }) => `${path} ${code}`);
    };
    expect(await broken(() => undefined)).toEqual([]);
    expect(await broken((file) => delete file.id)).toEqual([' schema-required']);
    expect(await broken((file) => (file.version = 2))).toEqual(['version schema-const']);
    expect(await broken((file) => (file.entries[0]!.text = 7))).toEqual([
      'entries/0/text schema-type',
    ]);
    expect(await broken((file) => (file.entries[0]!.kind = 'poem'))).toEqual([
      'entries/0/kind schema-enum',
    ]);
    expect(await broken((file) => (file.entries[0]!.added = 'today'))).toContain(
      'entries/0/added schema-format',
    );
    expect(await broken((file) => (file.entries[0]!.ties = [{ heading: 't' }]))).toContain(
      'entries/0/ties/0 schema-required',
    );
    expect(await broken((file) => delete file.headings[0]!.broader)).toEqual([
      'headings/0 schema-required',
    ]);
    expect(await broken((file) => (file.headings[0]!.kind = 'place'))).toContain(
      'headings/0/kind schema-enum',
    );
    expect(await checkAgainstSchema(null)).toMatchObject([{ path: '', code: 'schema-type' }]);
  });

  it('is broken by what the program refuses to read for its type', async () => {
    const file = JSON.parse(
      writeJournalFile(journalOf(entry('e', { ties: [tieTo('t')] }), theme('t'))),
    );
    const values = [null, 7, 'x', [], {}, [7], true];
    for (const [table, fields] of [
      ['entries', Object.keys(file.entries[0])],
      ['headings', Object.keys(file.headings[0])],
    ] as const) {
      for (const field of fields) {
        for (const value of values) {
          const altered = structuredClone(file);
          altered[table][0][field] = value;
          const result = readJournalFile(JSON.stringify(altered));
          if (result.ok) continue;
          const found = await checkAgainstSchema(altered);
          expect([table, field, value, found.length > 0]).toEqual([table, field, value, true]);
        }
      }
    }
  });
});
