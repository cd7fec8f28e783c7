import { describe, expect, test } from 'vitest';
import { followed, plainBox, type Box } from '../../../src/publish/pdf/boxes';
import { columnsBox } from '../../../src/publish/pdf/columns';
import type { Ink } from '../../../src/publish/pdf/ink';
import { pagesOf } from '../../../src/publish/pdf/pages';

const STEP = 10;
const ROOM = 400;

interface Drawn {
  name: string;
  page: number;
  foot: number;
}

/** Lays two columns of passages, each of so many lines, and what follows them, and tells where every line went. */
function laid(passages: readonly number[], after?: number): { drawn: Drawn[]; pages: number } {
  const drawn: Drawn[] = [];
  let page = 0;
  const lines = (names: readonly string[]): Box => ({
    above: 0,
    height: names.length * STEP,
    draw: (_, y) =>
      names.forEach((name, at) => drawn.push({ name, page, foot: y + (at + 1) * STEP })),
    split(room) {
      const fits = Math.min(Math.floor(room / STEP), names.length - 2);
      return fits < 2 ? undefined : [lines(names.slice(0, fits)), lines(names.slice(fits))];
    },
  });
  const ink = { aside: (draw: () => void) => draw(), rule: () => undefined } as unknown as Ink;
  const boxes = passages.map((many, which) =>
    lines(Array.from({ length: many }, (_, at) => `${which}.${at}`)),
  );
  const pages = pagesOf(
    [
      ...followed([columnsBox(ink, boxes, 300, 20)], 24),
      ...(after
        ? [plainBox(after, (_, y) => drawn.push({ name: 'after', page, foot: y + after }))]
        : []),
    ],
    ROOM,
  );
  for (const one of pages) {
    for (const { box, y } of one) box.draw(0, y);
    page += 1;
  }
  return { drawn, pages: pages.length };
}

describe('passages in two columns', () => {
  test.each([[[45, 6]], [[60, 15]], [[70, 6]], [[6, 60]], [[100, 100]], [[41, 41, 41]]])(
    'of %j lines are all on the sheet, each line once',
    (passages) => {
      const { drawn } = laid(passages);
      const names = passages.flatMap((many, which) =>
        Array.from({ length: many }, (_, at) => `${which}.${at}`),
      );
      expect(drawn.map(({ name }) => name)).toEqual(names);
      expect(Math.max(...drawn.map(({ foot }) => foot))).toBeLessThanOrEqual(ROOM);
    },
  );

  test('that fill a page when cut bring no empty page, and what follows is overleaf', () => {
    expect(laid([70, 6]).pages).toBe(1);
    expect(laid([45, 6], 100).drawn.at(-1)).toEqual({ name: 'after', page: 1, foot: 100 });
  });
});
