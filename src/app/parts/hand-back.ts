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
