/** Relations of themes after a merge: each side's stood by themselves, and both together may lead in a circle. */
import { Draft } from '../journal/draft';
import type { Change } from '../journal/edits';
import { mendRelations } from '../journal/merge-headings';
import type { Heading, HeadingId, Journal, ThemeHeading } from '../journal/records';

/**
 * What is to be changed in headings that came of a merge, where `ids` differed: a relation stands on both sides or, where it is broader as well,
 * on neither, and what closes a circle is dropped. The same whichever side merges.
 */
export function mendThemes(
  here: Journal,
  headings: Map<string, Heading>,
  ids: readonly string[],
): Change[] {
  const draft = new Draft({ ...here, tables: { ...here.tables, headings } });
  const themes = [...ids].sort() as HeadingId[];
  const each = (does: (theme: ThemeHeading) => void): void => {
    for (const id of themes) {
      const row = draft.get('headings', id);
      if (row?.kind === 'theme') does(row);
    }
  };
  each(({ id, related }) => {
    for (const other of related) {
      const row = draft.get('headings', other);
      if (row?.kind === 'theme' && other !== id && !row.related.includes(id))
        draft.put('headings', { ...row, related: [...row.related, id] });
    }
  });
  each(({ id }) => mendRelations(draft, id));
  return draft.edit('Merge themes').changes;
}
