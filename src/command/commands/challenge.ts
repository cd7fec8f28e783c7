import type { Engine } from '../../engine/engine';
import { challengeAnswer, type ChallengeAnswer } from '../../engine/reading';
import type { Challenge, HeadingId } from '../../journal/records';
import { fold } from '../../language/tokens';
import { asked, open } from '../asked';
import { Refusal } from '../refusal';
import { wrapped } from '../say';
import type { Told } from '../told';

function challengeNamed(engine: Engine, text: string): Challenge {
  const all = [...engine.journal.tables.challenges.values()];
  const exact = all.filter(({ id, name }) => id === text || fold(name) === fold(text));
  const found =
    exact.length > 0 ? exact : all.filter(({ name }) => fold(name).startsWith(fold(text)));
  if (found.length === 1) return found[0]!;
  if (found.length > 1) {
    const choices = found.map(({ name, id }) => `${name} (${id})`).join(' or ');
    throw new Refusal('ambiguous-challenge', `“${text}” could be ${choices}.`);
  }
  const names = all.map(({ name }) => name).join(', ');
  throw new Refusal(
    'unknown-challenge',
    `There is no challenge “${text}”. ${names ? `There are: ${names}.` : 'The journal has none yet.'}`,
  );
}

function lines(engine: Engine, challenge: Challenge, answer: ChallengeAnswer): string[] {
  const name = (id: HeadingId): string => engine.journal.tables.headings.get(id)?.name ?? id;
  const inHand = answer.inHand > 0 ? `, ${answer.inHand} in hand` : '';
  const told = [
    `${challenge.name}: ${answer.met} of ${answer.of}${inHand}`,
    ...wrapped(answer.pace.said, ''),
  ];
  for (const prompt of answer.prompts) {
    told.push('', prompt.text);
    if (prompt.state === 'met') told.push(`  ${prompt.book ? name(prompt.book) : 'met'}`);
    else told.push(...wrapped(prompt.why ?? 'open', '  '));
    const would = prompt.wouldMeet.map(({ book, lists }) =>
      lists.length > 0 ? `${name(book)} (on ${lists.join(', ')})` : name(book),
    );
    if (prompt.state === 'open' && would.length > 0)
      told.push(...wrapped(`Would meet it: ${would.join('; ')}.`, '    '));
  }
  return told;
}

/** The best assignment of the journal's readings to the prompts of a challenge; exit 1 where it has no prompts. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {});
  const named = ask.words.join(' ');
  if (!named) throw new Refusal('wrong-use', 'Say which challenge: challenge NAME.');
  const engine = await open(ask.path);
  const challenge = challengeNamed(engine, named);
  const answer = challengeAnswer(engine, challenge);
  return {
    answer: {
      prompts: answer.prompts.map(({ id, text, state, reading, book }) => ({
        id,
        text,
        ...(state === 'met' && reading ? { reading, book } : {}),
      })),
      met: answer.met,
      of: answer.of,
      unmet: answer.prompts
        .filter(({ state }) => state !== 'met')
        .map(({ id, why }) => ({ id, why: why ?? '' })),
    },
    text: lines(engine, challenge, answer).join('\n'),
    exit: answer.of > 0 ? 0 : 1,
  };
}
