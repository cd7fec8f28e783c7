import { expect, test } from 'vitest';
import { commonplaceClass } from '../../src/language/commonplace';

// Source: Locke, Works (1823), vol. 3, p. 337.
test.each(['Epistola', 'Ebionita', 'Episcopus', 'Echinus', 'Edictum', 'Efficacia'])(
  'Locke puts %s in the class E i',
  (head) => expect(commonplaceClass(head)).toBe('E i'),
);

// Source: Locke, Works (1823), vol. 3, p. 338: the vowel after the initial, even if the initial is a vowel.
test.each(['Adversaria', 'Aer', 'Aera', 'Agesilaus', 'Acheron'])(
  'Locke puts %s in the class A e',
  (head) => expect(commonplaceClass(head)).toBe('A e'),
);

// Source of the rule: Locke, p. 336 (K, Y, W by C, I, U; Q in the fifth space of Z). The English words are ours.
test.each([
  ['Knowledge', 'C o'],
  ['Wisdom', 'U i'],
  ['Youth', 'I o'],
  ['Quiet', 'Z u'],
])('%s goes under the letter that serves for its own: %s', (head, place) =>
  expect(commonplaceClass(head)).toBe(place),
);

// Source: Locke's own instances, from memory.
test.each([
  ['Ars', 'A a'],
  ['Os', 'O o'],
])('a word with one vowel, its first, takes it twice: %s is %s', (head, place) =>
  expect(commonplaceClass(head)).toBe(place),
);
