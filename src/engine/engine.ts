/**
 * One facade over every room, the same for the command line, tests and benchmarks: the journal held in memory, and composing from it.
 * The app's worker holds the journal alone and loads the rest when it is asked for.
 */
import type { Edit } from '../journal/edits';
import type { Composed, MetResult } from './answers';
import { composeGuide } from './composing';
import { HeldJournal } from './held-journal';
import { meetingFrom } from './meeting';
import type { PlanAsk } from './planning';

export class Engine extends HeldJournal {
  compose(ask: PlanAsk): Composed {
    return composeGuide(this, ask);
  }

  /** Records that a guide was used; the edit goes through {@link HeldJournal.apply} like any other. */
  met(ask: Parameters<typeof meetingFrom>[1]): { edit: Edit; result: MetResult } {
    return meetingFrom(this, ask);
  }
}
