/** Keys and actions that work in every place. Single letters work outside fields only, and can be switched off in Keep. */
import { toDo, wasDone } from './as-done';
import type { Action, House } from './house.svelte';
import { prefs } from './prefs.svelte';
import { PLACES, PLACE_TITLES } from './routes';

/** Whether keys typed now belong to a field. */
export function inField(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName))
  );
}

/** Whether nothing on the page has the focus, only the page itself. */
export const onPage = (): boolean =>
  document.activeElement === document.body || document.activeElement?.id === 'content';

/** Whether a field has an undo of its own: one that words are typed into. */
const typesWords = (target: EventTarget | null): boolean =>
  inField(target) &&
  !(target instanceof HTMLSelectElement) &&
  !(target instanceof HTMLInputElement && /^(?:checkbox|radio|range|file)$/.test(target.type));

const inAlert = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest('[role="alert"]') !== null;

const inDialog = (): boolean => document.querySelector('dialog[open]') !== null;

function nextRegion(back: boolean): void {
  const regions = [...document.querySelectorAll<HTMLElement>('[data-region]')].filter(
    (region) => region.offsetParent !== null,
  );
  if (regions.length === 0) return;
  const at = regions.findIndex((region) => region.contains(document.activeElement));
  const next = regions[(at + (back ? -1 : 1) + regions.length) % regions.length]!;
  const within = next.querySelectorAll<HTMLElement>(
    '[tabindex="0"], input, button, a[href], select, textarea',
  );
  const target = [...within].find((one) => one.offsetParent !== null && !one.matches(':disabled'));
  (target ?? next).focus();
}

function toField(house: House): void {
  house.go({ place: 'find' });
  const focus = (): void => document.getElementById('find-field')?.focus();
  // At once where it is there, so that the next key is typed and does nothing else.
  focus();
  requestAnimationFrame(focus);
}

/** Pages of Read that have no figure of their own. */
const PAGES = [
  { open: 'books', says: 'Go to the books', words: 'catalogue read' },
  { open: 'lists', says: 'Go to the lists of books', words: 'reading lists read' },
  { open: 'challenges', says: 'Go to the challenges', words: 'read prompts' },
  { open: 'figures', says: 'Go to the figures of reading', words: 'read statistics year pages' },
];

export function shellKeys(house: House, event: KeyboardEvent): void {
  if (event.defaultPrevented) return;
  if (house.writing && !inDialog() && !inAlert(event.target)) {
    if (event.key === 'Escape') house.writing = undefined;
    else house.typeAhead(event);
    return;
  }
  const command = event.ctrlKey || event.metaKey;
  if (command && !event.altKey && event.key.toLowerCase() === 'k') {
    event.preventDefault();
    // What it does it does to the page, which lies behind a sheet and cannot be seen.
    if (inDialog() && !house.paletteOpen) return;
    house.paletteOpen = !house.paletteOpen;
    return;
  }
  if (event.key === 'F6') {
    event.preventDefault();
    nextRegion(event.shiftKey);
    return;
  }
  if (event.altKey && !command && event.code === 'KeyN' && !inDialog()) {
    event.preventDefault();
    house.writeFromHere();
    return;
  }
  if (inDialog()) return;
  if (command && event.key.toLowerCase() === 'z') {
    if (typesWords(event.target)) return;
    event.preventDefault();
    void (event.shiftKey ? house.redo() : house.undo());
    return;
  }
  if (command || event.altKey || inField(event.target)) return;
  const digit = /^Digit([1-5])$/.exec(event.code);
  if (event.shiftKey && digit) {
    event.preventDefault();
    house.go({ place: PLACES[Number(digit[1]) - 1]! });
    return;
  }
  if (!prefs.held.keys) return;
  if (event.key === '?') {
    event.preventDefault();
    house.keysOpen = true;
  } else if (event.key === '/') {
    event.preventDefault();
    toField(house);
  } else if (event.key === 'n' || event.key === 'N') {
    event.preventDefault();
    house.writeFromHere();
  }
}

/** What the palette offers wherever one is. */
export function shellActions(house: House): Action[] {
  const places = PLACES.map((place, index): Action => ({
    id: `go-${place}`,
    says: `Go to ${PLACE_TITLES[place]}`,
    keys: `Shift ${index + 1}`,
    run: () => house.go({ place }),
  }));
  const dark =
    prefs.held.scheme === 'dark' ||
    (prefs.held.scheme === 'system' && matchMedia('(prefers-color-scheme: dark)').matches);
  const scheme = dark ? 'light' : 'dark';
  return [
    {
      id: 'write',
      says: 'Write an entry',
      words: 'new note quote question lesson assignment',
      keys: 'N, or Alt N in a field',
      run: () => house.write(),
    },
    {
      id: 'find',
      says: 'Find something in the journal',
      words: 'search look for',
      keys: '/',
      run: () => toField(house),
    },
    ...places,
    ...PAGES.map(({ open, says, words }): Action => ({
      id: `read-${open}`,
      says,
      words,
      run: () => house.go({ place: 'read', open }),
    })),
    {
      id: 'undo',
      says: `Take back: ${wasDone(house.undoState.undo ?? '')}`,
      words: 'undo',
      keys: 'Ctrl Z',
      when: () => house.undoState.undo !== undefined,
      run: () => void house.undo(),
    },
    {
      id: 'redo',
      says: `Do again: ${toDo(house.undoState.redo ?? '')}`,
      words: 'redo',
      keys: 'Ctrl Shift Z',
      when: () => house.undoState.redo !== undefined,
      run: () => void house.redo(),
    },
    {
      id: 'comfort',
      says: 'Reading comfort',
      words: 'dark light plain letters font size keys settings',
      run: () => house.openComfort(),
    },
    {
      id: 'scheme',
      says: `Use the ${scheme} scheme`,
      words: 'dark light night colours',
      run: () => prefs.set('scheme', scheme),
    },
    {
      id: 'letters',
      says: prefs.held.letters === 'plain' ? 'Use the usual letters' : 'Use plain letters',
      words: 'font dyslexia legible',
      run: () => prefs.set('letters', prefs.held.letters === 'plain' ? 'usual' : 'plain'),
    },
    {
      id: 'history',
      says: 'History and storage',
      words: 'undo list disk space quota keep backup where',
      run: () => house.openKeepPage(),
    },
    {
      id: 'region',
      says: 'Go to the next part of the page',
      words: 'region focus jump',
      keys: 'F6',
      run: () => nextRegion(false),
    },
    {
      id: 'keys',
      says: 'Show all keys',
      words: 'keyboard help shortcuts',
      keys: '?',
      run: () => (house.keysOpen = true),
    },
    {
      id: 'copy-out',
      says: 'Save a copy of the journal',
      words: 'export backup keep',
      run: () => void house.saveCopy(),
    },
    {
      id: 'copy-in',
      says: 'Open a copy',
      words: 'import restore merge keep',
      run: () => house.openCopy(),
    },
    {
      id: 'publish',
      says: 'Print or publish the journal',
      words: 'book pdf year theme csv bibtex skos calendar family export',
      run: () => house.openPublish(),
    },
  ];
}
