/** Unfinished entries whose places nobody would ask for again: a heading they were begun on was merged or removed. */
import type { Desk } from '../../engine/desk';
import type { HeadingId } from '../../journal/records';
import type { WritingStart } from '../house.svelte';
import { begunOnHeadings } from './drafts';
import { headingsNow, tiesNow } from './ties-now';

/**
 * The places of those that belong to what is begun now: on just the headings that are left of theirs, or on nothing, where all come back in
 * the end. They stay in their places until they are kept, so that a merging taken back brings them where they were.
 */
export async function strandedFor(
  desk: Pick<Desk, 'headings'>,
  { id, ties = [], text }: WritingStart,
): Promise<string[]> {
  const begun = id === undefined ? begunOnHeadings() : [];
  if (begun.length === 0) return [];
  const known = await headingsNow(desk);
  const wanted = new Set(ties.map(({ heading }) => heading));
  const places: string[] = [];
  for (const { key, on, draft } of begun) {
    if (on.every((heading) => known.has(heading))) continue;
    const left = new Set<HeadingId>(on.filter((heading) => known.has(heading)));
    const others = draft.ties.filter(({ heading }) => on.includes(heading));
    for (const { heading } of (await tiesNow(desk, others)).ties) left.add(heading);
    const here = wanted.size > 0 ? sameOnes(left, wanted) : !text;
    if (here) places.push(key);
  }
  return places;
}

const sameOnes = <T>(one: ReadonlySet<T>, other: ReadonlySet<T>): boolean =>
  one.size === other.size && [...one].every((each) => other.has(each));
