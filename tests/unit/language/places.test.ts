import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meet, Places, printOfId, StoredIds } from '../../../src/language/places';

const NAMES = ['a', 'b', 'c', 'd', 'e', 'f'];
const id = fc.constantFrom(...NAMES);
const edit = fc.oneof(
  fc.record({ does: fc.constant('set' as const), id, place: fc.nat(9) }),
  fc.record({ does: fc.constant('delete' as const), id, place: fc.constant(0) }),
);
const storedOf = (ids: readonly string[]): StoredIds =>
  new StoredIds(Float64Array.from(ids, printOfId));

describe('places over stored ids', () => {
  it('are those of a plain map of what was met again, whatever is altered since, and leave what is stored as it was', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(id),
        fc.uniqueArray(id),
        fc.array(edit, { maxLength: 12 }),
        (stored, standing, edits) => {
          const met = stored.map((one) => (standing.includes(one) ? one : undefined));
          const list = meet(storedOf(stored), met);
          const places = new Places(list.places);
          const plain = new Map(
            met.flatMap((one, at): [string, number][] => (one === undefined ? [] : [[one, at]])),
          );
          const before = NAMES.map((one) => list.places.placeOf(one));
          for (const { does, id, place } of edits) {
            if (does === 'set') {
              places.set(id, place);
              plain.set(id, place);
            } else {
              places.delete(id);
              plain.delete(id);
            }
          }
          expect(places.size).toBe(plain.size);
          for (const one of NAMES) {
            expect(places.get(one)).toBe(plain.get(one));
            expect(places.has(one)).toBe(plain.has(one));
          }
          expect(NAMES.map((one) => list.places.placeOf(one))).toEqual(before);
        },
      ),
    );
  });

  it('find each of many ids that hardly differ, and none that is not stored', () => {
    const ids = Array.from(
      { length: 20_000 },
      (_, at) => `0190a000-0000-7000-9000-${at.toString(16).padStart(12, '0')}`,
    );
    const places = storedOf(ids);
    expect(ids.map((one) => places.placeOf(one))).toEqual([...ids.keys()]);
    expect(ids.filter((one) => places.placeOf(`${one}0`) !== undefined)).toEqual([]);
  });
});
