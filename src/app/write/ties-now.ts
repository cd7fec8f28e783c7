/** Ties that were made a while ago, as they are in the journal now. */
import type { Desk } from '../../engine/desk';
import type { HeadingId, HeadingKind } from '../../journal/records';
import type { NamedTie } from './drafts';

type Headings = Pick<Desk, 'headings'>;

export interface TiesNow {
  /** In the order they were; one to a heading that was merged is to what that was merged into. */
  ties: NamedTie[];
  /** Those whose headings are no more. */
  gone: NamedTie[];
}

/** Every heading of the journal by its id, with its name and kind. */
export async function headingsNow(
  desk: Headings,
): Promise<Map<HeadingId, { name: string; kind: HeadingKind }>> {
  const known = await desk.headings('', undefined, 100_000);
  return new Map(known.map(({ id, name, kind }) => [id, { name, kind }]));
}

/** The heading that has a name of a kind, its own or beside it, as one has the names of all that was merged into it. */
export async function calledSo(
  desk: Headings,
  { name, kind }: Pick<NamedTie, 'name' | 'kind'>,
): Promise<{ heading: HeadingId; name: string } | undefined> {
  const called = await desk.headings(name, kind);
  const one = called.find((choice) => choice.name === name || choice.by === name);
  return one && { heading: one.id, name: one.name };
}

export async function tiesNow(desk: Headings, before: readonly NamedTie[]): Promise<TiesNow> {
  const known = await headingsNow(desk);
  const now: TiesNow = { ties: [], gone: [] };
  for (const tie of before) {
    const as = known.get(tie.heading) ?? (await calledSo(desk, tie));
    if (as) now.ties.push({ ...tie, ...as });
    else now.gone.push(tie);
  }
  return now;
}

/** That an entry is not tied to these, in a sentence; nothing where there are none. */
export function saidGone(names: readonly string[]): string {
  if (names.length === 0) return '';
  const quoted = names.map((name) => `“${name}”`).join(', ');
  return names.length === 1
    ? `${quoted} is no longer in the journal, and the tie to it is left out.`
    : `${quoted} are no longer in the journal, and the ties to them are left out.`;
}
