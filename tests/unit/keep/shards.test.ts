import { randomFillSync } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeIds } from '../../../src/journal/ids';
import { TABLES } from '../../../src/journal/records';
import {
  idTime,
  loadingOrder,
  monthOf,
  rolled,
  rolledId,
  ROLLS,
  shardOf,
  shardOfPart,
  tableOf,
} from '../../../src/keep/shards';

const idsAt = (time: number): (() => string) =>
  makeIds(
    () => time,
    (bytes) => void randomFillSync(bytes),
  );
const NOON = Date.UTC(2026, 10, 25, 12);

describe('the document of a row', () => {
  it('is told from the time in its id', () => {
    // The example of RFC 9562, appendix A.6: 22 February 2022, 19:22:22 UTC.
    const example = '017f22e2-79b0-7cc3-98c4-dc0c0c07398f';
    expect(idTime(example)).toBe(Date.UTC(2022, 1, 22, 19, 22, 22));
    expect(monthOf(example)).toBe('entries-2022-xx');
    expect(shardOf('entries', rolledId(example, 15))).toBe('entries-2022-02-15');
  });

  it('is one for each table of other rows', () => {
    for (const table of TABLES) {
      if (table === 'entries') continue;
      expect(shardOf(table, 'any')).toBe(`base-${table}`);
      expect(tableOf(shardOf(table, 'any'))).toBe(table);
    }
    expect(tableOf(shardOf('entries', idsAt(NOON)()))).toBe('entries');
  });

  it('is the month the id was made in and the number written into it', () => {
    for (let roll = 0; roll < ROLLS; roll++) {
      const id = rolledId(idsAt(NOON)(), roll);
      expect(shardOf('entries', id)).toBe(rolled('entries-2026-11', roll));
    }
  });

  it('is one of a bounded number, whatever ids come from elsewhere', () => {
    const shards = new Set<string>();
    for (let n = 0; n < 2000; n++) shards.add(shardOf('entries', `entry-${n}`));
    for (const id of fc.sample(fc.string({ unit: 'binary' }), 2000))
      shards.add(shardOf('entries', id));
    const byMonth = new Map<string, number>();
    for (const shard of shards)
      byMonth.set(shard.slice(0, -3), (byMonth.get(shard.slice(0, -3)) ?? 0) + 1);
    expect([...byMonth]).toEqual([['entries-0000-xx', ROLLS]]);
  });

  it('is one of 16 a year for ids made elsewhere, with few taken for this device’s own', () => {
    let time = NOON;
    const next = makeIds(
      () => time,
      (bytes) => void randomFillSync(bytes),
    );
    const shards = new Map<string, number>();
    for (let n = 0; n < 12_000; n++) {
      time += 2_600_000;
      const shard = shardOf('entries', next());
      shards.set(shard, (shards.get(shard) ?? 0) + 1);
    }
    const byYear = [...shards].filter(([shard]) => shard.includes('xx'));
    expect(byYear.length).toBe(2 * ROLLS);
    expect(byYear.reduce((sum, [, count]) => sum + count, 0)).toBeGreaterThan(11_800);
  });

  it('spreads odd ids evenly', () => {
    const counts = new Map<string, number>();
    for (let n = 0; n < 16_000; n++) {
      const shard = shardOf('entries', `entry-${n}`);
      counts.set(shard, (counts.get(shard) ?? 0) + 1);
    }
    expect(Math.max(...counts.values())).toBeLessThan(1500);
  });

  it('is not a month no reader can have written in', () => {
    // The largest time a UUIDv7 can hold is in the year 10889.
    expect(monthOf('ffffffff-ffff-7fff-bfff-ffffffffffff')).toBe('entries-0000-xx');
    expect(monthOf('00000000-0000-7000-8000-000000000000')).toBe('entries-1970-xx');
  });

  it('goes by the same part whether it lies alone or beside a broken one', () => {
    expect(shardOfPart('base-guides~~')).toBe('base-guides');
    expect(shardOfPart('entries-2026-11-03')).toBe('entries-2026-11-03');
  });
});

describe('ids with the number of their document', () => {
  it('stay unlike each other and rise, in one millisecond and over many', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(2), fc.nat(40)), { minLength: 2, maxLength: 60 }),
        (steps) => {
          let time = NOON;
          const next = makeIds(
            () => time,
            (bytes) => void randomFillSync(bytes),
          );
          const ids: string[] = [];
          for (const [later, roll] of steps) {
            time += later;
            ids.push(rolledId(next(), roll));
          }
          expect(new Set(ids).size).toBe(ids.length);
          expect([...ids].sort()).toEqual(ids);
        },
      ),
    );
  });

  it('stay unlike each other and rise over 20,000 made at one moment', () => {
    const next = idsAt(NOON);
    const ids = Array.from({ length: 20_000 }, (_, n) => rolledId(next(), Math.floor(n / 500)));
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.every((id, at) => at === 0 || id > ids[at - 1]!)).toBe(true);
  });

  it('leave ids of another make as they are', () => {
    expect(rolledId('entry-7', 3)).toBe('entry-7');
  });
});

describe('the order of loading', () => {
  it('is headings, then the other small tables, then entries with the newest month first', () => {
    const shards = [
      'entries-2024-01-00',
      'base-guides',
      'entries-2026-11-01',
      'base-headings',
      'entries-2026-11-00',
    ];
    expect(loadingOrder(shards)).toEqual([
      'base-headings',
      'base-guides',
      'entries-2026-11-01',
      'entries-2026-11-00',
      'entries-2024-01-00',
    ]);
  });
});
