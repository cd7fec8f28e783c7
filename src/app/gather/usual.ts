/** What accepting a piece means where something says the same already, and no choice was made. */
import type { BenchRow, TwinChoice } from '../../engine/bench-types';

type Twinned = Pick<BenchRow, 'twin'>;

/**
 * The usual answer to what is there already is to keep what is there; where this piece holds more, both, so that nothing is lost; and where
 * the same words bring more, to add that, which asks for no choice.
 */
export const usualChoice = ({ twin }: Twinned): TwinChoice | undefined =>
  twin?.brings ? undefined : twin && (twin.part === 'holds' ? 'keep-both' : 'keep-ours');

/** Where the reader has just altered the piece, what was typed is kept beside what it is nearly alike. */
export const alteredChoice = (row: Twinned): TwinChoice | undefined =>
  row.twin && !row.twin.exact ? 'keep-both' : usualChoice(row);
