import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry, Heading, Tie, TieRole } from '../../../src/journal/records';
import { LinkTable } from '../../../src/weave/links';
import { seeded } from '../../bench/many-entries';
import { entry, journalOf, theme, tieTo } from '../journal/few';

/** Every link that weighs something, by the ids at its ends, and how many entries are joined to each thing. */
function told(table: LinkTable, ids: readonly string[]): unknown {
  return ids.map((id) => {
    const node = table.nodeOf(id);
    if (node === undefined) return [id, 'not there'];
    const links: string[] = [];
    table.ready(node);
    for (let link = table.begin(node); link < table.end(node); link++) {
      const weight = table.weight(link);
      if (weight > 0) links.push(`${table.idOf(table.target(link))} ${weight.toFixed(9)}`);
    }
    return [id, table.spreadOf(node), links.sort()];
  });
}

function put(table: LinkTable, row: Entry | Heading): void {
  if ('ties' in row) table.put(row);
  else table.putHeading(row);
}

const HEADINGS = ['t0', 't1', 't2', 't3'];
const ENTRIES = ['e0', 'e1', 'e2', 'e3', 'e4'];
const ROLES: TieRole[] = ['about', 'for', 'from', 'by'];

const tie = fc
  .record({
    heading: fc.constantFrom(...HEADINGS),
    role: fc.constantFrom(...ROLES),
    chapter: fc.option(fc.constantFrom('1', '2'), { nil: undefined }),
  })
  .map(({ heading, role, chapter }): Tie =>
    tieTo(heading, { role, ...(chapter ? { place: { chapter } } : {}) }),
  );
const row = fc.oneof(
  fc
    .record({ id: fc.constantFrom(...ENTRIES), ties: fc.array(tie, { maxLength: 4 }) })
    .map(({ id, ties }) => entry(id, { ties })),
  fc
    .record({
      id: fc.constantFrom(...HEADINGS),
      broader: fc.subarray(HEADINGS, { maxLength: 2 }),
      related: fc.subarray(HEADINGS, { maxLength: 2 }),
    })
    .map(({ id, ...more }) => theme(id, more as Partial<Heading & { kind: 'theme' }>)),
);
const step = fc.oneof(
  { weight: 3, arbitrary: row },
  { weight: 1, arbitrary: fc.constantFrom(...HEADINGS, ...ENTRIES) },
);

describe('links that follow edits', () => {
  it('are those of a table made anew, whatever was put in, altered and taken out, in any order', () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 30 }), (steps) => {
        const followed = new LinkTable();
        const standing = new Map<string, Entry | Heading>();
        for (const one of steps) {
          if (typeof one === 'string') {
            followed.remove(one);
            standing.delete(one);
          } else {
            put(followed, one);
            standing.set(one.id, one);
          }
        }
        const anew = new LinkTable();
        for (const one of standing.values()) put(anew, one);
        const ids = [...HEADINGS, ...ENTRIES];
        expect(told(followed, ids)).toEqual(told(anew, ids));
      }),
      { numRuns: 400 },
    );
  });

  it('are so after thousands of edits too, when rows have outgrown their room again and again', () => {
    const random = seeded(5);
    const themes = Array.from({ length: 40 }, (_, at) => theme(`t${at}`));
    const anyTies = (): Tie[] =>
      themes.filter(() => random() < 0.2).map(({ id }) => tieTo(id, { role: 'about' }));
    const table = LinkTable.of(journalOf(...themes));
    const rows = new Map<string, Entry>();
    for (let edit = 0; edit < 12_000; edit++) {
      const id = `e${Math.floor(random() * 3000)}`;
      const one = entry(id, { ties: anyTies() });
      table.put(one);
      rows.set(id, one);
    }
    const anew = LinkTable.of(journalOf(...themes, ...rows.values()));
    const ids = [...themes.map(({ id }) => id), ...rows.keys()];
    expect(told(table, ids)).toEqual(told(anew, ids));
  });
});
