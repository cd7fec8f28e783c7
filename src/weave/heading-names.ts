import type { Heading, HeadingId, HeadingKind } from '../journal/records';
import { withoutArticle } from '../language/filing';
import { stem } from '../language/stem';
import { STOP_WORDS, tokens, type Token } from '../language/tokens';

/** One of a heading's names as a run of words. */
export interface Called {
  heading: HeadingId;
  kind: HeadingKind;
  name: string;
  words: string[];
  stems: string[];
  /** Whether its first word is written with a capital, which a book or person keeps in running text. */
  capital: boolean;
}

/** A heading named in a text. */
export interface Named {
  called: Called;
  /** The words of the text. */
  words: string;
  /** `name`: word by word; `form`: the same stems. */
  how: 'name' | 'form';
}

/** The names a heading has, its alternates among them. A name of nothing but stop words cannot be found in text. */
export function callings(heading: Heading): Called[] {
  const { id, kind, name, alternates } = heading;
  return [name, ...alternates].flatMap((each) => {
    const told = tokens(kind === 'person' ? each : withoutArticle(each));
    const words = told.map(({ folded }) => folded.replace(/'s$/, ''));
    if (words.every((word) => STOP_WORDS.has(word) || word.length < 2)) return [];
    const capital = /^\p{Lu}/u.test(told[0]?.text ?? '');
    return [{ heading: id, kind, name: each, words, stems: words.map(stem), capital }];
  });
}

/**
 * Whether a name stands in a text, and in which words. Themes may stand in another form (courageous for courage); books and
 * people must stand word by word, with their capital.
 */
export function findName(called: Called, text: string, told: readonly Token[]): Named | undefined {
  let form: Named | undefined;
  for (let at = 0; at + called.words.length <= told.length; at++) {
    const found = nameAt(called, text, told, at);
    if (found?.how === 'name') return found;
    form ??= found;
  }
  return form;
}

function nameAt(
  called: Called,
  text: string,
  told: readonly Token[],
  at: number,
): Named | undefined {
  const { words, stems, kind, capital } = called;
  let how: Named['how'] = 'name';
  for (let step = 0; step < words.length; step++) {
    const word = told[at + step]?.folded.replace(/'s$/, '');
    if (word === undefined) return undefined;
    if (word === words[step]) continue;
    if (kind !== 'theme' || stem(word) !== stems[step]) return undefined;
    how = 'form';
  }
  const [first, last] = [told[at], told[at + words.length - 1]];
  if (!first || !last) return undefined;
  if (kind !== 'theme' && capital && !/^\p{Lu}/u.test(first.text)) return undefined;
  return { called, words: text.slice(first.start, last.end), how };
}

/** All names by the stem of their first word. */
export class NameTable {
  #byFirst = new Map<string, Called[]>();
  #held = new Map<HeadingId, Called[]>();

  put(heading: Heading): void {
    this.remove(heading.id);
    const names = callings(heading);
    this.#held.set(heading.id, names);
    for (const called of names) {
      const first = called.stems[0] ?? '';
      const held = this.#byFirst.get(first);
      if (held) held.push(called);
      else this.#byFirst.set(first, [called]);
    }
  }

  remove(id: HeadingId): void {
    for (const called of this.#held.get(id) ?? []) {
      const first = called.stems[0] ?? '';
      const left = this.#byFirst.get(first)?.filter((each) => each !== called) ?? [];
      if (left.length > 0) this.#byFirst.set(first, left);
      else this.#byFirst.delete(first);
    }
    this.#held.delete(id);
  }

  /** The headings a text names, once each: by name rather than by a form, by its longest name. */
  namedIn(text: string): Map<HeadingId, Named> {
    const told = tokens(text);
    const best = new Map<HeadingId, Named>();
    for (let at = 0; at < told.length; at++) {
      const first = stem(told[at]!.folded.replace(/'s$/, ''));
      for (const called of this.#byFirst.get(first) ?? []) {
        const found = nameAt(called, text, told, at);
        const held = best.get(called.heading);
        if (found && (!held || better(found, held))) best.set(called.heading, found);
      }
    }
    return best;
  }
}

function better(found: Named, held: Named): boolean {
  if (found.how !== held.how) return found.how === 'name';
  return found.called.words.length > held.called.words.length;
}
