import { describe, expect, test } from 'vitest';
import { gathered } from './from-text';
import { smallJournal } from './build';

const REMARKS = ['Courage', 'Chapter 4', 'Emma', 'Homework', '3 May 2014', 'Questions:'];

describe('a remark of a title, a chapter, a day or a kind alone', () => {
  test('is kept beside the passage it is on, and says nothing of the next', async () => {
    const annotations = REMARKS.map((value, at) => ({
      type: 'Annotation',
      body: { type: 'TextualBody', value },
      target: {
        source: { title: 'Heidi' },
        selector: { type: 'TextQuoteSelector', exact: `Passage ${at} of the goats in the dawn` },
      },
    }));
    const { pieces } = await gathered(smallJournal(), { 'a.jsonld': JSON.stringify(annotations) });
    const passages = pieces.filter(({ text }) => text.startsWith('Passage'));
    const remarks = pieces.filter(({ text }) => !text.startsWith('Passage'));
    expect(remarks.map(({ text }) => text)).toEqual(REMARKS);
    expect(remarks.map(({ kind, title }) => `${kind} ${title}`)).toEqual(
      REMARKS.map((_, at) => `note On “Passage ${at} of the goats in the dawn”`),
    );
    expect(passages.map(({ kind, ties }) => [kind, ties.map(({ name }) => name)])).toEqual(
      REMARKS.map(() => ['quote', ['Heidi']]),
    );
    expect(
      passages.flatMap(({ written, ties }) => [written, ...ties.map(({ place }) => place)]),
    ).toEqual(REMARKS.flatMap(() => [undefined, undefined]));
  });

  test('is kept beside the line of an outline', async () => {
    const outline = `<?xml version="1.0"?><opml version="2.0"><head/><body><outline text="The goats go up at dawn" _note="Courage"/><outline text="The bells are heard in the village" _note="Emma"/><outline text="Grandmother cannot see the light"/></body></opml>`;
    const { pieces } = await gathered(smallJournal(), { 'o.opml': outline });
    expect(pieces.map(({ text, title }) => [text, title])).toEqual([
      ['The goats go up at dawn', undefined],
      ['Courage', 'On “The goats go up at dawn”'],
      ['The bells are heard in the village', undefined],
      ['Emma', 'On “The bells are heard in the village”'],
      ['Grandmother cannot see the light', undefined],
    ]);
    expect(pieces.at(-1)?.ties).toEqual([]);
  });
});
