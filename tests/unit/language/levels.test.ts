import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import questionWords from '../../../shared/question-words.json';
import { LEVELS, type Level } from '../../../src/journal/records';
import { proposeLevel } from '../../../src/language/levels';

/**
 * Questions a leader might ask, sorted by hand by the definitions of Anderson & Krathwohl 2001. The same hand chose the word
 * list, so this shows that the words do what was meant, not how well they do on another leader's questions.
 */
const SORTED: Readonly<Record<Level, readonly string[]>> = {
  remember: [
    'Who finds the letter in the desk?',
    'How many children are in the house?',
    'Where does the first chapter take place?',
    'Name the ship and its captain.',
    'What did the old man carry?',
  ],
  understand: [
    'What does the narrator mean by “a second silence”?',
    'Retell the storm in your own words.',
    'Why did Anne keep the slate?',
    'Summarise the argument between the brothers.',
    'What is this chapter mostly about?',
  ],
  apply: [
    'Have you ever had to keep a secret like hers?',
    'Where do you see the same kindness today?',
    'What would you do if you found the ring?',
    'How could we use the map-maker’s method in our own town?',
  ],
  analyse: [
    'How does the author make the house seem alive?',
    'What is the difference between mercy and pity here?',
    'Compare the two sisters at the end.',
    'What part does the sea play in the story?',
    'What evidence is there that the narrator is lying?',
  ],
  evaluate: [
    'Was he right to burn the letter?',
    'Do you agree that she should have stayed?',
    'Who is most to blame for the fire?',
    'Should the captain have turned back?',
    'To what extent does the ending satisfy you?',
  ],
  create: [
    'Write a letter from the lighthouse keeper to his son.',
    'What if the boat had come a day sooner?',
    'Design a cover for the book.',
    'How might the story have ended differently?',
  ],
};
const all = LEVELS.flatMap((level) => SORTED[level].map((question) => ({ level, question })));

describe('proposing a level', () => {
  test('agrees with a leader’s own sorting nine times in ten', () => {
    const wrong = all.filter(({ level, question }) => proposeLevel(question).level !== level);
    expect(wrong.length, JSON.stringify(wrong)).toBeLessThanOrEqual(all.length / 10);
  });

  test('is never sure of what the leader sorted otherwise', () => {
    for (const { level, question } of all) {
      const proposed = proposeLevel(question);
      if (proposed.certainty === 'sure') expect(proposed.level, question).toBe(level);
    }
  });

  // Webb, 28 March 2002: the same verb falls at different levels by what is to be described.
  test('is never sure from a verb alone', () => {
    const verbs = [
      ...Object.values(questionWords.levels).flatMap(({ verbs }) => verbs),
      ...Object.keys(questionWords.unsettledVerbs),
    ];
    for (const verb of verbs) {
      expect(proposeLevel(`${verb} the river.`).certainty, verb).not.toBe('sure');
      expect(proposeLevel(`${verb}!`).certainty, verb).not.toBe('sure');
    }
  });

  test('takes “describe” and “explain” by what is to be described', () => {
    expect(proposeLevel('Describe the river.')).toEqual({
      level: 'understand',
      certainty: 'guess',
    });
    expect(proposeLevel('Describe the difference between the two rivers.').level).toBe('analyse');
    expect(proposeLevel('Explain what if the river had frozen.').level).toBe('create');
  });

  test('is sure where two separate wordings agree', () => {
    expect(proposeLevel('Was Victor right? Defend your view.')).toEqual({
      level: 'evaluate',
      certainty: 'sure',
    });
  });

  test('proposes the higher and only guesses where wordings disagree', () => {
    expect(proposeLevel('What is the difference between them, and was he right?')).toEqual({
      level: 'evaluate',
      certainty: 'guess',
    });
  });

  test('does not take a question of opinion for one of fact', () => {
    expect(proposeLevel('Who was on the stairs?').level).toBe('remember');
    expect(proposeLevel('Who do you think was on the stairs?').level).not.toBe('remember');
  });

  test('does not take a verb for an order where it is none', () => {
    expect(proposeLevel('Why did Jo want to write a play?').level).not.toBe('create');
  });

  test('answers any text at all', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(LEVELS).toContain(proposeLevel(text).level);
      }),
    );
    expect(proposeLevel('')).toEqual({ level: 'understand', certainty: 'guess' });
  });
});
