/**
 * Strands found for screens: in slices, so that whatever else is asked meanwhile is answered, and the groups of a large journal by a worker
 * where there is one. How far it has come can be asked.
 */
import { DOINGS, type StrandStep } from '../weave/strands';
import type { Core } from './core';
import { groupsOf, type Communities, type Grouper, type GroupsAsked } from './grouping';
import { strandsToFind } from './strands-held';
import type { KeptStrands, StrandsProgress } from './weave-answers';

/** Work between two breaths, in milliseconds. */
const SLICE_MS = 30;
/** Of fewer nodes groups are found in less time than a worker takes to begin. */
const LARGE = 5000;
/** About when each thing to be done begins, as a share of the whole. */
const BEGINS: Record<StrandStep['doing'], number> = {
  ties: 0,
  groups: 0.3,
  centres: 0.6,
  words: 0.8,
};

const breath = (): Promise<void> =>
  new Promise((resolve) => {
    setTimeout(resolve);
  });

export class FindingStrands {
  #running: Promise<void> | undefined;
  #step: StrandStep | undefined;
  #entries = 0;

  constructor(readonly groups?: Grouper) {}

  /** Resolves when the strands of a journal can be told at once; one search runs at a time. */
  async ready(core: Core, kept?: KeptStrands): Promise<void> {
    for (let steps = strandsToFind(core, kept); steps; steps = strandsToFind(core, kept)) {
      if (this.#running) await this.#running.catch(() => undefined);
      else {
        this.#entries = core.journal.tables.entries.size;
        this.#running = this.#through(steps).finally(() => {
          this.#running = this.#step = undefined;
        });
        await this.#running;
      }
    }
  }

  async #through(steps: NonNullable<ReturnType<typeof strandsToFind>>): Promise<void> {
    let began = performance.now();
    let found: Communities[] | undefined;
    for (;;) {
      const step = steps.next(found);
      if (step.done) return;
      this.#step = step.value;
      const { asked } = step.value;
      found = undefined;
      if (asked) found = await this.#grouped(asked);
      if (performance.now() - began < SLICE_MS) continue;
      await breath();
      began = performance.now();
    }
  }

  async #grouped(asked: GroupsAsked): Promise<Communities[]> {
    if (!this.groups || asked.links.size <= LARGE) return groupsOf(asked);
    // A worker that cannot be had is no reason to do without.
    return this.groups(asked).catch(() => groupsOf(asked));
  }

  /** How far it is; nothing where nothing is being found. */
  progress(): StrandsProgress | undefined {
    if (!this.#step) return undefined;
    const { doing, share } = this.#step;
    const next = DOINGS[DOINGS.indexOf(doing) + 1];
    const [from, to] = [BEGINS[doing], next ? BEGINS[next] : 1];
    return { doing, share: from + share * (to - from), entries: this.#entries };
  }
}
