/** Which of the strands found is which of those there were: ids go on while most of a strand stays. */
import type { EntryId, HeadingId } from '../journal/records';

/** How much of a strand must have stayed for it to keep its id, and of the headings it is known by. */
const LEAST_SHARED = 0.3;
const LEAST_KNOWN = 0.5;

interface Group {
  entries: readonly EntryId[];
  headings: readonly HeadingId[];
}

/** Ids go on with the strands that keep most; a new strand is called after its most central heading, or its first entry. */
export function idsOf(
  groups: readonly Group[],
  previous: { strands: readonly (Group & { id: string })[] } | undefined,
  known: readonly { id: string; headings: readonly HeadingId[] }[],
): string[] {
  const ids: (string | undefined)[] = groups.map(() => undefined);
  const used = new Set<string>();
  const give = (pairs: Pair[], least: number): void => {
    pairs.sort((a, b) => b.part - a.part || a.here - b.here || (a.id < b.id ? -1 : 1));
    for (const { here, id, part } of pairs) {
      if (part < least || ids[here] !== undefined || used.has(id)) continue;
      ids[here] = id;
      used.add(id);
    }
  };
  const byHeadings = pairsOf(
    groups.map(({ headings }) => headings),
    known.map(({ id, headings }) => ({ id, members: headings })),
    ({ there, shared }) => shared / there,
  );
  give(byHeadings, LEAST_KNOWN);
  if (previous) {
    // Where only headings are remembered, only headings are compared.
    const bare = previous.strands.every(({ entries }) => entries.length === 0);
    const byMembers = pairsOf(
      groups.map(({ entries, headings }) => (bare ? headings : [...entries, ...headings])),
      previous.strands.map(({ id, entries, headings }) => ({
        id,
        members: [...entries, ...headings],
      })),
      ({ here, there, shared }) => shared / (here + there - shared),
    );
    give(byMembers, LEAST_SHARED);
  }
  return ids.map((id, here) => {
    if (id !== undefined) return id;
    const { headings, entries } = groups[here]!;
    const base = `strand-${headings[0] ?? entries[0]}`;
    let own = base;
    for (let count = 2; used.has(own); count++) own = `${base}-${count}`;
    used.add(own);
    return own;
  });
}

interface Pair {
  here: number;
  id: string;
  part: number;
}

/** Groups and earlier strands that share members, with how much of them they share. */
function pairsOf(
  groups: readonly (readonly string[])[],
  earlier: readonly { id: string; members: readonly string[] }[],
  partOf: (sizes: { here: number; there: number; shared: number }) => number,
): Pair[] {
  const holders = new Map<string, number[]>();
  earlier.forEach(({ members }, there) => {
    for (const id of members) {
      const held = holders.get(id);
      if (held) held.push(there);
      else holders.set(id, [there]);
    }
  });
  return groups.flatMap((members, here) => {
    const counts = new Map<number, number>();
    for (const id of members) {
      for (const there of holders.get(id) ?? []) counts.set(there, (counts.get(there) ?? 0) + 1);
    }
    return [...counts].map(([there, shared]) => {
      const { id, members: all } = earlier[there]!;
      return { here, id, part: partOf({ here: members.length, there: all.length, shared }) };
    });
  });
}
