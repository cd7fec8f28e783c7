import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RoundedRows } from '../../../src/language/rounded-rows';

const WIDTH = 5;
const number = fc.double({ min: -10, max: 10, noNaN: true });
const row = fc.array(number, { minLength: WIDTH, maxLength: WIDTH });

describe('rows rounded to whole numbers of 8 bits', () => {
  it('are off by half a unit at most, in whatever order they are put down and again when stored', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(6), row), { minLength: 1 }), (puts) => {
        const rows = new RoundedRows(WIDTH);
        const plain = new Map<number, number[]>();
        for (const [at, numbers] of puts) {
          rows.put(at, numbers);
          plain.set(at, numbers);
        }
        const order = [...plain.keys(), -1];
        const again = RoundedRows.of(WIDTH, rows.pack(order));
        [...plain].forEach(([at, numbers], place) => {
          const off = Math.max(...numbers.map(Math.abs)) / 254 + 1e-6;
          rows.row(at).forEach((held, column) => {
            expect(Math.abs(held - numbers[column]!)).toBeLessThanOrEqual(off);
          });
          expect(again.row(place)).toEqual(rows.row(at));
        });
        expect([...again.row(plain.size)]).toEqual([0, 0, 0, 0, 0]);
      }),
    );
  });

  it('multiply and add up as the numbers they stand for', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 4 }), row, (given, by) => {
        const rows = new RoundedRows(WIDTH);
        given.forEach((numbers, at) => rows.put(at, numbers));
        const sum = new Float64Array(WIDTH);
        given.forEach((_, at) => rows.addTo(sum, at, 2));
        const products = rows.products(by, given.length);
        const stand = given.map((_, at) => [...rows.row(at)]);
        stand.forEach((held, at) => {
          const product = held.reduce((total, value, column) => total + value * by[column]!, 0);
          expect(products[at]).toBeCloseTo(product, 3);
        });
        for (let column = 0; column < WIDTH; column++)
          expect(sum[column]).toBeCloseTo(
            2 * stand.reduce((total, held) => total + held[column]!, 0),
            3,
          );
      }),
    );
  });
});
