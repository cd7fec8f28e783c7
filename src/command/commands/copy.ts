import { copyOf, templateOf } from '../../engine/templates';
import { putRow } from '../../journal/make-edits';
import type { GuideId } from '../../journal/records';
import { asked, guideNamed, open } from '../asked';
import { saveJournal } from '../journal-on-disk';
import { Refusal } from '../refusal';
import type { Told } from '../told';

/** Keeps a guide once more: as another guide, or as a template, which holds its parts, times, breaks and aims. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { template: 'flag', title: 'text' });
  const name = ask.words.join(' ');
  if (!name) throw new Refusal('wrong-use', 'Say which guide: copy GUIDE [--template].');
  const engine = await open(ask.path);
  const guide = guideNamed(engine, name);
  const title = ask.one('title')?.trim();
  const as = { id: engine.around.newId() as GuideId, made: engine.nowIso() };
  const template = ask.flag('template');
  const copy = template
    ? templateOf(guide, { ...as, ...(title ? { title } : {}) })
    : { ...copyOf(guide, as), ...(title ? { title } : {}) };
  const applied = engine.apply(putRow(engine.journal, 'guides', copy));
  if (!applied.ok) throw new Refusal(applied.code, applied.message);
  await saveJournal(ask.path, engine.journal);
  const kept = template ? 'as a template' : `as “${copy.title}”`;
  return { answer: { guide: copy }, text: `Kept ${kept}: ${copy.id}.` };
}
