import { tick } from 'svelte';

/**
 * Where the hand goes when a sheet closes: back to where it was, or, where that is gone, to the list or the page in view, so that the next
 * key is never lost.
 */
export function handBack(to: Element | null): void {
  const there =
    to instanceof HTMLElement && to.isConnected && to !== document.body ? to : undefined;
  const instead = document.getElementById('found-list') ?? document.getElementById('content');
  (there ?? instead)?.focus({ preventScroll: true });
}

/** Where the hand goes when a row went with the button that was pressed: to the like button of the row in its place, of the last, or to the page. */
export function handOn(like: string, row: number): void {
  if (document.activeElement && document.activeElement !== document.body) return;
  const there = document.querySelectorAll<HTMLElement>(like);
  (there[row] ?? there[there.length - 1] ?? document.getElementById('content'))?.focus({
    preventScroll: true,
  });
}

/** Where the hand goes when a button that shows more goes as it is pressed: to the first button that came in its place. */
export async function handToNew(pressed: Element, show: () => void): Promise<void> {
  const within = pressed.parentElement;
  const before = new Set(within?.querySelectorAll('button'));
  show();
  await tick();
  const came = [...(within?.querySelectorAll('button') ?? [])].find((one) => !before.has(one));
  came?.focus();
}
