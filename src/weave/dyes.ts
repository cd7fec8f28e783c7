/** Dyes there are; strands past them share the ink, each with a line of its own. */
export const DYES = 5;

/**
 * Which dye, 0 to 4, each of up to five strands has: those a reader has brought forward first, then the largest. A strand that had a dye keeps it, so
 * that colours stay where they were when the journal grows; the others take what is left, in order.
 */
export function dyesFor(
  /** The largest first. */
  strands: readonly string[],
  held: Readonly<Record<string, number>>,
  forward: readonly string[] = [],
): Map<string, number> {
  const there = new Set(strands);
  const first = forward.filter((id) => there.has(id));
  const chosen = [...new Set([...first, ...strands])].slice(0, DYES);
  const dyes = new Map<string, number>();
  const taken = new Set<number>();
  for (const id of chosen) {
    const dye = Object.hasOwn(held, id) ? held[id] : undefined;
    if (dye === undefined || !(dye >= 0 && dye < DYES) || taken.has(dye)) continue;
    dyes.set(id, dye);
    taken.add(dye);
  }
  for (const id of chosen) {
    if (dyes.has(id)) continue;
    let free = 0;
    while (taken.has(free)) free += 1;
    dyes.set(id, free);
    taken.add(free);
  }
  return dyes;
}
