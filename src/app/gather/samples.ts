/** Six sample notes, to see what gathering does before one's own notebooks are brought. */
import type { FileHanded } from '../../engine/bench-types';

const NOTES = `Black Beauty

Merrylegs is patient with the children until they forget that he can be tired.

"there is no religion without love" (ch. 13)

D.Q. Whose fault is the fire at the inn, and does it matter that nobody meant harm?

Object lesson: bring an old bit and a bearing rein, if the riding school will lend them. Let everyone hold them and say what they would stop you doing.

For next week: find out what a cab horse ate in a day, and what that cost.

oats, candles, ring Ruth about Saturday
`;

export const sampleNotes = (): FileHanded[] => [
  { path: 'Six sample notes.txt', file: new Blob([NOTES], { type: 'text/plain' }) },
];
