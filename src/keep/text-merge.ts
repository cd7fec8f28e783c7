/** Changes of a body of text, word by word, so that what two people change in one body stands side by side. */
import diff from 'fast-diff';
import * as Y from 'yjs';

/** One stretch of `from`: `remove` UTF-16 units from `at` on are taken out and `insert` put in their place. */
interface Hunk {
  at: number;
  remove: number;
  insert: string;
}

/** Words, stretches of space, and every other character by itself; a surrogate pair is never split. */
const PIECES = /[\p{L}\p{N}\p{M}'’]+|\s+|[^\p{L}\p{N}\p{M}'’\s]/gu;
/** Comparing costs the square of this at worst; a body rewritten beyond it changes as one stretch. */
const MOST_PIECES = 4000;

const HALF_PAIRS = /\p{Surrogate}/gu;

/** The text with every half of a surrogate pair that stands alone replaced by U+FFFD, as UTF-8 would have it. */
export const wellFormed = (text: string): string => text.replace(HALF_PAIRS, '\uFFFD');

/** What changes from one text to another, in order of place. */
export function hunksBetween(from: string, to: string): Hunk[] {
  if (from === to) return [];
  const [before, after] = [from.match(PIECES) ?? [], to.match(PIECES) ?? []];
  let start = 0;
  const shorter = Math.min(before.length, after.length);
  while (start < shorter && before[start] === after[start]) start++;
  let end = 0;
  while (end < shorter - start && before.at(-1 - end) === after.at(-1 - end)) end++;
  const [old, fresh] = [
    before.slice(start, before.length - end),
    after.slice(start, after.length - end),
  ];
  const at = before.slice(0, start).reduce((sum, piece) => sum + piece.length, 0);
  if (old.length === 0 || fresh.length === 0 || old.length + fresh.length > MOST_PIECES) {
    return [{ at, remove: old.join('').length, insert: fresh.join('') }];
  }
  return hunksOfPieces(old, fresh, at);
}

/** Pieces stand as one character each while they are compared. {@link MOST_PIECES} keeps those below the surrogates. */
function hunksOfPieces(old: string[], fresh: string[], begin: number): Hunk[] {
  const names = new Map<string, string>();
  const pieces: string[] = [];
  const nameOf = (piece: string): string => {
    let name = names.get(piece);
    if (name === undefined) {
      name = String.fromCharCode(names.size + 1);
      names.set(piece, name);
      pieces.push(piece);
    }
    return name;
  };
  const spell = (text: string[]): string => text.map(nameOf).join('');
  const out: Hunk[] = [];
  let at = begin;
  let open: Hunk | undefined;
  for (const [what, named] of diff(spell(old), spell(fresh))) {
    const text = [...named].map((name) => pieces[name.charCodeAt(0) - 1]!).join('');
    if (what === diff.EQUAL) {
      at += text.length;
      open = undefined;
      continue;
    }
    if (!open) out.push((open = { at, remove: 0, insert: '' }));
    if (what === diff.INSERT) open.insert += text;
    else {
      open.remove += text.length;
      at += text.length;
    }
  }
  return out;
}

/** Brings a shared text to `to`, touching only what differs. Call inside a transaction. */
export function changeText(held: Y.Text, to: string): void {
  for (const { at, remove, insert } of hunksBetween(held.toString(), to).reverse()) {
    if (remove > 0) held.delete(at, remove);
    if (insert !== '') held.insert(at, insert);
  }
}

const LETTER_BEFORE = /[\p{L}\p{N}\p{M}]$/u;
const LETTER_AFTER = /^[\p{L}\p{N}\p{M}]/u;

/** Whether a text holds another in whole words: "a foxglove" does not say "a fox". */
export function saysWhole(text: string, other: string): boolean {
  if (other === '') return true;
  const [opens, ends] = [LETTER_AFTER.test(other), LETTER_BEFORE.test(other)];
  for (let at = text.indexOf(other); at >= 0; at = text.indexOf(other, at + 1)) {
    const cut =
      (opens && LETTER_BEFORE.test(text.slice(0, at))) ||
      (ends && LETTER_AFTER.test(text.slice(at + other.length)));
    if (!cut) return true;
  }
  return false;
}

/** Whether all that was changed from `base` to `less` was so from `base` to `more` too: at the same places, in whole words of what was put there. */
function goesFurther(base: string, less: string, more: string): boolean {
  const further = hunksBetween(base, more);
  return hunksBetween(base, less).every(({ at, remove, insert }) =>
    further.some((one) => one.at === at && one.remove === remove && saysWhole(one.insert, insert)),
  );
}

/**
 * Two changes of one text made apart from each other, both kept; what both made in the same place stands once. The same three texts give the same
 * answer.
 */
export function mergeTexts(base: string, ours: string, theirs: string): string {
  if (base === ours || ours === theirs) return theirs;
  if (base === theirs) return ours;
  if (goesFurther(base, ours, theirs)) return theirs;
  if (goesFurther(base, theirs, ours)) return ours;
  const docs = [base, ours, theirs].map((_, at) => {
    const doc = new Y.Doc();
    doc.clientID = at + 1;
    return doc;
  });
  const [root, one, two] = docs as [Y.Doc, Y.Doc, Y.Doc];
  root.getText().insert(0, base);
  const begun = Y.encodeStateAsUpdate(root);
  for (const [doc, text] of [
    [one, ours],
    [two, theirs],
  ] as const) {
    Y.applyUpdate(doc, begun);
    doc.transact(() => changeText(doc.getText(), text));
  }
  Y.applyUpdate(one, Y.encodeStateAsUpdate(two));
  const merged = one.getText().toString();
  for (const doc of docs) doc.destroy();
  return merged;
}
