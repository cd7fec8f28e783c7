import { getContext, setContext, untrack } from 'svelte';
import type { Desk, Done, KeepState, Totals, UndoState } from '../engine/desk';
import type { EntryId, EntryKind, HeadingId, Tie } from '../journal/records';
import { asDone, wasDone } from './as-done';
import { saveFile } from './files';
import { address, readRoute, type Route } from './routes';
import { Tray } from './tray.svelte';

/** An action that the command palette can find by its words. */
export interface Action {
  id: string;
  says: string | (() => string);
  /** Other words it may be looked for by. */
  words?: string;
  keys?: string;
  run: () => void;
  /** One of so many that it is listed only once words look for it. */
  sought?: true;
  /** Whether it can be done now; one without can be done always. */
  when?: () => boolean;
}

/** Actions, or what tells them when the palette opens, where they come and go with what is shown. */
export type Actions = Action[] | (() => Action[]);

/** A key the foot shows for the place in view. */
export interface KeyHint {
  keys: string[];
  does: string;
}

/** What is known of an entry before it is written: an id to alter one, or ties, kind and text to begin with. */
export interface WritingStart {
  id?: EntryId;
  kind?: EntryKind;
  text?: string;
  ties?: Tie[];
  done?: (id: EntryId) => void;
}

const KEY = Symbol('house');
const BEGUN = 'bookweft.begun';

/** What was just done, as it is told. */
interface Said {
  text: string;
  undoable: boolean;
  at: number;
  /** Where one may want to go on from it. */
  leads?: { says: string; to: Route };
}

/**
 * What every screen shares: where one is, totals, whether all is kept, what was just done, the tray of entries
 * for a guide, and the actions of the place in view. Screens ask the journal through `desk`.
 */
export class House {
  route = $state<Route>(readRoute(location.hash));
  totals = $state.raw<Totals | undefined>();
  /** The journal has answered: every heading is here, and the first entries. */
  opened = $state(false);
  keep = $state.raw<KeepState>({ state: 'keeping', sinceCopy: 0, aside: [] });
  undoState = $state.raw<UndoState>({});
  /** A journal was here when the app was last open: the place can be shown before the journal has answered. */
  readonly expected = remembered(BEGUN) !== undefined;
  /** Grows by one with every change of the journal: screens ask again when it does. */
  revision = $state(0);
  /** The last thing done, told in the live region and the undo bar. */
  said = $state.raw<Said | undefined>();
  hints = $state.raw<KeyHint[]>([]);
  note = $state('');
  /** What N and Alt N do on the page in view, where an entry begun there is on something; an entry on nothing else. */
  writesHere: (() => void) | undefined;
  actions = $state.raw<Actions>([]);
  /** Actions of parts of the place, beside those of the place itself. */
  offered = $state.raw<readonly Actions[]>([]);
  paletteOpen = $state(false);
  keysOpen = $state(false);
  failed = $state<string | undefined>();
  /** The entry being written, when the writing sheet is open. */
  writing = $state.raw<WritingStart | undefined>();
  /** What was typed before the writing sheet was there to take it. */
  ahead = '';
  /** A heading being made or chosen just now: keeping waits for it. */
  choosing: Promise<void> | undefined;
  comfortOpen = $state(false);
  copyOpen = $state(false);
  keepPageOpen = $state(false);
  /** The sheet to print or publish the journal, and the heading it is to begin with. */
  publishing = $state.raw<{ heading?: { id: HeadingId; name: string } } | undefined>();
  readonly #tray = new Tray();
  /** All of the journal has been here once. */
  #whole = false;

  constructor(readonly desk: Desk) {}

  async open(): Promise<void> {
    window.addEventListener('hashchange', () => {
      this.route = readRoute(location.hash);
    });
    this.#tray.follow();
    const listening = this.desk.listen({
      changed: (totals, undo) => {
        this.totals = totals;
        this.undoState = undo;
        this.revision += 1;
        this.#isWhole(totals);
      },
      keeping: (state) => {
        this.keep = state;
      },
      arriving: (totals) => {
        this.totals = totals;
      },
    });
    const opening = this.desk.open();
    await listening;
    this.totals = await opening;
    remember(BEGUN, this.totals.empty ? undefined : 'yes');
    this.keep = await this.desk.keepState();
    this.opened = true;
  }

