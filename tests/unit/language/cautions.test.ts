import { expect, test } from 'vitest';
import cautions from '../../../shared/cautions.json';
import { HAZARDS } from '../../../src/journal/records';

test.each(HAZARDS)(
  'the caution for %s has a name, defers to local rules and calls nothing safe',
  (hazard) => {
    const { name, caution } = cautions[hazard];
    expect(name.length).toBeGreaterThan(0);
    expect(caution).toMatch(/Follow your local rules and the judgement of a responsible adult\.$/);
    expect(caution).not.toMatch(/\bsafe/i);
  },
);

test('there is a caution for no other hazard, and the words have a source', () => {
  const { source, ...rest } = cautions;
  expect(Object.keys(rest).toSorted()).toEqual([...HAZARDS].toSorted());
  expect(source).toMatch(/CLEAPSS/);
});
