import { strandsResult } from '../../engine/weaving-told';
import { counted } from '../../journal/labels';
import { asked, open } from '../asked';
import type { Told } from '../told';

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {});
  const engine = await open(ask.path);
  const found = strandsResult(engine);
  const lines = found.strands.map(({ name, entries, words, cohesion, headings }) => {
    const names = headings.flatMap((id) => engine.journal.tables.headings.get(id)?.name ?? []);
    return `${name}\n  ${counted(entries.length, 'entry')}, cohesion ${cohesion.toFixed(2)}; ${words.join(', ')}\n  ${names.slice(0, 8).join('; ')}`;
  });
  lines.push(`modularity ${found.modularity.toFixed(3)}`);
  return { answer: found, text: lines.join('\n'), exit: found.strands.length > 0 ? 0 : 1 };
}
