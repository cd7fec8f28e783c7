import type { ClothThread, ThingSaid } from '../../engine/weave-answers';
import type { WeaveState } from './weave.svelte';

type Pair = [ThingSaid, ThingSaid];

interface Crossing {
  book?: ThingSaid;
  theme?: ThingSaid;
}

/** Two crossings of the cloth that are to be connected, one pressed after the other: their books, or their themes where the book is the same. */
export class ConnectTwo {
  #first = $state.raw<Crossing | undefined>();

  /** A first crossing is marked, and waits for a second. */
  get marked(): boolean {
    return this.#first !== undefined;
  }

  /** Takes what is chosen as the first or the second; answers what to say, and on the second the two to connect. Nothing where nothing is chosen. */
  press({ chosen, book, theme }: WeaveState): { says: string; pair?: Pair } | undefined {
    if (!chosen || !book || !theme) return undefined;
    const here: Crossing = {
      ...(chosen.what !== 'theme' && !book.folded ? { book: bookOf(book) } : {}),
      ...(chosen.what !== 'book' && !theme.folded ? { theme: themeOf(theme) } : {}),
    };
    const named = here.book ?? here.theme;
    if (!named) return { says: 'Open the wide thread first: press O' };
    const first = this.#first;
    this.#first = first ? undefined : here;
    if (!first) return { says: `From ${named.text}: move to another and press C again` };
    const pair =
      apart(first.book, here.book) ??
      apart(first.theme, here.theme) ??
      apart(first.book ?? first.theme, here.book ?? here.theme);
    return pair
      ? { says: `${pair[0].text} and ${pair[1].text}`, pair }
      : { says: 'That is where you began' };
  }
}

const apart = (a?: ThingSaid, b?: ThingSaid): Pair | undefined =>
  a && b && a.id !== b.id ? [a, b] : undefined;

type Named = Pick<ClothThread, 'headings' | 'name'>;

/** The book of a thread that is not folded. */
export const bookOf = ({ headings, name }: Named): ThingSaid => ({
  id: headings[0]!,
  type: 'heading',
  kind: 'book',
  text: name,
});

const themeOf = (thread: Named): ThingSaid => ({ ...bookOf(thread), kind: 'theme' });
