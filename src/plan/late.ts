/** What to leave out first when time runs short, and what to hold ready when there is time left. */
import { fill } from './greedy';
import { Placement, type Instance } from './instance';
import { mayBePlaced, qualityOf, type Candidate } from './worth';

/**
 * Items to leave out, the first one first: at each step the one whose loss costs least a minute. Never a must, never
 * what was placed by hand, never the last item of the last part (the ending is what goes when time runs out, so it
 * is kept). The last item left in a part goes after those that leave something standing.
 *
 * @param parts item numbers in their order, part by part.
 */
export function leaveOutFirst(
  instance: Instance,
  placed: Placement,
  parts: readonly number[][],
): number[] {
  const closing = parts.at(-1)?.at(-1);
  const held = new Placement(instance);
  held.restore(placed);
  const mayGo = (item: number): boolean => !instance.must[item] && item !== closing;
  const going = parts.flat().filter(mayGo);
  const left = parts.map((items) => items.length);
  const order: number[] = [];
  while (going.length > 0) {
    let least: { item: number; cost: number } | undefined;
    for (const item of going) {
      const part = held.part[item]!;
      held.take(item);
      const loss = held.gain(item, part) / Math.max(instance.minutes[item]!, 0.25);
      held.put(item, part);
      const cost = loss + (left[part] === 1 ? 1e6 : 0);
      if (!least || cost < least.cost - 1e-9) least = { item, cost };
    }
    const { item } = least!;
    left[held.part[item]!]! -= 1;
    held.take(item);
    going.splice(going.indexOf(item), 1);
    order.push(item);
  }
  return order;
}

/** The spares are picked from the best so many that are left; there is room for a tenth of them at most. */
const MOST_OFFERED = 300;

/**
 * Items to hold ready, ranked, until about `target` minutes are reached: first those the leader keeps as spares,
 * then the best a minute beside what is placed, as if there were room for them.
 */
export function spares(
  instance: Instance,
  placed: Placement,
  candidates: readonly Candidate[],
  target: number,
): number[] {
  if (!(target > 0)) return [];
  const kept = candidates.flatMap((candidate, item) =>
    candidate.spare && !candidate.refused ? [item] : [],
  );
  const chosen = kept.filter((item) => placed.part[item]! < 0);
  chosen.sort((a, b) => qualityOf(candidates[b]!) - qualityOf(candidates[a]!) || a - b);
  const roomy = new Placement({
    ...instance,
    room: new Float64Array(instance.parts).fill(target + instance.whole),
    whole: (target + instance.whole) * instance.parts,
    must: new Uint8Array(instance.items),
    pinned: [],
  });
  roomy.restore(placed);
  const already = new Set(roomy.members);
  const offered = candidates
    .flatMap((candidate, item) => (!already.has(item) && mayBePlaced(candidate) ? [item] : []))
    .sort((a, b) => qualityOf(candidates[b]!) - qualityOf(candidates[a]!) || a - b)
    .slice(0, MOST_OFFERED);
  const before = roomy.members.length;
  const held = chosen.reduce((sum, item) => sum + instance.minutes[item]!, 0);
  roomy.whole = Math.max(0, target - held);
  fill(roomy, offered, 'rate');
  return [...chosen, ...roomy.members.slice(before)];
}