  /** Once the journal is here, what is put by and no longer in it is let go; where a part of it could not be read, nothing is. */
  #isWhole({ loading, empty }: Totals): void {
    if (this.#whole || loading > 0) return;
    this.#whole = true;
    if (!empty && this.keep.aside.length === 0) void this.#tray.leaveGone(this.desk);
  }

  go(route: Route): void {
    const to = address(route);
    if (location.hash !== to) location.hash = to;
  }

  /** Runs a change and tells what came of it; a refusal is told the same way. */
  async tell(doing: Promise<Done>): Promise<Done> {
    const done = await doing;
    this.say(done.said, done.ok && !done.nothing);
    return done;
  }

  /** Opens the writing sheet: for a new entry (with what is known of it), or to alter one. */
  write(start: WritingStart = {}): void {
    this.ahead = '';
    this.writing = start;
  }

  /** Begins an entry from the page in view, on what the page says. */
  writeFromHere(): void {
    if (this.writesHere) this.writesHere();
    else this.write();
  }

  /** Takes a key typed while the writing sheet is still coming, so that it is neither lost nor taken for a key of the page. */
  typeAhead(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { key } = event;
    if (key === 'Backspace') this.ahead = [...this.ahead].slice(0, -1).join('');
    else if (key === 'Enter') this.ahead += '\n';
    else if ([...key].length === 1) this.ahead += key;
    else return;
    event.preventDefault();
  }

  /** A part of a place offers what can be done in it, until what this answers is called. */
  offer(actions: Actions): () => void {
    untrack(() => (this.offered = [...this.offered, actions]));
    return () => untrack(() => (this.offered = this.offered.filter((one) => one !== actions)));
  }

  openComfort(): void {
    this.comfortOpen = true;
  }

  openKeepPage(): void {
    this.keepPageOpen = true;
  }

  openPublish(heading?: { id: HeadingId; name: string }): void {
    this.publishing = heading ? { heading } : {};
  }

  openCopy(): void {
    this.copyOpen = true;
  }

  /** Asks the browser never to clear the store by itself. Only a window may ask. */
  async askToPersist(): Promise<boolean> {
    const promised = (await navigator.storage?.persist?.()) ?? false;
    await this.desk.measure();
    return promised;
  }

  /** Saves the whole journal as a file where the browser saves files. */
  async saveCopy(): Promise<void> {
    try {
      const { name, type, bytes } = await this.desk.copyOut();
      saveFile(name, new Blob([bytes], { type }));
      this.say(`A copy is saved as ${name}`);
    } catch (error) {
      this.say(`No copy could be saved: ${(error as Error).message}`);
    }
  }

  /** Tells what was done; where it can be taken back it may be given as an edit's name, "Tie a note to Spring". */
  say(text: string, undoable = false, leads?: Said['leads']): void {
    const said = { text: undoable ? asDone(text) : text, undoable, at: Date.now() };
    this.said = leads ? { ...said, leads } : said;
  }

  async undo(): Promise<void> {
    const done = await this.desk.undo();
    this.say(done.ok ? `Taken back: ${wasDone(done.said)}` : done.said);
  }

  async redo(): Promise<void> {
    const done = await this.desk.redo();
    this.say(done.ok ? `Done again: ${wasDone(done.said)}` : done.said);
  }

  /** Entries put by for a guide. */
  get tray(): readonly EntryId[] {
    return this.#tray.ids;
  }

  inTray(id: EntryId): boolean {
    return this.tray.includes(id);
  }

  /** Puts entries in the tray kept for Plan. */
  putInTray(ids: EntryId[]): void {
    this.#tray.add(ids);
    const many = this.tray.length;
    this.say(`${many} ${many === 1 ? 'entry' : 'entries'} put by for a guide`, false, {
      says: 'Make the guide',
      to: { place: 'plan', open: 'new' },
    });
  }

  takeFromTray(id: EntryId): void {
    this.#tray.take([id]);
  }

  /** Takes these out of the tray, or all there is. */
  emptyTray(of?: readonly EntryId[]): void {
    if (of) this.#tray.take(of);
    else this.#tray.empty();
  }
}

function remembered(name: string): string | undefined {
  try {
    return localStorage.getItem(name) ?? undefined;
  } catch {
    return undefined;
  }
}

function remember(name: string, value: string | undefined): void {
  try {
    if (value === undefined) localStorage.removeItem(name);
    else localStorage.setItem(name, value);
  } catch {
    // Where the browser stores nothing, nothing is expected either.
  }
}

export const layHouse = (house: House): House => setContext(KEY, house);
export const useHouse = (): House => getContext<House>(KEY);
