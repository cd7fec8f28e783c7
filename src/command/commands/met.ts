import { counted } from '../../journal/labels';
import { sayDate } from '../../language/dates';
import { asked, circleNamed, dateAsked, guideNamed, open } from '../asked';
import { saveJournal } from '../journal-on-disk';
import type { Told } from '../told';
import { Refusal } from '../refusal';

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { on: 'text', circle: 'text' });
  const name = ask.words.join(' ');
  const on = dateAsked(ask.one('on'));
  if (!name || !on)
    throw new Refusal('wrong-use', 'Say which guide and when: met GUIDE --on DATE.');
  const engine = await open(ask.path);
  const guide = guideNamed(engine, name);
  const named = ask.one('circle');
  const circle = named ? circleNamed(engine, named).id : guide.circle;
  if (!circle)
    throw new Refusal('wrong-use', `“${guide.title}” names no circle; add --circle CIRCLE.`);
  const known = [...engine.journal.tables.meetings.values()].find(
    (one) => one.guide === guide.id && one.circle === circle && one.on === on,
  );
  const said = `“${guide.title}” with ${engine.journal.tables.circles.get(circle)?.name}, ${sayDate(on)}`;
  if (known) return { answer: { meeting: known }, text: `${said}, is kept already.` };
  const { edit, result } = engine.met({ guide, on, circle });
  const applied = engine.apply(edit);
  if (!applied.ok) throw new Refusal(applied.code, applied.message);
  await saveJournal(ask.path, engine.journal);
  return {
    answer: { meeting: engine.journal.tables.meetings.get(result.meeting) },
    text: `Kept: ${said}; ${counted(result.asked, 'item')} asked.`,
  };
}
