import { dateAsTyped } from '../../engine/dates-typed';
import type { Desk, Done, EntryDraft, WritingHelp } from '../../engine/desk';
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
import { number } from '../say';
import { asRecord, plainTies } from './as-record';
import { asWritten, NOTHING_WRITTEN } from './as-written';
import { strandedFor } from './stranded';
import { headingsNow, saidGone, tiesNow } from './ties-now';
import {
  byHand,
  forgetDraft,
  holdDraft,
  readDraft,
  storeDraft,
  type Draft,
  type HeldDraft,
  type NamedTie,
} from './drafts';

/** Of a longer entry the beginning tells what to propose. */
const HELPED = 50_000;

/** Characters an entry may have, as the journal's shape says. */
const LONGEST = 1_000_000;

/** The page after one, or after the last of several: 12 after 11 and after "9–11"; any other stays. */
export function nextPage(page: string): string {
  const last = /^(?:\d+\s*[-–]\s*)?(\d+)$/.exec(page.trim())?.[1];
  return last === undefined ? page : String(Number(last) + 1);
}

/** An entry in the writing: what is typed, what is proposed, and how it becomes a record. */
export class WritingState {
  id: EntryId | undefined;
  kind = $state<EntryKind>('note');
  kindByHand = $state(false);
  title = $state('');
  text = $state('');
  ties = $state.raw<NamedTie[]>([]);
  page = $state('');
  chapter = $state('');
  written = $state('');
  level = $state<Level | undefined>();
  levelByHand = $state(false);
  minutes = $state('');
  answer = $state('');
  probes = $state('');
  materials = $state('');
  cautions = $state.raw<Hazard[]>([]);
  ages = $state('');
  source = $state('');
  object = $state('');
  observations = $state('');
  idea = $state('');
  objective = $state('');
  steps = $state('');
  preparation = $state('');
  due = $state('');
  picture = $state.raw<Picture | undefined>();
  help = $state.raw<WritingHelp | undefined>();
  /** Proposals put aside for this entry. */
  aside = $state.raw<HeadingId[]>([]);
  recovered = $state(false);
  /** Names it was tied to, and is no more since their headings are gone. */
  lost = $state.raw<string[]>([]);
  #original: Entry | undefined;
  #asked = 0;
  #held: HeldDraft | undefined;
  #closed = false;
  #key = '';
  #start: WritingStart = {};
  /** The fields as they were begun: what is still so needs no draft. */
  #begun = '';

  constructor(readonly desk: Desk) {}

  /** Begins a new entry or opens one to alter; an unfinished draft for the same thing comes back. */
  async begin(start: WritingStart): Promise<void> {
    this.#start = start;
    this.#held ??= await holdDraft(start, async () =>
      (await this.#whole()) ? strandedFor(this.desk, start) : [],
    );
    if (this.#closed) this.#held.release();
    this.#key = this.#held.key;
    const draft = readDraft(this.#key);
    if (start.id) await this.#open(start.id);
    else await this.#fresh(start);
    this.#begun = byHand(this.#fields());
    if (draft && byHand(draft) !== this.#begun) {
      const { base, ...fields } = draft;
      Object.assign(this, { ...fields, picture: draft.picture });
      // What was changed since then is brought together with it when it is kept.
      this.#original = base ?? this.#original;
      if (await this.#whole()) await this.#tiedNow();
      this.recovered = true;
    }
    await this.ask();
  }

  /** Where a part of the journal could not be read, nothing that is missing is gone. */
  async #whole(): Promise<boolean> {
    return (await this.desk.keepState()).aside.length === 0;
  }

  /** Leaves the draft of before and begins as was asked for. */
  async afresh(): Promise<void> {
    this.next();
    this.page = this.chapter = this.source = '';
    await this.begin(this.#start);
  }

  /** Whether something was typed or chosen that is not kept. */
  get altered(): boolean {
    return this.#begun !== '' && byHand(this.#fields()) !== this.#begun;
  }

  async #fresh(start: WritingStart): Promise<void> {
    const ties = await this.#named(start.ties ?? []);
    this.kind = start.kind ?? 'note';
    this.kindByHand = start.kind !== undefined;
    this.text = start.text ?? '';
    this.written = dateAsTyped(new Date().toLocaleDateString('sv-SE'));
    this.ties = ties;
  }

  async #open(id: EntryId): Promise<void> {
    const view = await this.desk.entry(id);
    if (!view) return;
    const { entry } = view;
    // Nothing is in the sheet before all is, so that what is kept at once is whole.
    const ties = await this.#named(entry.ties);
    this.#original = entry;
    Object.assign(this, asWritten(entry, ties));
  }

  async #named(ties: readonly Tie[]): Promise<NamedTie[]> {
    const known = await headingsNow(this.desk);
    return ties.flatMap((tie) => {
      const as = known.get(tie.heading);
      return as ? [{ ...tie, ...as }] : [];
    });
  }

