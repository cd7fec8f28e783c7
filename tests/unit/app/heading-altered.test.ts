/** A heading half altered: what of it is put by, and what it becomes when it is brought back to a heading changed meanwhile. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import {
  alteredIn,
  broughtBack,
  putBy,
  readPutBy,
  type HeadingFields,
  withAltered,
} from '../../../src/app/find/heading-altered';
import type { Heading } from '../../../src/journal/records';
import { storedHere } from './stored-here';

const heading = (more: Partial<Heading> = {}): Heading =>
  ({
    id: 'h',
    kind: 'theme',
    name: 'Thrift',
    alternates: ['Sparing', 'Saving, as such'],
    note: 'As in Heidi.',
    broader: [],
    related: [],
    ...more,
  }) as unknown as Heading;
const { id } = heading();

let held: Map<string, string>;
beforeEach(() => (held = storedHere()));
afterEach(() => vi.unstubAllGlobals());

/** Opens a heading, types into its fields and leaves it. */
function leave(one: Heading, typed: Partial<HeadingFields>): void {
  const { opened, ...fields } = broughtBack(one, readPutBy(one.id));
  putBy(one.id, alteredIn(opened, { ...fields, ...typed }));
}
/** What is kept of a heading as it now is, once what was put by is brought back. */
function kept(now: Heading): Heading {
  const { opened, ...fields } = broughtBack(now, readPutBy(now.id));
  return withAltered(now, opened, fields);
}

test('what was typed comes back, and kept as it is makes the same heading', () => {
  leave(heading(), { name: 'Thriftiness', note: 'As in Heidi, and in Robinson.' });
  expect(broughtBack(heading(), readPutBy(id))).toMatchObject({
    name: 'Thriftiness',
    alternates: 'Sparing\nSaving, as such',
    note: 'As in Heidi, and in Robinson.',
  });
  expect(kept(heading())).toEqual(
    heading({
      name: 'Thriftiness',
      alternates: ['Sparing', 'Saving, as such', 'Thrift'],
      note: 'As in Heidi, and in Robinson.',
    }),
  );
});

test('a field not altered is as it has become elsewhere meanwhile', () => {
  leave(heading(), { note: 'My own note.' });
  const since = heading({ name: 'Sparingness', alternates: ['Sparing', 'Thrift'] });
  expect(broughtBack(since, readPutBy(id)).name).toBe('Sparingness');
  expect(kept(since)).toEqual({ ...since, note: 'My own note.' });
});

test('other names added elsewhere meanwhile stay beside those altered here', () => {
  leave(heading(), { alternates: 'Sparing\nFrugality' });
  const since = heading({
    name: 'Sparingness',
    alternates: ['Sparing', 'Saving, as such', 'Thrift'],
  });
  expect(kept(since)).toEqual({ ...since, alternates: ['Sparing', 'Frugality', 'Thrift'] });
});

test('what is left again, without a letter more, is still put by as it was', () => {
  leave(heading(), { alternates: 'Sparing\nFrugality' });
  const since = heading({ alternates: ['Sparing', 'Saving, as such', 'Economy'] });
  leave(since, {});
  expect(kept(since).alternates).toEqual(['Sparing', 'Frugality', 'Economy']);
});

test('an emptied note stays empty, and an emptied name is put by too', () => {
  leave(heading(), { name: '', note: '' });
  expect(broughtBack(heading(), readPutBy(id))).toMatchObject({ name: '', note: '' });
  expect(kept(heading({ note: 'Another.' }))).not.toHaveProperty('note');
});

test('nothing is put by of a heading that is as it was, and none of it for another heading', () => {
  leave(heading(), { note: 'Half a th' });
  expect(readPutBy('other' as typeof id)).toBeUndefined();
  leave(heading(), {
    name: ' Thrift ',
    alternates: 'Sparing\n\nSaving, as such\n',
    note: 'As in Heidi.',
  });
  expect(readPutBy(id)).toBeUndefined();
  expect(held.size).toBe(0);
});
