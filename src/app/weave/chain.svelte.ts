import type { Desk } from '../../engine/desk';
import type { ChainsView, ThingSaid } from '../../engine/weave-answers';
import type { EntryId } from '../../journal/records';

export type End = 'from' | 'to';

const ORDINALS = ['', '2nd', '3rd', '4th', '5th', '6th'];

/** How two things are connected: the ends, the ways between them, and which of them is shown. */
export class ChainState {
  from = $state.raw<ThingSaid | undefined>();
  to = $state.raw<ThingSaid | undefined>();
  view = $state.raw<ChainsView | undefined>();
  /** Which of the ways is shown. */
  at = $state(0);
  busy = $state(false);
  /** The end that is being chosen anew. */
  changing = $state<End | undefined>();
  #turn = 0;

  constructor(readonly desk: Desk) {}

  /** The same ends and the same way of those between them, to be asked for again. */
  anew(): ChainState {
    const { from, to, at } = this;
    return Object.assign(new ChainState(this.desk), { from, to, at });
  }

  get steps(): ChainsView['chains'][number]['steps'] {
    return this.view?.chains[this.at]?.steps ?? [];
  }

  get ways(): number {
    return this.view?.chains.length ?? 0;
  }

  /** Which of the ways is shown, in words. One that joins them directly is the only one looked for, not the only one there is. */
  get told(): string {
    const { ways, at } = this;
    if (ways === 0) return '';
    if (ways === 1) return this.steps.length === 2 ? 'joined directly' : 'one way found';
    return at === 0 ? `nearest of ${ways} ways` : `${ORDINALS[at]} of ${ways} ways`;
  }

  /** Entries on the way that is shown, in its order. */
  get entries(): EntryId[] {
    return this.steps.filter(({ type }) => type === 'entry').map(({ id }) => id as EntryId);
  }

  set(end: End, thing: ThingSaid): Promise<void> {
    this[end] = thing;
    this.changing = undefined;
    return this.ask();
  }

  connect(from: ThingSaid, to: ThingSaid): Promise<void> {
    this.from = from;
    this.to = to;
    this.changing = undefined;
    return this.ask();
  }

  /** Asks anew; with `hold` the way that is shown stays shown while it is still among the ways. An end that is gone has to be chosen again. */
  async ask(hold = false): Promise<void> {
    const { from, to } = this;
    if (!from && !to) return;
    const turn = ++this.#turn;
    this.busy = true;
    const view = await this.desk.weave.chains(from?.id ?? '', to?.id ?? '');
    if (turn !== this.#turn) return;
    this.busy = false;
    this.view = view;
    this.from = view.from;
    this.to = view.to;
    if (!hold || this.at >= view.chains.length) this.at = 0;
  }

  step(by: number): void {
    this.at = (this.at + by + this.ways) % Math.max(1, this.ways);
  }
}
