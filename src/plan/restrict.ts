/** The same problem with fewer items, so that a search costs what the items left in it cost. */
import type { Instance } from './instance';

interface Restricted {
  instance: Instance;
  /** The number in the whole problem of each item kept. */
  items: Int32Array;
}

/** Keeps the items given and those that are pinned. */
export function restrict(instance: Instance, keep: Iterable<number>): Restricted {
  const pinned = instance.pinned.map(({ item }) => item);
  const items = Int32Array.from(new Set([...pinned, ...keep])).sort();
  const { parts } = instance;
  const rowsOf = <A extends Float64Array | Int32Array>(from: A, into: A): A => {
    items.forEach((item, k) =>
      into.set(from.subarray(item * parts, (item + 1) * parts), k * parts),
    );
    return into;
  };
  const termStart = new Int32Array(items.length + 1);
  const termIndex: number[] = [];
  const termAmount: number[] = [];
  items.forEach((item, k) => {
    for (let t = instance.termStart[item]!; t < instance.termStart[item + 1]!; t += 1) {
      termIndex.push(instance.termIndex[t]!);
      termAmount.push(instance.termAmount[t]!);
    }
    termStart[k + 1] = termIndex.length;
  });
  const rows = new Map<number, Float64Array>();
  const same = (k: number): Float64Array => {
    let row = rows.get(k);
    if (!row) {
      const whole = instance.same(items[k]!);
      rows.set(k, (row = Float64Array.from(items, (item) => whole[item]!)));
    }
    return row;
  };
  return {
    items,
    instance: {
      ...instance,
      items: items.length,
      minutes: Float64Array.from(items, (item) => instance.minutes[item]!),
      own: rowsOf(instance.own, new Float64Array(items.length * parts)),
      partTerm: rowsOf(instance.partTerm, new Int32Array(items.length * parts)),
      partAmount: Float64Array.from(items, (item) => instance.partAmount[item]!),
      must: Uint8Array.from(items, (item) => instance.must[item]!),
      termStart,
      termIndex: Int32Array.from(termIndex),
      termAmount: Float64Array.from(termAmount),
      pinned: instance.pinned.map(({ item, part }) => ({ item: items.indexOf(item), part })),
      same,
    },
  };
}

/** Where each of the items kept stands. */
export function narrow(part: Int16Array, items: Int32Array): Int16Array {
  return Int16Array.from(items, (item) => part[item]!);
}

/** Where every item of the whole problem stands, when only those kept may stand anywhere. */
export function widen(part: Int16Array, items: Int32Array, count: number): Int16Array {
  const wide = new Int16Array(count).fill(-1);
  items.forEach((item, k) => (wide[item] = part[k]!));
  return wide;
}
