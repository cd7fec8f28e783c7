/**
 * Tells styles, as `--seen`, the height that a keyboard on the screen leaves of the page. Most browsers make the page smaller themselves, as
 * index.html asks; those of Apple lay the keyboard over it and tell only the visual viewport.
 */
export function seenAboveKeyboard(): void {
  const seen = window.visualViewport;
  if (!seen || !matchMedia('(pointer: coarse)').matches) return;
  const tell = (): void => {
    // A page pinched larger is seen in part because the reader wants it so.
    if (seen.scale !== 1) return;
    const covered = window.innerHeight - seen.height > 1;
    const style = document.documentElement.style;
    if (covered) style.setProperty('--seen', `${Math.round(seen.height)}px`);
    else style.removeProperty('--seen');
  };
  seen.addEventListener('resize', tell);
}
