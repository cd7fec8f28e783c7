/** Unfinished entries, put by in this browser while they are written, so that closing the window loses nothing. */
import type {
  Entry,
  EntryId,
  EntryKind,
  Hazard,
  HeadingId,
  HeadingKind,
  Level,
  Picture,
  Tie,
} from '../../journal/records';
import type { WritingStart } from '../house.svelte';
import { forget, readStored, store, storedNames } from '../stored';

/** A tie with the name to show for it. */
export interface NamedTie extends Tie {
  name: string;
  kind: HeadingKind;
}

const DRAFT = 'bookweft.draft';
/** So many windows may write on the same thing beside the first. */
const MORE = 7;

/** Where the draft of a thing begun is stored, so that one unfinished entry never takes the place of another. */
function draftKey({ id, ties, text }: WritingStart): string {
  const begun = id ?? ties?.map(({ heading }) => heading).join(' ') ?? text ?? '';
  return begun ? `${DRAFT} ${begun}` : DRAFT;
}

const ID = /^[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}$/;

/** Unfinished new entries that were begun on headings: where each has its place, and on which headings. */
export function begunOnHeadings(): { key: string; on: HeadingId[]; draft: Draft }[] {
  return storedNames(`${DRAFT} `).flatMap((key) => {
    const begun = key.slice(DRAFT.length + 1).replace(/ #\d+$/, '');
    const on = begun.split(' ') as HeadingId[];
    const draft = readDraft(key);
    return draft && !draft.id && on.every((one) => ID.test(one)) ? [{ key, on, draft }] : [];
  });
}

/** The place of a draft, held by one window as long as its sheet is open. */
export interface HeldDraft {
  key: string;
  release: () => void;
}

/**
 * Takes a place for the draft of a thing begun: one with a draft that no window holds, else one of those with a draft that belong here as well,
 * else the first free one. So two windows that write at once each keep their own, and what a window left comes back in the next sheet.
 */
export async function holdDraft(
  start: WritingStart,
  asWell: () => Promise<string[]>,
): Promise<HeldDraft> {
  await leaving;
  const base = draftKey(start);
  const places = [base, ...Array.from({ length: MORE }, (_, more) => `${base} #${more + 2}`)];
  const begun = places.filter((key) => readDraft(key) !== undefined);
  const elsewhere = begun.length > 0 ? [] : await asWell();
  for (const key of [...begun, ...elsewhere, ...places]) {
    const release = await holdLock(key);
    if (release) return { key, release };
  }
  return { key: base, release: () => undefined };
}

/** The lock let go of last, until the browser has freed it: the next sheet of the same window may want it at once. */
let leaving: Promise<unknown> | undefined;

/** What lets go of a lock (Web Locks, W3C), nothing where another window has it; a browser without locks lets everybody have it. */
function holdLock(name: string): Promise<(() => void) | undefined> {
  return new Promise((resolve) => {
    if (!navigator.locks) return resolve(() => undefined);
    const whole: Promise<unknown> = navigator.locks.request(name, { ifAvailable: true }, (lock) => {
      if (!lock) return resolve(undefined);
      return new Promise<void>((free) =>
        resolve(() => {
          leaving = whole.catch(() => undefined);
          free();
        }),
      );
    });
    whole.catch(() => resolve(() => undefined));
  });
}

/**
 * Puts a draft by when the window may be closed next, as a page is told that is hidden or left (Page Lifecycle, WHATWG): the pause in the typing
 * that is waited for otherwise may never come. Answers how to stop.
 */
export function whenLeaving(put: () => void): () => void {
  const hidden = (): void => {
    if (document.hidden) put();
  };
  window.addEventListener('pagehide', put);
  document.addEventListener('visibilitychange', hidden);
  return () => {
    window.removeEventListener('pagehide', put);
    document.removeEventListener('visibilitychange', hidden);
  };
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
  /** The entry as it was opened to be altered. */
  base?: Entry;
}

/** What the reader made of a draft, without the kind and level the program tells. */
export function byHand({ kind, level, base: _, ...fields }: Draft): string {
  return JSON.stringify({
    ...fields,
    ...(fields.kindByHand ? { kind } : {}),
    ...(fields.levelByHand ? { level } : {}),
  });
}

export const readDraft = (key: string): Draft | undefined => readStored<Draft>(key);
export const storeDraft = (key: string, draft: Draft): boolean => store(key, draft);
export const forgetDraft = (key: string): void => forget(key);