  /** What it is tied to, each heading once whatever its roles and places. */
  get tied(): NamedTie[] {
    return [...new Map(this.ties.map((tie) => [tie.heading, tie])).values()];
  }

  get firstBook(): NamedTie | undefined {
    return this.ties.find((tie) => tie.kind === 'book');
  }

  /** Lessons and assignments have titles, and so may what was gathered. */
  get titled(): boolean {
    return (
      this.kind === 'lesson' ||
      this.kind === 'assignment' ||
      this.title !== '' ||
      this.#original?.title !== undefined
    );
  }

  get empty(): boolean {
    return this.text.trim() === '' && this.title.trim() === '' && !this.picture;
  }

  /** Why it cannot be kept as it stands, in a sentence. */
  get problem(): string | undefined {
    if (this.empty) return 'There is nothing to keep yet: write a word, or paste a picture.';
    if (this.text.length > LONGEST)
      return `This is longer than an entry may be, ${number(LONGEST)} characters. Keep it in two or more, or gather it as a file.`;
    const minutes = this.minutes.trim();
    if (minutes && !(Number(minutes) > 0))
      return `Minutes are a number above nothing, such as 10, not “${minutes}”.`;
    return undefined;
  }

  /** The kind the reader chose; what is typed no longer tells it. */
  choose(kind: EntryKind): void {
    this.kind = kind;
    this.kindByHand = true;
    void this.ask();
  }

  tie(choice: { id: HeadingId; name: string; kind: HeadingKind }): void {
    if (this.ties.some((tie) => tie.heading === choice.id)) return;
    const role = choice.kind === 'book' ? 'from' : 'about';
    this.ties = [
      ...this.ties,
      { heading: choice.id, role, by: 'reader', name: choice.name, kind: choice.kind },
    ];
    this.store();
    void this.ask();
  }

  untie(id: HeadingId): void {
    this.#without(id);
    this.store();
    void this.ask();
  }

