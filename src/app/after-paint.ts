/** Runs once what changed is on the screen; where no frames are drawn (a tab in the background), soon. */
export function afterPaint(run: () => void): void {
  if (document.hidden) setTimeout(run);
  else requestAnimationFrame(() => setTimeout(run));
}
