import { describe, expect, test } from 'vitest';
import { kindOf, sectionOf } from '../../../src/gather/kinds';
import type { Block } from '../../../src/gather/block';
import type { EntryKind } from '../../../src/journal/records';
import type { Certainty } from '../../../src/language/certainty';
import labelled from './labelled-pieces.json';
import tuning from './tuning-pieces.json';

interface Labelled {
  kind: string;
  text: string;
  as?: string;
  under?: string[];
}

interface Outcome {
  piece: Labelled;
  kind: EntryKind;
  certainty: Certainty;
}

function sorted(pieces: readonly Labelled[]): Outcome[] {
  return pieces.map((piece) => {
    const section = (piece.under ?? []).flatMap((heading) => sectionOf(heading) ?? []).at(-1);
    const as = (piece.as ?? 'paragraph') as Block['as'];
    return { piece, ...kindOf({ text: piece.text, as, ...(section ? { section } : {}) }) };
  });
}

const CERTAIN: readonly Certainty[] = ['sure', 'likely', 'guess'];

/** How many pieces were called so certain, and how many of them rightly. */
function table(outcomes: readonly Outcome[]): Record<Certainty, { of: number; right: number }> {
  const rows = {
    sure: { of: 0, right: 0 },
    likely: { of: 0, right: 0 },
    guess: { of: 0, right: 0 },
  };
  for (const { piece, kind, certainty } of outcomes) {
    rows[certainty].of += 1;
    if (piece.kind === kind) rows[certainty].right += 1;
  }
  return rows;
}

function print(name: string, rows: ReturnType<typeof table>): void {
  const lines = CERTAIN.map((certainty) => {
    const { of, right } = rows[certainty];
    const share = of === 0 ? '-' : `${((100 * right) / of).toFixed(1)}%`;
    return `${certainty.padEnd(8)}${String(of).padStart(5)}${String(right).padStart(7)}  ${share}`;
  });
  console.log([name, 'called     of  right', ...lines].join('\n'));
}

describe('how sure the program says it is of a kind', () => {
  test('on pieces kept apart from tuning, sure is right at least 97 times in 100 and likely at least 85', () => {
    expect(labelled.length).toBeGreaterThanOrEqual(400);
    const rows = table(sorted(labelled));
    print('Pieces kept apart', rows);
    expect(rows.sure.right / rows.sure.of).toBeGreaterThanOrEqual(0.97);
    expect(rows.likely.right / rows.likely.of).toBeGreaterThanOrEqual(0.85);
    // Being sure of nothing would be honest and of no use.
    expect(rows.sure.of / labelled.length).toBeGreaterThan(0.3);
    expect(rows.guess.of / labelled.length).toBeLessThan(0.35);
  });

  test('no piece stands in both sets', () => {
    const seen = new Set(tuning.map(({ text }) => text));
    expect(labelled.filter(({ text }) => seen.has(text))).toEqual([]);
  });
});

test('what those who are taught are asked to do is a lesson idea, what a friend is asked is a note', () => {
  const kind = (text: string): string => kindOf({ text, as: 'paragraph' }).kind;
  expect(kind('Ask them to draw the bank in winter.')).toBe('lesson');
  expect(kind('Get them to act the trial.')).toBe('lesson');
  expect(kind('Have them draw the garden from memory.')).toBe('lesson');
  expect(kind('Ask Ruth to bring the lamp.')).toBe('note');
  expect(kind('They asked to draw the bank again.')).toBe('note');
});
