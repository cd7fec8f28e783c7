/** Local search: take one or two items out, or move one, and fill again while that is worth more. */
import { fill, type Pick } from './greedy';
import type { Placement } from './instance';

const BETTER = 1e-7;

/**
 * Improves a placement until no single exchange (or, with `pairs`, no exchange of two) helps. Pinned items do not
 * move; musts may move between parts.
 *
 * @param pool items that may come in.
 * @param work the most calls of `fill`; the search stops there.
 */
export function improve(
  placement: Placement,
  pool: readonly number[],
  picks: readonly Pick[],
  { pairs, work }: { pairs: boolean; work: number },
): void {
  let left = work;
  const pinned = new Set(placement.instance.pinned.map(({ item }) => item));
  const attempt = (change: () => boolean): boolean => {
    for (const pick of picks) {
      if ((left -= 1) < 0) return false;
      const before = placement.keep();
      if (change()) {
        fill(placement, pool, pick);
        if (placement.value > before.value + BETTER) return true;
      }
      placement.restore(before);
    }
    return false;
  };
  for (let improved = true; improved && left > 0;) {
    const movable = placement.members.filter((item) => !pinned.has(item)).sort((a, b) => a - b);
    improved =
      movable.some((item) => attempt(() => without(placement, pool, [item]))) ||
      movable.some((item) => elsewhere(placement, item, attempt)) ||
      (pairs &&
        movable.some((a, k) =>
          movable.slice(k + 1).some((b) => attempt(() => without(placement, pool, [a, b]))),
        ));
  }
}

/** Takes items out and puts in their place the one newcomer that is best there. */
function without(placement: Placement, pool: readonly number[], out: number[]): boolean {
  const { instance } = placement;
  if (out.some((item) => instance.must[item])) return false;
  for (const item of out) placement.take(item);
  let most = 0;
  let chosen: [number, number] | undefined;
  for (const item of pool) {
    if (placement.part[item]! >= 0 || out.includes(item)) continue;
    for (let part = 0; part < instance.parts; part += 1) {
      if (!placement.may(item, part) || !placement.fits(item, part)) continue;
      const gain = placement.gain(item, part);
      if (gain > most) [most, chosen] = [gain, [item, part]];
    }
  }
  if (!chosen) return false;
  placement.put(...chosen);
  return true;
}

/** Tries an item in each other part that has room, or makes room by an exchange with one item there. */
function elsewhere(
  placement: Placement,
  item: number,
  attempt: (change: () => boolean) => boolean,
): boolean {
  const { instance } = placement;
  const from = placement.part[item]!;
  for (let part = 0; part < instance.parts; part += 1) {
    if (part === from || !placement.may(item, part)) continue;
    const moved = attempt(() => {
      placement.take(item);
      if (!placement.fits(item, part)) return false;
      placement.put(item, part);
      return true;
    });
    if (moved) return true;
    for (const other of [...placement.members]) {
      if (placement.part[other] !== part || !placement.may(other, from)) continue;
      if (instance.pinned.some((pin) => pin.item === other)) continue;
      const exchanged = attempt(() => exchange(placement, item, other));
      if (exchanged) return true;
    }
  }
  return false;
}

function exchange(placement: Placement, a: number, b: number): boolean {
  const [partA, partB] = [placement.part[a]!, placement.part[b]!];
  placement.take(a);
  placement.take(b);
  if (!placement.fits(a, partB)) return false;
  placement.put(a, partB);
  if (!placement.fits(b, partA)) return false;
  placement.put(b, partA);
  return true;
}
