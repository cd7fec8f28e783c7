import type { Desk } from '../../engine/desk';

/** Words typed or pasted and not gathered yet: they are nowhere else. */
export class Pasting {
  text = $state('');
  /** Where they are from. */
  name = $state('');

  clear(): void {
    this.text = '';
    this.name = '';
  }
}

const asLeft = new WeakMap<Desk, Pasting>();

/** What was pasted beside a journal: kept as long as the window is open, also where the sheet is closed and Gather is left. */
export function pastingOf(desk: Desk): Pasting {
  const pasting = asLeft.get(desk) ?? new Pasting();
  asLeft.set(desk, pasting);
  return pasting;
}