  /** The page is that of the book that is the first then. */
  #without(id: HeadingId): void {
    const before = this.firstBook;
    this.ties = this.ties.filter((tie) => tie.heading !== id);
    const book = this.firstBook;
    if (book && book !== before) {
      this.page = book.place?.page ?? '';
      this.chapter = book.place?.chapter ?? '';
    }
  }

  /** Ties to headings that were merged or removed since become what they are now: how many could not. */
  async #tiedNow(): Promise<number> {
    const { ties, gone } = await tiesNow(this.desk, this.ties);
    for (const { heading } of gone) this.#without(heading);
    this.ties = ties;
    this.lost = [...new Set([...this.lost, ...gone.map(({ name }) => name)])];
    return gone.length;
  }

  /** Which headings are no more, in a sentence. */
  get lostSaid(): string {
    return saidGone(this.lost);
  }

  get proposals(): NonNullable<WritingHelp>['ties'] {
    const held = new Set<HeadingId>([...this.ties.map((tie) => tie.heading), ...this.aside]);
    return (this.help?.ties ?? []).filter((tie) => !held.has(tie.heading)).slice(0, 6);
  }

  /** Asks what can be proposed for what is typed so far; only the newest answer counts. */
  async ask(): Promise<void> {
    const asked = ++this.#asked;
    const help = await this.desk.help({
      ...(this.id ? { id: this.id } : {}),
      text: this.text.slice(0, HELPED),
      ...(this.kindByHand ? { kind: this.kind } : {}),
      ties: plainTies(this),
    });
    if (asked !== this.#asked) return;
    this.help = help;
    if (!this.kindByHand && this.text.trim()) this.kind = help.kind.kind;
    if (!this.levelByHand)
      this.level = this.#levelled ? (help.level?.level ?? this.#original?.level) : undefined;
  }

  get #levelled(): boolean {
    return this.kind === 'question' || this.kind === 'lesson' || this.kind === 'assignment';
  }

  /** Keeps what is written, of the kind and level that all of it tells: what came of it, and the text as it was kept. */
  async keep(): Promise<Done & { text: string }> {
    // What cannot be told keeps nothing from being kept.
    if (!this.kindByHand || !this.levelByHand) await this.ask().catch(() => undefined);
    const { text } = this;
    try {
      const done = await this.desk.saveEntry(this.draft());
      if (done.code !== 'missing-heading') return { ...done, text };
      // Where a tie has to be left out, the reader is asked first.
      if ((await this.#tiedNow()) > 0)
        return { ok: false, said: `${this.lostSaid} Keep once more to keep it so.`, text };
      return { ...(await this.desk.saveEntry({ ...this.draft(), text: text.trim() })), text };
    } catch (error) {
      return { ok: false, said: `It could not be kept: ${(error as Error).message}`, text };
    }
  }

  /** The record as it would be kept. Unknown and untouched fields of an altered entry stay. */
  draft(): EntryDraft {
    return asRecord(this.#fields(), this.#original, this.aside);
  }

  /** Ready for the next entry on the same book: ties to books stay, the page moves on by one. */
  next(): void {
    this.id = undefined;
    this.#original = undefined;
    this.ties = this.ties
      .filter((tie) => tie.kind === 'book')
      .map(({ place: _place, ...tie }) => tie);
    this.page = nextPage(this.page);
    Object.assign(this, NOTHING_WRITTEN);
    this.help = undefined;
    this.aside = this.lost = [];
    this.recovered = false;
    this.#begun = byHand(this.#fields());
    this.forget();
  }

  #fields(): Draft {
    return {
      kind: this.kind,
      kindByHand: this.kindByHand,
      title: this.title,
      text: this.text,
      ties: this.ties,
      page: this.page,
      chapter: this.chapter,
      written: this.written,
      levelByHand: this.levelByHand,
      minutes: this.minutes,
      answer: this.answer,
      probes: this.probes,
      materials: this.materials,
      cautions: this.cautions,
      ages: this.ages,
      source: this.source,
      object: this.object,
      observations: this.observations,
      idea: this.idea,
      objective: this.objective,
      steps: this.steps,
      preparation: this.preparation,
      due: this.due,
      ...(this.id ? { id: this.id } : {}),
      ...(this.level ? { level: this.level } : {}),
      ...(this.picture ? { picture: this.picture } : {}),
    };
  }

  /** Stores the unfinished draft in this browser; whether it could be. Before the sheet is ready there is nothing to store. */
  store(): boolean {
    if (this.#begun === '') return true;
    if (this.altered) {
      const base = this.#original;
      return storeDraft(this.#key, { ...this.#fields(), ...(base ? { base } : {}) });
    }
    this.forget();
    return true;
  }

  forget(): void {
    forgetDraft(this.#key);
  }

  /** The sheet is put away: another window may take up what is left of it. */
  close(): void {
    this.#closed = true;
    this.#held?.release();
  }
}
