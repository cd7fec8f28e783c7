import type { GuideView, ItemView } from '../../engine/desk';
import type { Guide } from '../../journal/records';

export interface Mark {
  used: boolean;
  seconds: number;
  went?: 'well' | 'mixed' | 'flat';
  note?: string;
}

const STORED = 'bookweft.running';

interface Stored {
  guide: string;
  begun: number;
  at: number;
  since: number;
  marks: (Mark | null)[];
}

/** A meeting while it runs. What happens is stored as it happens, so that a closed lid loses nothing. */
export class RunState {
  at = $state(0);
  begun = $state(0);
  marks = $state<(Mark | undefined)[]>([]);
  now = $state(Date.now());
  meetingId: string | undefined;
  readonly items: ItemView[];
  readonly parts: GuideView['parts'];
  #guide: string;
  #since = 0;

  constructor(guide: Guide, parts: GuideView['parts']) {
    this.#guide = guide.id;
    this.parts = parts;
    this.items = parts.flatMap((part) => part.items);
    const held = read();
    if (held?.guide === guide.id && held.marks.length === this.items.length) {
      this.begun = held.begun;
      this.at = held.at;
      this.#since = held.since;
      this.marks = held.marks.map((mark) => mark ?? undefined);
    } else this.marks = this.items.map(() => undefined);
  }

  /** Starts the clock; answers how to stop it. */
  tick(): () => void {
    const timer = setInterval(() => (this.now = Date.now()), 1000);
    return () => clearInterval(timer);
  }

  begin(): void {
    this.begun = this.#since = this.now = Date.now();
    this.#store();
  }

  /** Seconds spent on the item in hand. */
  get spent(): number {
    if (this.begun === 0) return 0;
    return (
      (this.marks[this.at]?.seconds ?? 0) + Math.max(0, Math.round((this.now - this.#since) / 1000))
    );
  }

  get spentSaid(): string {
    return `${Math.floor(this.spent / 60)}.${String(this.spent % 60).padStart(2, '0')}`;
  }

  get nowSaid(): string {
    const at = new Date(this.now);
    return `${at.getHours()}.${String(at.getMinutes()).padStart(2, '0')}`;
  }

  /** Minutes behind the plan (negative: in hand): time gone, against what should be done by now. */
  get lateMinutes(): number {
    if (this.begun === 0) return 0;
    const planned = this.items.slice(0, this.at).reduce((sum, item) => sum + item.minutes, 0);
    const allowed = planned + (this.items[this.at]?.minutes ?? 0);
    const gone = (this.now - this.begun) / 60_000;
    if (gone > allowed) return Math.ceil(gone - allowed);
    return gone < planned ? -Math.floor(planned - gone) : 0;
  }

  partOf(index: number): GuideView['parts'][number] | undefined {
    let at = index;
    for (const part of this.parts) {
      if (at < part.items.length) return part;
      at -= part.items.length;
    }
    return undefined;
  }

  cues(guide: Guide, index: number): string {
    return guide.parts.flatMap((part) => part.items)[index]?.cue ?? '';
  }

  mark(change: Partial<Mark>): void {
    this.marks[this.at] = { used: true, seconds: 0, ...this.marks[this.at], ...change };
    this.#store();
  }

  go(to: number): void {
    this.#leave();
    this.at = Math.max(0, Math.min(this.items.length, to));
    this.#store();
  }

  done(): void {
    if (this.begun === 0) this.begin();
    if (this.at >= this.items.length) return;
    this.mark({ used: true });
    this.go(this.at + 1);
  }

  skip(): void {
    this.mark({ used: false });
    this.go(this.at + 1);
  }

  /** Straight to the first item of the last part; what lies between is left out. */
  toClosing(): void {
    const first = this.items.length - (this.parts.at(-1)?.items.length ?? 0);
    if (first <= this.at) return;
    this.go(first);
  }

  #leave(): void {
    const mark = this.marks[this.at];
    if (mark) mark.seconds = this.spent;
    this.#since = this.now = Date.now();
  }

  #store(): void {
    const held: Stored = {
      guide: this.#guide,
      begun: this.begun,
      at: this.at,
      since: this.#since,
      marks: $state.snapshot(this.marks).map((mark) => mark ?? null),
    };
    try {
      localStorage.setItem(STORED, JSON.stringify(held));
    } catch {
      // The window itself still holds it.
    }
  }

  forget(): void {
    try {
      localStorage.removeItem(STORED);
    } catch {
      // Nothing was stored then.
    }
  }
}

function read(): Stored | undefined {
  try {
    return (JSON.parse(localStorage.getItem(STORED) ?? 'null') as Stored | null) ?? undefined;
  } catch {
    return undefined;
  }
}
