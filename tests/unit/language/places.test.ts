import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { idList, Places } from '../../../src/language/places';

const id = fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f');
const edit = fc.oneof(
  fc.record({ does: fc.constant('set' as const), id, place: fc.nat(9) }),
  fc.record({ does: fc.constant('delete' as const), id, place: fc.constant(0) }),
);

describe('places over a stored list', () => {
  it('are those of a plain map, whatever is stored and altered since, and leave what is stored as it was', () => {
    fc.assert(
      fc.property(fc.uniqueArray(id), fc.array(edit, { maxLength: 12 }), (stored, edits) => {
        const { places: base } = idList(stored.join('\n'));
        const before = [...base];
        const [places, plain] = [new Places(base), new Map(base)];
        for (const { does, id, place } of edits) {
          if (does === 'set') {
            places.set(id, place);
            plain.set(id, place);
          } else {
            places.delete(id);
            plain.delete(id);
          }
        }
        expect([...places].sort()).toEqual([...plain].sort());
        expect(places.size).toBe(plain.size);
        for (const one of ['a', 'b', 'c', 'd', 'e', 'f']) {
          expect(places.get(one)).toBe(plain.get(one));
          expect(places.has(one)).toBe(plain.has(one));
        }
        expect([...base]).toEqual(before);
      }),
    );
  });

  it('tells a list apart in its order, once while it is the same', () => {
    const list = idList('x\ny\nz');
    expect(list.ids).toEqual(['x', 'y', 'z']);
    expect([...list.places]).toEqual([
      ['x', 0],
      ['y', 1],
      ['z', 2],
    ]);
    expect(idList('x\ny\nz')).toBe(list);
    expect(idList('').ids).toEqual([]);
    expect(idList('x\ny\nz')).not.toBe(list);
  });
});
