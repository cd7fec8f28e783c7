/** Words of the bench that more than one part of it says. */
import type { BenchOrder, BenchRow, BenchShow, Settled } from '../../engine/bench-types';
import type { KeyHint } from '../house.svelte';
import { counted, KIND_SAYS, number, sayDay } from '../say';

export const SHOWS: [BenchShow, string][] = [
  ['left', 'all that are left'],
  ['note', 'notes left'],
  ['quote', 'quotes left'],
  ['question', 'questions left'],
  ['lesson', 'lesson ideas left'],
  ['assignment', 'assignments left'],
  ['books', 'books and meetings left'],
  ['twins', 'those nearly alike'],
  ['sure', 'the sure ones'],
  ['likely', 'the likely ones'],
  ['guess', 'the guesses'],
  ['accepted', 'what is accepted'],
  ['seen', 'what was seen before'],
  ['skipped', 'what is skipped'],
];

/** What was dropped and could not be opened. */
export function unopenedSaid(many: number): string {
  const [is, it] = many === 1 ? ['is', 'it'] : ['are', 'them'];
  return `${counted(many, 'file or folder', 'files or folders')} could not be opened and ${is} left out. Close ${it} in other programs and drop ${it} again.`;
}

/** More was dropped than is taken at once. */
export const moreSaid = (most: number): string =>
  `There are more than ${number(most)} files in it; the others were left out. Drop the folders inside one after another.`;

export const ORDERS: [BenchOrder, string][] = [
  ['notebook', 'the notebook'],
  ['certainty', 'certainty'],
  ['kind', 'kind'],
];

export const SETTLED_SAYS: Record<Settled, string> = {
  accepted: 'Accepted',
  skipped: 'Skipped',
  seen: 'Seen before',
};

/** How a piece is like the one it is a twin of. */
export const TWIN_SAYS = {
  same: 'the same',
  near: 'nearly alike',
  inside: 'inside a longer one',
  holds: 'holds more',
};

/** What the keys do to a twin; where it holds more than the other, A keeps both of itself. */
export function twinHints({ twin }: Pick<BenchRow, 'twin'>): KeyHint[] {
  const wording = { keys: ['W'], does: 'take this wording' };
  if (twin?.part === 'holds') return [{ keys: ['A', 'B'], does: 'keep both' }, wording];
  if (twin?.brings)
    return [
      { keys: ['A'], does: 'add what it brings' },
      { keys: ['B'], does: 'keep both' },
    ];
  const ours = twin?.where === 'here' ? 'keep the earlier one' : 'keep the one we have';
  return [{ keys: ['A'], does: ours }, wording, { keys: ['B'], does: 'keep both' }];
}

export const kindSaid = ({ kind }: Pick<BenchRow, 'kind'>): string =>
  kind === 'book' ? 'Book' : kind === 'meeting' ? 'Meeting' : KIND_SAYS[kind];

/** "this morning", "yesterday", "on 14 Mar 2024", of an ISO time. */
export function whenSaid(iso: string, now = new Date()): string {
  const at = new Date(iso);
  const day = (date: Date): number =>
    Math.round(
      new Date(date.getFullYear(), date.getMonth(), date.getDate()).getTime() / 86_400_000,
    );
  const ago = day(now) - day(at);
  if (ago === 1) return 'yesterday';
  if (ago !== 0) return `on ${sayDay(iso)}`;
  return at.getHours() < 12
    ? 'this morning'
    : at.getHours() < 18
      ? 'this afternoon'
      : 'this evening';
}

/** A gathering by its name, or by its day where it has none. */
export const gatheringSaid = (name: string, on: string): string =>
  name || `Gathering of ${sayDay(on)}`;
