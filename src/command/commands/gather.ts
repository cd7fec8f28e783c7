import { v7 } from 'uuid';
import { Engine } from '../../engine/engine';
import {
  acceptablePieces,
  acceptPieces,
  gatherFiles,
  type AcceptLevel,
  type GatherPiece,
  type GatherResult,
} from '../../engine/gathering';
import type { Edit } from '../../journal/edits';
import { emptyJournal } from '../../journal/journal';
import { asked, open, type Asked } from '../asked';
import { filesUnder } from '../files-on-disk';
import { journalIsThere, saveJournal } from '../journal-on-disk';
import { Refusal } from '../refusal';
import { KIND_NAMES } from '../say';
import type { Told } from '../told';

const LEVELS: readonly AcceptLevel[] = ['sure', 'likely', 'all'];

function levelAsked(ask: Asked): AcceptLevel {
  const text = ask.one('accept') ?? 'sure';
  const level = LEVELS.find((each) => each === text);
  if (level) return level;
  throw new Refusal('wrong-use', `--accept takes sure, likely or all, not “${text}”.`);
}

/** The journal named, or a new one where there is none yet: gathering is how a journal begins. */
async function openOrBegin(path: string): Promise<Engine> {
  if (await journalIsThere(path)) return open(path);
  const around = { now: () => new Date(), newId: () => v7() };
  return new Engine(emptyJournal(v7(), 'My journal', around.now().toISOString()), around);
}

export async function run(args: string[]): Promise<Told> {
  const ask = asked(args, { accept: 'text', 'dry-run': 'flag' });
  if (ask.words.length === 0) throw new Refusal('wrong-use', 'Say what to gather: gather PATH...');
  const level = levelAsked(ask);
  const files = await filesUnder(ask.words, ask.path);
  const engine = await openOrBegin(ask.path);
  const showing = process.stderr.isTTY;
  const result = await gatherFiles(engine, files, ({ stage, path, done, of }) => {
    if (showing) process.stderr.write(`\r\u001b[K${stage} ${done} of ${of}  ${path.slice(-60)}`);
  });
  if (showing) process.stderr.write('\r\u001b[K');
  // A journal file holds no pictures: an entry that is one would show nothing.
  const worded = result.pieces.filter(({ picture }) => !picture);
  const accepted = acceptPieces(engine, result, acceptablePieces(worded, level));
  const kept = new Set(accepted.pieces);
  if (!ask.flag('dry-run') && accepted.edit.changes.length > 0) {
    const applied = engine.apply(accepted.edit);
    if (!applied.ok) throw new Refusal(applied.code, applied.message);
    await saveJournal(ask.path, engine.journal);
  }
  const unreadable = result.files.some(({ status }) => status === 'unreadable');
  return {
    answer: answerOf(result, kept, ask.flag('dry-run')),
    text: tell(result, kept, accepted.edit, level, ask.flag('dry-run')),
    ...(unreadable || result.files.length === 0 ? { exit: 1 } : {}),
  };
}

function answerOf(result: GatherResult, kept: ReadonlySet<string>, dry: boolean): unknown {
  return {
    gathering: result.gathering.id,
    files: result.files.map(({ path, status, reason, pieces, books, meetings }) => ({
      path,
      status,
      ...(reason ? { reason } : {}),
      pieces,
      ...(books > 0 ? { books } : {}),
      ...(meetings > 0 ? { meetings } : {}),
    })),
    pieces: result.pieces.map((piece) => pieceOf(piece, kept)),
    kept: dry ? 0 : kept.size,
  };
}

function pieceOf(piece: GatherPiece, kept: ReadonlySet<string>): unknown {
  const { id, kind, certainty, text, title, ties, written, twinOf, source } = piece;
  const { place, path } = source;
  return {
    id,
    kind,
    certainty,
    text,
    ...(title ? { title } : {}),
    ties: ties.map(({ heading, name, kind: sort, role, place: at, certainty: sure, isNew }) => ({
      ...(heading ? { heading } : {}),
      name,
      kind: sort,
      role,
      ...(at ? { place: at } : {}),
      certainty: sure,
      isNew,
    })),
    ...(written ? { written } : {}),
    ...(twinOf ? { twinOf } : {}),
    source: {
      path,
      ...(place.line !== undefined ? { line: place.line } : {}),
      ...(place.page !== undefined ? { page: place.page } : {}),
      ...(place.row !== undefined ? { row: place.row } : {}),
      ...(place.sheet !== undefined ? { sheet: place.sheet } : {}),
      ...(place.note ? { place: place.note } : {}),
    },
    accepted: kept.has(id),
  };
}

