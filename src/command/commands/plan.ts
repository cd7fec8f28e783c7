import type { Composed, PlannedItem } from '../../engine/answers';
import type { Engine } from '../../engine/engine';
import { publishGuide } from '../../engine/publishing';
import { isForSealed, openAnswer } from '../../engine/sealed';
import type { PublishHow } from '../../engine/desk';
import { strandChoices } from '../../engine/strand-choices';
import { fold } from '../../language/tokens';
import { gapSaid } from '../../engine/gap-said';
import { fromTemplate } from '../../engine/templates';
import { counted } from '../../journal/labels';
import { putRow } from '../../journal/make-edits';
import type { EntryId, Focus, FocusStrand, Guide, GuideId, Shape } from '../../journal/records';
import { asked, circleNamed, guideNamed, headingNamed, open, type Asked } from '../asked';
import { saveJournal, saveWhole } from '../journal-on-disk';
import type { Told } from '../told';
import {
  endingOf,
  FORMATS,
  facesFromPackages,
  outAsked,
  PRINTING,
  printingAsked,
} from '../printing';
import { Refusal } from '../refusal';
import { KIND_NAMES, wrapped } from '../say';

/** `--book "Frankenstein:11-15"` asks for chapters 11 to 15. */
function focusOf(engine: Engine, ask: Asked): Focus {
  const headings: Focus['headings'] = [];
  for (const name of ask.many('theme'))
    headings.push({ heading: headingNamed(engine, name, 'theme').id });
  for (const name of ask.many('book')) {
    const ranged = /^(.*):(\d+)-(\d+)$/.exec(name);
    const heading = headingNamed(engine, ranged?.[1] ?? name, 'book').id;
    if (ranged && Number(ranged[2]) > Number(ranged[3]))
      throw new Refusal(
        'wrong-use',
        `Chapters ${ranged[2]} to ${ranged[3]} run backwards; write the first one first.`,
      );
    headings.push(ranged ? { heading, from: ranged[2]!, to: ranged[3]! } : { heading });
  }
  for (const name of ask.many('person'))
    headings.push({ heading: headingNamed(engine, name, 'person').id });
  const entries = ask.many('entry').map((id) => entryNamed(engine, id));
  const strands = ask.many('strand').map((name) => strandNamed(engine, name));
  const focus = { words: ask.many('focus'), headings, entries };
  return strands.length > 0 ? { ...focus, strands } : focus;
}

function entryNamed(engine: Engine, id: string): EntryId {
  if (engine.journal.tables.entries.has(id)) return id as EntryId;
  throw new Refusal('unknown-entry', `There is no entry “${id}”; find and tied give ids.`);
}

/** A strand by the name or id that strands prints. */
function strandNamed(engine: Engine, text: string): FocusStrand {
  const all = strandChoices(engine);
  const found = all.find(({ id, name }) => id === text || fold(name) === fold(text));
  if (found) return { name: found.name, headings: found.headings };
  const names = all.map(({ name }) => name).join('; ');
  throw new Refusal(
    'unknown-strand',
    `There is no strand “${text}”. ${names ? `There are: ${names}.` : 'The journal has none yet.'}`,
  );
}

function itemLines(item: PlannedItem, clock: number): string[] {
  const at = `${Math.floor(clock / 60)}.${String(clock % 60).padStart(2, '0')}`;
  const level = item.level ? `, ${item.level}` : '';
  return [
    `  ${at}  ${KIND_NAMES[item.kind]}, ${item.minutes} min${level}${item.must ? ', must' : ''}`,
    ...wrapped(item.text, '        '),
    ...wrapped(item.reasons.join('; '), '        · '),
  ];
}

export function planLines({ answer, candidates }: Composed): string[] {
  let clock = 0;
  const lines = [
    answer.title,
    `${answer.shape}, ${counted(answer.minutes, 'minute')}, ${answer.planned} planned, from ${counted(candidates, 'entry')}`,
  ];
  for (const part of answer.parts) {
    lines.push('', `${part.name}, ${counted(part.minutes, 'minute')}`);
    for (const item of part.items) {
      lines.push(...itemLines(item, clock));
      clock += item.minutes;
    }
  }
  if (answer.spare.length > 0) {
    lines.push('', 'To spare');
    for (const item of answer.spare.slice(0, 8)) lines.push(...wrapped(item.text, '  '));
  }
  const levels = Object.entries(answer.levels).map(([level, minutes]) => `${level} ${minutes}`);
  lines.push('', `Minutes by level: ${levels.join(', ')}`);
  if (answer.sources.length > 0) lines.push(`Works: ${answer.sources.join('; ')}`);
  for (const caution of answer.cautions) lines.push(...wrapped(caution, '! '));
  const { value, bound, gap } = answer.objective;
  lines.push(`Worth ${value.toFixed(2)} of at most ${bound.toFixed(2)}. ${gapSaid(gap)}.`);
  return lines;
}

