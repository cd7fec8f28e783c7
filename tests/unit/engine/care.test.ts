import { describe, expect, it } from 'vitest';
import { cautionsOf, deferringOnce } from '../../../src/engine/care';
import { entry } from '../journal/few';

const DEFERS = 'Follow your local rules and the judgement of a responsible adult.';

describe('cautions of one entry', () => {
  it('say once, at the end, that local rules come first', () => {
    const { hazards, said } = cautionsOf([entry('e1', { cautions: ['heat', 'water'] })]);
    expect(hazards).toHaveLength(2);
    expect(said.every((text) => text.endsWith(DEFERS))).toBe(true);
    const once = deferringOnce(said);
    expect(once.join('\n').split(DEFERS)).toHaveLength(2);
    expect(once.at(-1)).toBe(said.at(-1));
    expect(`${once[0]!} ${DEFERS}`).toBe(said[0]);
    expect(deferringOnce(said.slice(0, 1))).toEqual(said.slice(0, 1));
  });
});
