/** Challenges as screens send them, brought onto what was changed elsewhere since they were opened to be altered. */
import { rebase } from '../journal/rebase';
import type { Challenge, ChallengeId } from '../journal/records';
import { same } from '../journal/same';

/** A new one has no id. `base` is the one that was opened: only what differs from it changes. */
export type ChallengeDraft = Omit<Challenge, 'id'> & { id?: ChallengeId; base?: ChallengeDraft };

type Prompt = Challenge['prompts'][number];

/** What was changed from `base` to `wanted`, brought onto the challenge as it stands: prompts are followed each by itself. */
export function challengeOnto(
  held: Challenge,
  base: ChallengeDraft,
  wanted: ChallengeDraft,
): Challenge {
  const { id } = held;
  const merged = rebase<'challenges'>(held, { ...base, id }, { ...wanted, id });
  return { ...merged, prompts: promptsOnto(held.prompts, base.prompts, wanted.prompts) };
}

/** In the order wanted where that was altered, with those that came elsewhere at the end; otherwise as they stand. */
function promptsOnto(
  held: readonly Prompt[],
  base: readonly Prompt[],
  wanted: readonly Prompt[],
): Prompt[] {
  const now = new Map(held.map((prompt) => [prompt.id, prompt]));
  const before = new Map(base.map((prompt) => [prompt.id, prompt]));
  const mine = new Map(wanted.map((prompt) => [prompt.id, prompt]));
  const followed = (prompt: Prompt): Prompt[] => {
    const [there, was] = [now.get(prompt.id), before.get(prompt.id)];
    if (!was) return [prompt];
    // Taken out elsewhere: it stays out, unless it was altered here.
    if (!there) return same(was, prompt) ? [] : [prompt];
    const text = was.text === prompt.text ? there.text : prompt.text;
    return [{ ...there, text, rule: same(was.rule, prompt.rule) ? there.rule : prompt.rule }];
  };
  const idsOf = (prompts: readonly Prompt[]): string[] => prompts.map(({ id }) => id);
  if (same(idsOf(base), idsOf(wanted))) {
    const gone = wanted.filter(({ id }) => !now.has(id));
    return [...held.map((prompt) => mine.get(prompt.id) ?? prompt), ...gone].flatMap(followed);
  }
  const fresh = held.filter(({ id }) => !before.has(id));
  return [...wanted.flatMap(followed), ...fresh];
}

/** Every prompt an id of its own; one that has an id keeps it, and none is given that of a prompt of `before`. */
export function withIds(prompts: readonly Prompt[], before: readonly Prompt[] = []): Prompt[] {
  const given = new Set([...prompts, ...before].map(({ id }) => id));
  const taken = new Set<string>();
  return prompts.map((prompt) => {
    let { id } = prompt;
    for (let at = 1; id === '' || taken.has(id); at += 1) id = given.has(`p${at}`) ? '' : `p${at}`;
    taken.add(id);
    return { ...prompt, id, text: prompt.text.trim() };
  });
}