/** Writes the guide where it was asked for; answers what the reader should know of the file. */
async function writeOut(
  engine: Engine,
  composed: Composed,
  ask: Asked,
  out: string,
): Promise<string | undefined> {
  const ending = endingOf(out);
  const format = Object.hasOwn(FORMATS, ending) ? FORMATS[ending] : undefined;
  const printing = printingAsked(ask);
  if (isForSealed(engine.journal, composed.guide))
    throw new Refusal(
      'sealed',
      'This guide is for a book of a sealed list, and nothing sealed is written out.',
    );
  if (ending === 'json') {
    if (printing.copy === 'handout')
      throw new Refusal(
        'wrong-use',
        'A json file holds the whole guide, the leader’s notes with it; a handout is written as html, pdf, docx, md or txt.',
      );
    const answer = openAnswer(engine.journal, composed.answer);
    await saveWhole(out, `${JSON.stringify(answer, null, 2)}\n`);
    return undefined;
  }
  if (!format) {
    const endings = [...Object.keys(FORMATS), 'json'].join(', ');
    throw new Refusal('wrong-use', `--out takes a name that ends in ${endings}.`);
  }
  const how: PublishHow = { format, ...printing };
  const file = await publishGuide(engine, composed.guide, how, facesFromPackages, composed.late);
  await saveWhole(out, new Uint8Array(file.bytes));
  return file.said;
}

/** A new guide begun from the one that is named, with another title to come. */
function likeAsked(engine: Engine, ask: Asked): Guide | undefined {
  const name = ask.one('like');
  if (name === undefined) return undefined;
  const id = engine.around.newId() as GuideId;
  return fromTemplate(guideNamed(engine, name, 'template'), { id, made: engine.nowIso() });
}

/** Its parts hold for its own length and shape only. */
function likeOf(
  like: Guide | undefined,
  minutes: number | undefined,
  shape: string | undefined,
): Partial<Parameters<Engine['compose']>[0]> {
  if (!like) return {};
  const same = (minutes ?? like.minutes) === like.minutes && (shape ?? like.shape) === like.shape;
  return {
    again: like,
    ...(like.aims && same ? { aims: like.aims } : {}),
    ...(same
      ? {
          parts: like.parts.map(({ name, minutes: long, aim }) => ({
            name,
            minutes: long,
            ...(aim ? { aim } : {}),
          })),
        }
      : {}),
  };
}

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, {
    focus: 'many',
    theme: 'many',
    book: 'many',
    person: 'many',
    strand: 'many',
    entry: 'many',
    circle: 'text',
    minutes: 'number',
    shape: 'text',
    rest: 'number',
    ...PRINTING,
    out: 'text',
    save: 'flag',
    like: 'text',
  });
  if (ask.words.length > 0) {
    throw new Refusal(
      'wrong-use',
      `“${ask.words.join(' ')}” is not understood; use --focus, --book, --theme, --person, --strand or --entry.`,
    );
  }
  const shape = ask.one('shape');
  if (shape !== undefined && shape !== 'discussion' && shape !== 'lesson') {
    throw new Refusal('wrong-use', `--shape takes discussion or lesson, not “${shape}”.`);
  }
  const out = await outAsked(ask);
  const engine = await open(ask.path);
  const circle = ask.one('circle');
  const minutes = ask.number('minutes', 5, 600);
  const rest = ask.number('rest', 0, 120);
  const like = likeAsked(engine, ask);
  const composed = engine.compose({
    ...likeOf(like, minutes, shape),
    focus: focusOf(engine, ask),
    ...(circle ? { circle: circleNamed(engine, circle).id } : {}),
    ...(minutes ? { minutes } : {}),
    ...(shape ? { shape: shape as Shape } : {}),
    ...(rest === undefined ? {} : { restMonths: rest }),
  });
  const placed = composed.answer.parts.some((part) => part.items.length > 0);
  if (!placed)
    return { answer: composed.answer, text: 'Nothing in the journal fits that yet.', exit: 1 };
  const lines = planLines(composed);
  if (out) {
    const said = await writeOut(engine, composed, ask, out);
    lines.push(`Written to ${out}.`, ...(said ? [said] : []));
  }
  let answer = composed.answer;
  if (ask.flag('save')) {
    const applied = engine.apply(putRow(engine.journal, 'guides', composed.guide));
    if (!applied.ok) throw new Refusal(applied.code, applied.message);
    await saveJournal(ask.path, engine.journal);
    answer = { id: composed.guide.id, ...answer };
    lines.push(`Kept in ${ask.path} as ${composed.guide.id}.`);
  }
  return { answer, text: lines.join('\n') };
}
