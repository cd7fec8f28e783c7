import { expect, test } from 'vitest';
import { invertedName } from '../../../src/language/inverted-name';

test.each([
  ['Lucy Maud Montgomery', 'Montgomery, Lucy Maud'],
  ['Ursula K. Le Guin', 'Le Guin, Ursula K.'],
  ['Walter de la Mare', 'de la Mare, Walter'],
  ['Martin Luther King Jr.', 'King, Martin Luther, Jr.'],
  ['Lewis, C. S.', 'Lewis, C. S.'],
  ['Homer', 'Homer'],
  ['  Jane   Austen ', 'Austen, Jane'],
  ['De Quincey', 'Quincey, De'],
  ['', ''],
])('%s is filed as %s', (name, filed) => {
  expect(invertedName(name)).toBe(filed);
});
