/** The planning part of the desk: composing a guide and weighing it, what would go in it, and printing it. */
import type { CircleId, EntryId, Guide, GuideId, Level } from '../journal/records';
import type { Composed, Standing } from './answers';
import type { CircleView, Done, GuideView, SuggestAsk, Suggestion } from './desk';
import type { PlanAsk } from './planning';
import type { PublishHow } from './publish-how';

/** A part of a guide as a purpose names it; `minutes` is its share of the time. */
interface PartAsked {
  name: string;
  minutes: number;
  aim?: string;
}

export interface PlanningDesk {
  compose(ask: PlanAsk): Promise<Composed>;
  /** How near the best a guide stands as it is. */
  standing(ask: PlanAsk, guide: Guide): Promise<Standing>;
  guideView(guide: Guide): Promise<GuideView>;
  /** The usual parts of a shape for a length, to begin a guide from; with `like`, those parts in the same proportions. */
  usualParts(
    shape: Guide['shape'],
    minutes: number,
    like?: { minutes: number; parts: PartAsked[] },
  ): Promise<PartAsked[]>;
  /** Openings of questions at a level, filled with the guide's books and people; frames to finish, not questions. */
  frames(guide: Guide, level: Level): Promise<string[]>;
  suggest(ask: SuggestAsk): Promise<Suggestion[]>;
  whyNot(ask: PlanAsk, entry: EntryId): Promise<string>;
  /** A new guide like an old one, not yet met; answers its id. */
  copyGuide(id: GuideId): Promise<Done>;
  /** What a circle has met over. */
  circleView(id: CircleId): Promise<CircleView | undefined>;
  publish(
    guide: Guide,
    how: PublishHow,
  ): Promise<{ name: string; type: string; bytes: ArrayBuffer; said?: string }>;
}
