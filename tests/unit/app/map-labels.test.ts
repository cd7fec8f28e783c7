/** Labels of a map keep clear of what they stand beside. */
import { describe, expect, test } from 'vitest';
import { covers } from '../../../src/app/weave/label-room';
import type { Scene, SceneNode } from '../../../src/app/weave/map-scene';
import { mapSvg } from '../../../src/app/weave/map-svg';

const node = (key: string, label: string, x: number, y: number): SceneNode => ({
  key,
  kind: 'note',
  label,
  x,
  y,
  size: 7,
  side: 'right',
});
const sceneOf = (...nodes: SceneNode[]): Scene => ({ nodes, links: [], regions: [] });

describe('words beside a glyph', () => {
  const glyphs = [{ x: 100, y: 50, half: 8 }];
  test.each([
    ['end before it', 20, 60, 50, false],
    ['reach it', 20, 75, 50, true],
    ['begin after it', 110, 60, 50, false],
    ['pass over it', 20, 75, 70, false],
  ])('that %s', (_, left, wide, y, covered) => {
    expect(covers(left, wide, y, glyphs)).toBe(covered);
  });
});

test('a long label goes under its glyph where it would cover the next', () => {
  const long = 'A long beginning of an entry in the middle of a map';
  const places = (far: number): string =>
    mapSvg(
      sceneOf(node('a', long, 0, 0), node('b', 'Storm', far, 0), node('c', 'Far', -40, 9)),
      900,
      () => '#000',
      'Around',
    );
  const anchorOf = (svg: string): string | undefined =>
    /text-anchor="(\w+)"[^>]*>A long/.exec(svg)?.[1];
  expect(anchorOf(places(1))).toBe('middle');
  expect(anchorOf(places(-30))).toBeUndefined();
});
