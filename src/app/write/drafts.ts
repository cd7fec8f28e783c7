/** Unfinished entries, put by in this browser while they are written, so that closing the window loses nothing. */
import type {
  EntryId,
  EntryKind,
  Hazard,
  HeadingKind,
  Level,
  Picture,
  Tie,
} from '../../journal/records';
import type { WritingStart } from '../house.svelte';

/** A tie with the name to show for it. */
export interface NamedTie extends Tie {
  name: string;
  kind: HeadingKind;
}

const DRAFT = 'bookweft.draft';

/** Where the draft of a thing begun is stored, so that one unfinished entry never takes the place of another. */
export function draftKey({ id, ties, text }: WritingStart): string {
  const begun = id ?? ties?.map(({ heading }) => heading).join(' ') ?? text ?? '';
  return begun ? `${DRAFT} ${begun}` : DRAFT;
}

/** The fields of an entry as they are being written. */
export interface Draft {
  id?: EntryId;
  kind: EntryKind;
  kindByHand: boolean;
  title: string;
  text: string;
  ties: NamedTie[];
  page: string;
  chapter: string;
  written: string;
  level?: Level;
  levelByHand: boolean;
  minutes: string;
  answer: string;
  probes: string;
  materials: string;
  cautions: Hazard[];
  ages: string;
  source: string;
  object: string;
  observations: string;
  idea: string;
  objective: string;
  /** Missing in what was stored before there were such fields. */
  steps?: string;
  preparation?: string;
  due?: string;
  picture?: Picture;
}

/** What the reader made of a draft, without the kind and level the program tells. */
export function byHand({ kind, level, ...fields }: Draft): string {
  return JSON.stringify({
    ...fields,
    ...(fields.kindByHand ? { kind } : {}),
    ...(fields.levelByHand ? { level } : {}),
  });
}

export function readDraft(key: string): Draft | undefined {
  try {
    return (JSON.parse(localStorage.getItem(key) ?? 'null') as Draft | null) ?? undefined;
  } catch {
    return undefined;
  }
}

export function storeDraft(key: string, draft: Draft): void {
  try {
    localStorage.setItem(key, JSON.stringify(draft));
  } catch {
    // The sheet itself still holds the words while it is open.
  }
}

export function forgetDraft(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // Nothing was stored then.
  }
}
