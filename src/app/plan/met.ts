/** The list of what happened at a meeting, to and from what the journal keeps of it. */
import type { ItemView } from '../../engine/desk';
import { NOT_HERE } from '../../journal/labels';
import type { EntryId, GuideId, Meeting, MeetingItem } from '../../journal/records';
import { forget, readStored, store } from '../stored';

/** A meeting as it is kept; without an id while it is a new one. */
export type MeetingDraft = Omit<Meeting, 'id'> & { id?: string };

type Told = Pick<ItemView, 'kind' | 'text'>;

export interface MetLine extends Told {
  /** What the meeting keeps of it beside what is asked here. */
  item: Pick<MeetingItem, 'entry' | 'text' | 'minutes'>;
  used: boolean;
  went: '' | NonNullable<MeetingItem['went']>;
  note: string;
  /** The meeting knows nothing of it: it is only in the guide. */
  beside: boolean;
}

const MISSING: Told = { kind: 'free', text: NOT_HERE };

/**
 * The lines for a guide's items. For a meeting that was kept its own come first, in its order and whether or not the
 * guide still has them, then what the guide has beside. `told` tells entries the guide does not have.
 */
export function linesOf(
  items: readonly ItemView[],
  held?: readonly MeetingItem[],
  told: ReadonlyMap<EntryId, Told> = new Map(),
): MetLine[] {
  const left = [...items];
  const own = (held ?? []).map((one): MetLine => {
    const at = left.findIndex((item) =>
      one.entry ? item.entry === one.entry : !item.entry && item.text === one.text,
    );
    const [found] = at >= 0 ? left.splice(at, 1) : [];
    const { used, went = '', note = '', ...item } = one;
    const { kind, text } =
      found ??
      (one.entry ? told.get(one.entry) : { kind: 'free', text: one.text ?? '' }) ??
      MISSING;
    return { item, kind, text, used, went, note, beside: false };
  });
  const others = left.map(({ entry, text, kind, minutes }): MetLine => ({
    item: { ...(entry ? { entry } : { text }), minutes },
    kind,
    text,
    used: !held,
    went: '',
    note: '',
    beside: held !== undefined,
  }));
  return [...own, ...others];
}

/** What the meeting keeps: all it held, and of the guide beside only what was asked after all. */
export const itemsOf = (lines: readonly MetLine[]): MeetingItem[] =>
  lines
    .filter(({ used, beside }) => used || !beside)
    .map(({ item, used, went, note }) => ({
      ...item,
      used,
      ...(went ? { went } : {}),
      ...(note.trim() ? { note: note.trim() } : {}),
    }));

const keyOf = (guide: GuideId): string => `bookweft.met ${guide}`;

/** What was written of a meeting and not kept yet, for each guide its own. */
export function readMet(guide: GuideId): MeetingDraft | undefined {
  const held = readStored<MeetingDraft>(keyOf(guide));
  return held && Array.isArray(held.items) ? held : undefined;
}

/** Where it cannot be put by, the sheet itself still holds it. */
export const holdMet = (guide: GuideId, meeting: MeetingDraft): boolean =>
  store(keyOf(guide), meeting);

export const forgetMet = (guide: GuideId): void => forget(keyOf(guide));
