import type { Desk } from '../../engine/desk';
import type { ChainsView, ThingSaid } from '../../engine/weave-answers';
import type { EntryId } from '../../journal/records';

export type End = 'from' | 'to';

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

  get steps(): ChainsView['chains'][number]['steps'] {
    return this.view?.chains[this.at]?.steps ?? [];
  }

  get ways(): number {
    return this.view?.chains.length ?? 0;
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

  /** Asks anew; with `hold` the way that is shown stays shown while it is still among the ways. */
  async ask(hold = false): Promise<void> {
    const { from, to } = this;
    if (!from || !to) return;
    const turn = ++this.#turn;
    this.busy = true;
    const view = await this.desk.weave.chains(from.id, to.id);
    if (turn !== this.#turn) return;
    this.busy = false;
    this.view = view;
    if (view.from) this.from = view.from;
    if (view.to) this.to = view.to;
    if (!hold || this.at >= view.chains.length) this.at = 0;
  }

  step(by: number): void {
    this.at = (this.at + by + this.ways) % Math.max(1, this.ways);
  }
}
