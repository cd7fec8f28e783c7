import { expect, test } from 'vitest';
import { commonplaceClass } from '../../../src/language/commonplace';

test.each([
  ['The Sea', 'S e'],
  ['courage', 'C o'],
  ['Éclair', 'E a'],
  ['Justice', 'I u'],
  ['Virtue', 'U i'],
  ['Myth', 'M i'],
  ['“Mercy”', 'M e'],
  ['Hmm', 'H'],
  ['1984', ''],
  ['Война', ''],
  ['', ''],
])('%s is in the class “%s”', (head, place) => {
  expect(commonplaceClass(head)).toBe(place);
});
