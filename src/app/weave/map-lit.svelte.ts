import type { Desk } from '../../engine/desk';
import type { HeadingId, JournalMap, MapHits } from '../../engine/weave-answers';

/** What words light up on the map of the whole journal; it follows when that map is made anew. */
export class MapLit {
  hits = $state.raw<MapHits | undefined>();
  #words = '';
  #turn = 0;

  constructor(readonly desk: Desk) {}

  /** What is looked for, without spaces round it; empty where nothing is. */
  get words(): string {
    return this.#words;
  }

  /** Lights up what the words find, nothing where there are none; only the last asked counts. */
  async search(text: string): Promise<void> {
    this.#words = text.trim();
    const turn = ++this.#turn;
    const hits = this.#words === '' ? undefined : await this.desk.weave.mapHits(this.#words);
    if (turn === this.#turn) this.hits = hits;
  }

  out(): void {
    void this.search('');
  }

  /** What is lit, if it is numbered as this map is. */
  on({ made }: JournalMap): MapHits | undefined {
    return this.hits?.made === made ? this.hits : undefined;
  }

  /** The map was made anew: the same stay lit, and the words are looked for once more, for what has come or no longer has them. */
  follow(last: JournalMap, whole: JournalMap, moved: Int32Array): void {
    const { hits } = this;
    if (this.#words === '') return;
    if (hits?.made === last.made) {
      const places = new Map<HeadingId, number>(whole.headings.map(({ id }, at) => [id, at]));
      this.hits = {
        ...hits,
        made: whole.made,
        entries: hits.entries.map((at) => moved[at] ?? -1).filter((at) => at >= 0),
        headings: hits.headings.flatMap((at) => places.get(last.headings[at]!.id) ?? []),
      };
    }
    void this.search(this.#words);
  }
}
