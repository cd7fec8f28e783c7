import { describe, expect, it } from 'vitest';
import { writingHelp } from '../../../src/engine/writing-help';
import { harbourLane } from '../app/weave-demo';

describe('what is proposed while an entry is written', () => {
  const engine = harbourLane();

  it('tells the words of the text that speak for each tie, as they stand there', () => {
    const text = 'Why does Victor Frankenstein leave *Clerval* behind? Is it COURAGE?';
    const { ties } = writingHelp(engine, { text, ties: [] });
    const words = Object.fromEntries(ties.map((tie) => [tie.name, tie.words]));
    expect(words).toMatchObject({
      'Henry Clerval': ['Clerval'],
      'Victor Frankenstein': ['Victor Frankenstein'],
      Courage: ['COURAGE'],
    });
    for (const tie of ties) for (const one of tie.words) expect(text).toContain(one);
  });

  it('proposes nothing that is tied already, and nothing for an entry of no words', () => {
    const text = 'Is it courage that makes Clerval follow?';
    const { ties } = writingHelp(engine, { text, ties: [] });
    const courage = ties.find(({ name }) => name === 'Courage')!;
    const tied = [{ heading: courage.heading, role: 'about', by: 'reader' } as const];
    const left = writingHelp(engine, { text, ties: [...tied] }).ties.map(({ name }) => name);
    expect(left).toContain('Henry Clerval');
    expect(left).not.toContain('Courage');
    expect(writingHelp(engine, { text: ' \n', ties: [] })).toEqual({
      kind: expect.anything() as unknown,
      ties: [],
    });
  });
});
