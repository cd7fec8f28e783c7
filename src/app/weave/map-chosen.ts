import type { Desk } from '../../engine/desk';
import type { JournalMap, ThingSaid } from '../../engine/weave-answers';
import type { EntryId, HeadingId } from '../../journal/records';

/**
 * What things chosen on a map stand for: the entries among them, those told by their numbers on the whole map too; where headings alone are
 * chosen, the entries that all of them hold.
 */
export async function entriesMeant(
  desk: Desk,
  things: readonly ThingSaid[],
  whole: JournalMap | undefined,
  numbers: number[],
): Promise<EntryId[]> {
  const own = things.flatMap(({ type, id }) => (type === 'entry' ? [id as EntryId] : []));
  if (whole && numbers.length > 0) {
    const rows = await desk.weave.mapEntries(whole.made, numbers);
    own.push(...rows.map(({ id }) => id as EntryId));
  }
  if (own.length > 0) return own;
  const headings = things.filter(({ type }) => type === 'heading');
  const lists = await Promise.all(
    headings.map(async (heading) => {
      const [id, kind] = [heading.id as HeadingId, heading.kind];
      const sides = kind === 'book' ? { books: [id], themes: [] } : { books: [], themes: [id] };
      const knot = await desk.weave.knot({ ...sides, limit: 100_000 });
      return knot.rows.map((row) => row.id);
    }),
  );
  const [first = [], ...rest] = lists;
  return first.filter((id) => rest.every((list) => list.includes(id)));
}
