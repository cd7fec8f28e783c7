/** Smaller than this, what is left of a gap is rounding in the sums. */
const NOTHING = 1e-9;
/** Beyond this a number says no more: nearly all that is in the guide was used lately, say. */
const FAR = 0.9;

/**
 * How far a guide may be from the best there can be, in words: never less than the truth.
 *
 * @param gap (bound - value) / bound, 0 to 1.
 */
export function gapSaid(gap: number): string {
  if (gap <= NOTHING) return 'No better choice exists for this purpose';
  const tenths = Math.ceil(gap * 1000 - NOTHING);
  if (gap > FAR) return 'Perhaps far below the best choice there can be';
  return `At most ${(tenths / 10).toFixed(1)}% below the best choice there can be`;
}

/**
 * Why a guide that could not be better leaves time free, and what to do about it; nothing where it does neither.
 *
 * @param gap as for `gapSaid`.
 * @param remarks those of the guide, of which one says that minutes are free.
 */
export function shortSaid(gap: number, remarks: readonly { code: string }[]): string | undefined {
  if (gap > NOTHING || !remarks.some(({ code }) => code === 'under')) return undefined;
  return 'It is short because nothing else is near enough to the purpose, rested, and short enough for its part. Take from the suggestions, or widen the focus.';
}