function tell(
  result: GatherResult,
  kept: ReadonlySet<string>,
  edit: Edit,
  level: AcceptLevel,
  dry: boolean,
): string {
  const lines: string[] = [];
  const width = Math.min(Math.max(...result.files.map(({ path }) => path.length), 4), 60);
  const keptFrom = new Map<string, number>();
  for (const { id, source } of result.pieces) {
    if (kept.has(id)) keptFrom.set(source.path, (keptFrom.get(source.path) ?? 0) + 1);
  }
  for (const { path, status, reason, pieces, books, meetings } of result.files) {
    const counts = [
      ...(pieces > 0 || books + meetings === 0
        ? [`${keptFrom.get(path) ?? 0} of ${counted(pieces, 'piece')}`]
        : []),
      ...(books > 0 ? [counted(books, 'book')] : []),
      ...(meetings > 0 ? [counted(meetings, 'meeting')] : []),
    ];
    const count = status === 'read' ? counts.join(', ') : 'unreadable';
    lines.push(`${path.padEnd(width)}  ${count}${reason ? `\n    ${reason}` : ''}`);
  }
  if (result.files.length === 0) lines.push('There is no file to read there.');
  const kinds = new Map<string, number>();
  for (const { kind } of result.pieces) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  const told = [...kinds].map(
    ([kind, count]) => `${KIND_NAMES[kind as keyof typeof KIND_NAMES].toLowerCase()} ${count}`,
  );
  const twins = result.pieces.filter(({ twinOf }) => twinOf).length;
  const pictures = result.pieces.filter(({ picture }) => picture).length;
  lines.push(
    '',
    `${counted(result.pieces.length, 'piece')}${told.length > 0 ? `: ${told.join(', ')}` : ''}.`,
  );
  if (twins > 0)
    lines.push(`${twins} ${twins === 1 ? 'says' : 'say'} what another or the journal says.`);
  if (pictures > 0)
    lines.push(
      `${counted(pictures, 'picture')} left: a journal file holds none; gather ${pictures === 1 ? 'it' : 'them'} in the app.`,
    );
  const scans = result.files.filter(({ path }) => result.attachments.includes(path)).length;
  if (scans > 0)
    lines.push(
      `${counted(scans, 'file')} without words left: gather ${scans === 1 ? 'it' : 'them'} in the app, which keeps ${scans === 1 ? 'its pages' : 'their pages'}.`,
    );
  const also = alsoKept(edit);
  lines.push(
    `${counted(kept.size, 'piece')} ${dry ? 'would be kept' : 'kept'} (--accept ${level})${also ? `, with ${also}` : ''}.`,
  );
  // Neither twins nor pictures are kept here, whatever is accepted.
  const left = result.pieces.filter(
    (one) => !one.twinOf && !one.picture && !kept.has(one.id),
  ).length;
  if (left > 0 && level !== 'all')
    lines.push(
      `The others were not kept; --accept ${level === 'sure' ? 'likely or --accept all' : 'all'} keeps more.`,
    );
  return lines.join('\n');
}

/** What else the edit brings: "12 new books, 10 readings, 2 meetings". */
function alsoKept(edit: Edit): string {
  const counts = new Map<string, number>();
  for (const { table, before, after } of edit.changes) {
    if (before || !after) continue;
    const noun =
      table === 'headings' && 'kind' in after
        ? NEW_HEADINGS[after.kind as keyof typeof NEW_HEADINGS]
        : table === 'readings'
          ? 'reading'
          : table === 'meetings'
            ? 'meeting'
            : table === 'lists'
              ? 'list'
              : undefined;
    if (noun) counts.set(noun, (counts.get(noun) ?? 0) + 1);
  }
  return [...counts]
    .map(([noun, count]) =>
      noun === 'new person' && count > 1 ? `${count} new people` : counted(count, noun),
    )
    .join(', ');
}

const NEW_HEADINGS = { book: 'new book', person: 'new person', theme: 'new theme' };

const counted = (count: number, noun: string): string =>
  `${count} ${noun}${count === 1 ? '' : 's'}`;
