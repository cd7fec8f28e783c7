import type { MonthView, YearAsk, YearView } from '../../engine/reading-year';
import type { OpenOn } from '../../engine/reading-log';
import type { House } from '../house.svelte';
import { prefs } from '../prefs.svelte';
import { dayAfter, monthAfter, sayWeekday } from './days';

export type Piece = MonthView['lanes'][number][number];

/** What a form is called when a day is told. */
const FORM_WORDS: Record<Piece['form'], string> = {
  print: 'in print',
  ebook: 'on screen',
  audio: 'by ear',
};

/** What is asked of the reader after a key: which book, or how a reading ended. */
export type Sheet =
  | { kind: 'which'; day: string; to: 'mark' | 'finish' | 'note' }
  | { kind: 'reading'; id: string; finishOn?: string }
  | { kind: 'years' };

/** The year in view, the day chosen in it, and the log kept by keys. */
export class YearState {
  view = $state.raw<YearView | undefined>();
  day = $state('');
  /** Day columns a letter of a title takes at the width the year is drawn. */
  perLetter = $state(0.28);
  sheet = $state.raw<Sheet | undefined>();
  #ask: YearAsk = {};
  #asked = 0;

  constructor(readonly house: House) {}

  /** Shows another year; the day in hand moves into it. */
  async show(ask: Pick<YearAsk, 'year' | 'school'>): Promise<void> {
    this.#ask = { ...this.#ask, ...ask, year: ask.year, school: ask.school };
    await this.ask();
  }

  async setLetterWidth(perLetter: number): Promise<void> {
    if (perLetter === this.perLetter) return;
    this.perLetter = perLetter;
    if (this.view) await this.ask();
  }

  async ask(): Promise<void> {
    const asked = (this.#asked += 1);
    const view = await this.house.desk.reading.year({
      ...this.#ask,
      perLetter: this.perLetter,
      schoolStart: prefs.held.schoolYearStart,
    });
    if (asked !== this.#asked) return;
    this.view = view;
    if (this.day < view.from || this.day > view.to) this.day = dayToBegin(view);
  }

  monthOf(day: string): MonthView | undefined {
    return this.view?.months.find(({ month }) => day.startsWith(month));
  }

  /** Books open on a day, as drawn. */
  piecesOn(day: string): Piece[] {
    const date = Number(day.slice(8));
    return (this.monthOf(day)?.lanes.flat() ?? []).filter((piece) => piece.marks.includes(date));
  }

  sayDay(day: string): string {
    const date = Number(day.slice(8));
    const pieces = this.monthOf(day)?.lanes.flat() ?? [];
    const open = pieces
      .filter((piece) => piece.marks.includes(date))
      .map((piece) => `${piece.title} ${FORM_WORDS[piece.form]}`);
    const ended = pieces
      .filter(({ end }) => end === date)
      .map((piece) => `${piece.title} ${piece.abandoned ? 'put down' : 'finished'}`);
    const met = (this.monthOf(day)?.meetings ?? [])
      .filter((meeting) => meeting.day === date)
      .map(({ circle }) => `${circle} met`);
    const told = [...open, ...ended, ...met].join('; ');
    const today = day === this.view?.today ? ', today' : '';
    return `${sayWeekday(day)}${today}: ${told || 'nothing marked'}`;
  }

  /** Moves by days or months and stays within the year. */
  move(by: { days?: number; months?: number }): void {
    const { view } = this;
    if (!view) return;
    const to = by.days ? dayAfter(this.day, by.days) : monthAfter(this.day, by.months ?? 0);
    if (to >= view.from && to <= view.to) this.day = to;
  }

  choose(day: string): void {
    this.day = day;
  }

  /** Another year by one, of the kind in view. */
  step(by: number): void {
    const { view, house } = this;
    if (!view) return;
    const year = Number(view.from.slice(0, 4)) + by;
    if (!view.school) house.go({ place: 'read', open: 'year', id: String(year) });
    else {
      const id = view.title.includes('/')
        ? `${year}/${String((year + 1) % 100).padStart(2, '0')}`
        : String(year);
      house.go({ place: 'read', open: 'school', id });
    }
  }

  get #toCome(): boolean {
    return this.day > (this.view?.today ?? '');
  }

  /** R: marks the day for the book in hand, or clears it; asks when it may be another. */
  async mark(): Promise<void> {
    if (this.#toCome) {
      this.house.say('That day has not come yet.');
      return;
    }
    const { day } = this;
    const open = await this.house.desk.reading.openOn(day);
    const [only] = open;
    if (open.length === 1 && only) await this.toggle(only, day);
    else this.sheet = { kind: 'which', day, to: 'mark' };
  }

  async toggle(one: OpenOn, day = this.day): Promise<void> {
    await this.house.tell(this.house.desk.reading.markDay(one.reading, day, !one.marked));
  }

  /** F: a book in hand is finished on the day; one that is over is shown to be changed. */
  async finish(): Promise<void> {
    if (this.#toCome) {
      this.house.say('That day has not come yet.');
      return;
    }
    const { day } = this;
    const open = await this.house.desk.reading.openOn(day);
    const [only] = open;
    if (open.length === 1 && only)
      this.sheet = { kind: 'reading', id: only.reading, finishOn: day };
    else this.sheet = { kind: 'which', day, to: 'finish' };
  }

  /** N: a note on the book read that day. */
  async note(): Promise<void> {
    const { day } = this;
    const open = await this.house.desk.reading.openOn(day);
    const marked = open.filter((one) => one.marked);
    const [only] = marked.length > 0 ? marked : open;
    if (only && (marked.length === 1 || open.length === 1)) this.noteOn(only.book);
    else if (open.length === 0) this.house.write();
    else this.sheet = { kind: 'which', day, to: 'note' };
  }

  noteOn(book: OpenOn['book']): void {
    this.house.write({ ties: [{ heading: book, role: 'from', by: 'reader' }] });
  }
}

function dayToBegin({ today, from, to, months }: YearView): string {
  if (today >= from && today <= to) return today;
  const marked = months.flatMap(({ month, lanes }) =>
    lanes
      .flat()
      .flatMap(({ marks }) => marks.map((day) => `${month}-${String(day).padStart(2, '0')}`)),
  );
  return marked.sort().at(-1) ?? from;
}
