import type { Engine } from '../../engine/engine';
import { chainResult } from '../../engine/weaving-told';
import { asked, headingNamed, open } from '../asked';
import type { Told } from '../told';
import { Refusal } from '../refusal';

const idOf = (engine: Engine, text: string): string =>
  engine.journal.tables.entries.has(text) ? text : headingNamed(engine, text).id;

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {});
  const [from, to, more] = ask.words;
  if (!from || !to || more) {
    throw new Refusal('wrong-use', 'Name two things, each in quotation marks: chain FROM TO.');
  }
  const engine = await open(ask.path);
  const found = chainResult(engine, idOf(engine, from), idOf(engine, to));
  if (found.steps.length === 0)
    return { answer: found, text: 'Nothing connects them yet.', exit: 1 };
  const lines = found.steps.map((step) => `${step.via ? `  ${step.via}\n` : ''}${step.text}`);
  return { answer: found, text: lines.join('\n') };
}
