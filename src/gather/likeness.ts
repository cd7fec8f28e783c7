/** How alike two short names are, for titles and people written with a slip. */

/** Edits (one letter put in, left out or changed) between two strings: Levenshtein 1966, by rows of Wagner and Fischer 1974. */
export function levenshtein(a: string, b: string): number {
  const [from, to] = [[...a], [...b]];
  let above = to.map((_, column) => column + 1);
  from.forEach((letter, row) => {
    let [diagonal, left] = [row, row + 1];
    above = to.map((other, column) => {
      const up = above[column] as number;
      left = Math.min(up + 1, left + 1, diagonal + (letter === other ? 0 : 1));
      diagonal = up;
      return left;
    });
  });
  return to.length === 0 ? from.length : (above.at(-1) as number);
}

/** Jaro's similarity, 0 to 1 (Jaro 1989): letters shared within half the longer name, and how many stand in another order. */
export function jaro(a: string, b: string): number {
  const [from, to] = [[...a], [...b]];
  if (from.length === 0 || to.length === 0) return from.length === to.length ? 1 : 0;
  const reach = Math.max(Math.floor(Math.max(from.length, to.length) / 2) - 1, 0);
  const taken = new Array<boolean>(to.length).fill(false);
  const shared: string[] = [];
  from.forEach((letter, at) => {
    const end = Math.min(at + reach, to.length - 1);
    for (let other = Math.max(at - reach, 0); other <= end; other += 1) {
      if (taken[other] || to[other] !== letter) continue;
      taken[other] = true;
      shared.push(letter);
      return;
    }
  });
  const count = shared.length;
  if (count === 0) return 0;
  const inOrder = to.filter((_, at) => taken[at]);
  const moved = shared.filter((letter, at) => letter !== inOrder[at]).length / 2;
  return (count / from.length + count / to.length + (count - moved) / count) / 3;
}

/** Jaro's similarity raised for a common beginning of up to four letters, by a tenth each (Winkler 1990). */
export function jaroWinkler(a: string, b: string): number {
  const base = jaro(a, b);
  let common = 0;
  while (common < 4 && common < a.length && a[common] === b[common]) common += 1;
  return base + common * 0.1 * (1 - base);
}

const SHORTEST_SLIP = 8;

/** Numbers in figures and in Roman numerals up to "cccxcix", as they stand in a name key. */
const NUMBERS = /\d+|\b(?=[ivxlc])c{0,3}(?:xc|xl|l?x{0,3})(?:ix|iv|v?i{0,3})\b/gu;
const numbersIn = (key: string): string => (key.match(NUMBERS) ?? []).join(' ');

/**
 * Whether two name keys are most likely one name with a slip: eight letters or more, an edit for each eight up to three, and the same
 * first letter and numbers ("Henry IV Part 1" is not "Part 2", and "Richard III" not "Richard II").
 */
export function slipOf(a: string, b: string): boolean {
  const shorter = Math.min(a.length, b.length);
  if (shorter < SHORTEST_SLIP || a[0] !== b[0] || numbersIn(a) !== numbersIn(b)) return false;
  const most = Math.min(Math.floor(shorter / 8), 3);
  if (Math.abs(a.length - b.length) > most || jaroWinkler(a, b) < 0.93) return false;
  return levenshtein(a, b) <= most;
}
