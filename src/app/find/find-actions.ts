/** What can be done in Find, for the palette: with the entries in hand, with what narrows the search, and with how it is sorted. */
import type { FindQuery } from '../../find/query';
import { oneOf } from '../../journal/labels';
import { ENTRY_KINDS, type EntryId, type HeadingId } from '../../journal/records';
import type { Action, House } from '../house.svelte';
import { counted, KIND_SAYS, KINDS_SAY } from '../say';
import { FACETS, ORDERS, type FindState, type Order } from './find.svelte';

interface FindHands {
  /** The entry that is read, or the chosen row. */
  chosen: () => EntryId | undefined;
  /** The marked entries, or the one that is read. */
  inHand: () => EntryId[];
  tie: (ids: EntryId[]) => void;
  /** These have been removed. */
  removed: (ids: EntryId[]) => void;
}

export function findActions(house: House, find: FindState, hands: FindHands): Action[] {
  const chosen = (): boolean => hands.chosen() !== undefined;
  const held = (): boolean => hands.inHand().length > 0;
  const marked = (): boolean => find.marked.size > 0;
  const withChosen = (doing: (id: EntryId) => void) => (): void => {
    const id = hands.chosen();
    if (id) doing(id);
  };
  const entries = (): string =>
    marked() ? counted(find.marked.size, 'marked entry', 'marked entries') : 'the entry';
  return [
    ...inHand(),
    ...marks(),
    ...ENTRY_KINDS.map((kind): Action => ({
      id: `kind-${kind}`,
      says: () =>
        `Change ${entries()} to ${marked() ? KINDS_SAY[kind] : oneOf(KIND_SAYS[kind].toLowerCase())}`,
      words: 'make it kind',
      when: held,
      run: () => void house.tell(house.desk.changeKind(hands.inHand(), kind)),
    })),
    ...finding(find),
  ];

  function inHand(): Action[] {
    return [
      {
        id: 'tie',
        says: () => `Tie ${entries()} to…`,
        words: 'theme book person',
        keys: 'T',
        when: held,
        run: () => hands.tie(hands.inHand()),
      },
      {
        id: 'tray',
        says: () => `Put ${entries()} in a guide`,
        words: 'tray plan',
        keys: 'G',
        when: held,
        run: () => house.putInTray(hands.inHand()),
      },
      {
        id: 'alter',
        says: 'Alter the entry',
        words: 'edit change',
        keys: 'E',
        when: chosen,
        run: withChosen((id) => house.write({ id })),
      },
      {
        id: 'weave',
        says: 'See the entry in the weave',
        words: 'map around',
        when: chosen,
        run: withChosen((id) => house.go({ place: 'weave', open: 'entry', id })),
      },
      {
        id: 'remove',
        says: () => `Remove ${entries()}`,
        words: 'delete',
        when: held,
        run: () => {
          const ids = hands.inHand();
          void house.tell(house.desk.removeEntries(ids)).then(({ ok }) => {
            if (ok) hands.removed(ids);
          });
        },
      },
      {
        id: 'untray',
        says: 'Empty what is put by for a guide',
        words: 'tray clear',
        when: () => house.tray.length > 0,
        run: () => house.emptyTray(),
      },
    ];
  }

  function marks(): Action[] {
    return [
      {
        id: 'mark',
        says: 'Mark the chosen entry, or unmark it',
        words: 'select',
        keys: 'X',
        when: chosen,
        run: withChosen((id) => find.mark(id)),
      },
      {
        id: 'mark-all',
        says: 'Mark everything found',
        words: 'select all',
        keys: 'Ctrl A',
        when: () => find.rows.length > 0,
        run: () => void find.markAll(),
      },
      {
        id: 'unmark',
        says: 'Unmark all',
        words: 'select none',
        when: marked,
        run: () => find.unmark(),
      },
    ];
  }
}

/** Everything that can narrow the search as it stands: each theme, book and person of what is found, each year, each use. */
export function narrowingActions(find: FindState): Action[] {
  const { facets } = find;
  if (!facets) return [];
  const headings = FACETS.flatMap((facet) =>
    Object.keys(facets[facet]).map((id) => ({ facet, id: id as HeadingId })),
  );
  const years = Object.keys(facets.year).sort();
  return [
    ...headings
      .filter(({ id }) => find.names[id])
      .map(({ facet, id }): Action => ({
        id: `narrow-${facet}-${id}`,
        says: `${find[facet].includes(id) ? 'Do not keep to' : 'Show only'} ${find.names[id]}`,
        words: `filter narrow ${facet}`,
        sought: true,
        run: () => find.toggle(facet, id),
      })),
    ...years.map((year): Action => ({
      id: `narrow-year-${year}`,
      says: `Show only what was written in ${year}`,
      words: 'filter narrow when date',
      sought: true,
      run: () => find.setSpan(year, year),
    })),
    ...find.circles.map(({ id, name }): Action => ({
      ...byUse(find, `narrow-unused-${id}`, { unusedWith: id }, [
        `what was never used with ${name}`,
        `what was used with ${name}`,
      ]),
      words: 'filter narrow use circle',
      sought: true,
    })),
  ];
}

/** Keeping to a use, or where that is so already, no more: it says what is shown only, or as well. */
function byUse(
  find: FindState,
  id: string,
  use: NonNullable<FindQuery['use']>,
  [only, also]: [string, string],
): Action {
  return {
    id,
    says: () => (find.usesOnly(use) ? `Show also ${also}` : `Show only ${only}`),
    words: 'filter narrow use',
    run: () => find.setUse(use),
  };
}

function finding(find: FindState): Action[] {
  return [
    {
      id: 'only-my-words',
      says: () => (find.onlyMyWords ? 'Look wider than my words' : 'Look for only my words'),
      words: 'exact related',
      run: () => ((find.onlyMyWords = !find.onlyMyWords), void find.ask()),
    },
    ...ENTRY_KINDS.map((kind): Action => ({
      id: `show-${kind}`,
      says: () =>
        `${find.kinds.includes(kind) ? 'Do not keep to' : 'Show only'} ${KINDS_SAY[kind]}`,
      words: 'filter kind narrow',
      run: () => find.toggleKind(kind),
    })),
    byUse(find, 'show-unused', { never: true }, ['what was never used', 'what was used']),
    byUse(find, 'show-used', { used: true }, ['what was used before', 'what was never used']),
    byUse(find, 'show-rested', { restedMonths: 24 }, [
      'what has rested two years',
      'what was used in the last two years',
    ]),
    {
      id: 'clear',
      says: 'Clear what narrows the search',
      words: 'filters facets',
      when: () => find.narrowed,
      run: () => find.clear(),
    },
    ...(Object.entries(ORDERS) as [Order, string][]).map(([order, name]): Action => ({
      id: `order-${order}`,
      says: `Order by ${name}`,
      words: 'sort',
      when: () => order !== find.query.order && (order !== 'nearest' || find.text.trim() !== ''),
      run: () => ((find.order = order), void find.ask()),
    })),
  ];
}
