/** MiniSearch as it comes, over the same words: what the engine's own index is held against. */
import MiniSearch from 'minisearch';
import { wordsByField } from '../../../src/find/documents';
import type { Journal } from '../../../src/journal/records';

export class PlainSearch {
  #index = new MiniSearch<{ id: string; text: string; heading: string }>({
    fields: ['text', 'heading'],
    searchOptions: {
      combineWith: 'AND',
      prefix: (_, at, all) => at === all.length - 1,
      fuzzy: (term) => (term.length > 3 ? 1 : false),
    },
  });

  constructor(journal: Journal) {
    for (const entry of journal.tables.entries.values()) {
      const { text = [], heading = [] } = wordsByField(journal, entry);
      this.#index.add({ id: entry.id, text: text.join(' '), heading: heading.join(' ') });
    }
  }

  find(text: string): number {
    return this.#index.search(text).length;
  }
}
