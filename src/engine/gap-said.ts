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
