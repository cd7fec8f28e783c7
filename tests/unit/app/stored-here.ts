/** Stands in for what a browser stores: every window of a test shares it. */
import { vi } from 'vitest';

export function storedHere(): Map<string, string> {
  const held = new Map<string, string>();
  vi.stubGlobal('localStorage', {
    get length() {
      return held.size;
    },
    key: (at: number) => [...held.keys()][at] ?? null,
    getItem: (key: string) => held.get(key) ?? null,
    setItem: (key: string, value: string) => void held.set(key, value),
    removeItem: (key: string) => void held.delete(key),
  });
  return held;
}
