/** Filling what room is left, the best first. */
import { Heap } from './heap';
import type { Placement } from './instance';

/** Additions that bring less than this are not worth an item. */
export const LEAST_GAIN = 1e-9;

/** Minutes counted at least, so that an item of no minutes has a rate. */
const LEAST_MINUTES = 0.25;

/**
 * How the next item is picked: by what it adds to a minute, by what it adds in all, or by what it adds beyond the
 * price of the room it takes.
 */
export type Pick = 'rate' | 'gain' | { prices: Float64Array; whole: number };

/**
 * Puts items into a placement while they add anything. Lazy: since an item never adds more to a fuller guide, an
 * old gain is an upper bound and is worked out anew only when it comes to the top (Minoux 1978).
 */
export function fill(placement: Placement, items: Iterable<number>, pick: Pick): void {
  const { instance } = placement;
  const heap = new Heap<number>();
  const offer = (item: number, part: number): void => {
    if (!placement.fits(item, part)) return;
    const gain = placement.gain(item, part);
    if (gain > LEAST_GAIN)
      heap.push(keyOf(pick, gain, instance.minutes[item]!, part), item * instance.parts + part);
  };
  for (const item of items) {
    if (placement.part[item]! >= 0) continue;
    for (let part = 0; part < instance.parts; part += 1) {
      if (placement.may(item, part)) offer(item, part);
    }
  }
  for (let at = heap.pop(); at !== undefined; at = heap.pop()) {
    const item = Math.floor(at / instance.parts);
    const part = at % instance.parts;
    if (placement.part[item]! >= 0 || !placement.fits(item, part)) continue;
    const gain = placement.gain(item, part);
    if (gain <= LEAST_GAIN) continue;
    const key = keyOf(pick, gain, instance.minutes[item]!, part);
    if (key >= heap.topKey - 1e-12) placement.put(item, part);
    else heap.push(key, at);
  }
}

function keyOf(pick: Pick, gain: number, minutes: number, part: number): number {
  if (pick === 'gain') return gain;
  if (pick === 'rate') return gain / Math.max(minutes, LEAST_MINUTES);
  return gain - minutes * (pick.prices[part]! + pick.whole);
}
