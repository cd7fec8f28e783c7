/** Slips of the pen between two words. */

/** One bit for each letter of a word, digits and the rest sharing bits: words one slip apart differ in at most two. */
export function letterMask(word: string): number {
  let mask = 0;
  for (let at = 0; at < word.length; at++) mask |= 1 << (word.charCodeAt(at) % 31);
  return mask;
}

/** How many bits of a mask are set. */
export const bits = (mask: number): number => {
  let left = mask >>> 0;
  let count = 0;
  while (left) {
    left &= left - 1;
    count++;
  }
  return count;
};

/** Optimal string alignment distance, or more than `most` where it is larger. */
export function slipsBetween(a: string, b: string, most: number): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let cost = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, before[j - 2]! + 1);
      next.push(cost);
      least = Math.min(least, cost);
    }
    if (least > most) return most + 1;
    before = row;
    row = next;
  }
  return row[b.length]!;
}
