/** How much room to write a handout gives, the same in every format. */

/** Lines of writing space on one side of a leaf, shared between what is to be written; Letter has room for no more. */
const LEAF_LINES = 8;
const FEWEST_LINES = 4;

/** Lines for each of so many activities that want some. */
export function linesFor(activities: number): number {
  return Math.max(FEWEST_LINES, Math.floor(LEAF_LINES / Math.max(1, activities)));
}

/** Whether the first column of a grid names its rows: its head is empty. */
export function isNamedGrid(table: string): boolean {
  const [head = ''] = table.trim().split('\n');
  const first = head.replace(/^\s*\|/, '').split('|')[0] ?? '';
  return first.trim() === '';
}
