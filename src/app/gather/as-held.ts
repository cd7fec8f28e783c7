/** The list as it is now, of what has not changed the very things that are on the screen: they are not drawn anew. */
export function asHeld<T>(held: readonly T[], now: readonly T[], key: (one: T) => unknown): T[] {
  const before = new Map(held.map((one) => [key(one), one]));
  return now.map((one) => {
    const same = before.get(key(one));
    return same && JSON.stringify(same) === JSON.stringify(one) ? same : one;
  });
}
