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
  const files = await filesUnder(ask.words);
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
    text: tell(result, kept, level, ask.flag('dry-run')),
    ...(unreadable || result.files.length === 0 ? { exit: 1 } : {}),
  };
}

function answerOf(result: GatherResult, kept: ReadonlySet<string>, dry: boolean): unknown {
  return {
    gathering: result.gathering.id,
    files: result.files.map(({ path, status, reason, pieces, books }) => ({
      path,
      status,
      ...(reason ? { reason } : {}),
      pieces,
      ...(books > 0 ? { books } : {}),
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
    ties: ties.map(({ heading, name, role, place: at, certainty: sure, isNew }) => ({
      ...(heading ? { heading } : {}),
      name,
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
  level: AcceptLevel,
  dry: boolean,
): string {
  const lines: string[] = [];
  const width = Math.min(Math.max(...result.files.map(({ path }) => path.length), 4), 60);
  const keptFrom = new Map<string, number>();
  for (const { id, source } of result.pieces) {
    if (kept.has(id)) keptFrom.set(source.path, (keptFrom.get(source.path) ?? 0) + 1);
  }
  for (const { path, status, reason, pieces, books } of result.files) {
    const counts = [
      ...(pieces > 0 || books === 0
        ? [`${keptFrom.get(path) ?? 0} of ${counted(pieces, 'piece')}`]
        : []),
      ...(books > 0 ? [counted(books, 'book')] : []),
    ];
    const count = status === 'read' ? counts.join(', ') : 'unreadable';
    lines.push(`${path.padEnd(width)}  ${count}${reason ? `\n    ${reason}` : ''}`);
  }
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
  if (twins > 0) lines.push(`${twins} say what another or the journal says.`);
  if (pictures > 0)
    lines.push(
      `${counted(pictures, 'picture')} left: a journal file holds none; gather ${pictures === 1 ? 'it' : 'them'} in the app.`,
    );
  lines.push(
    dry
      ? `${kept.size} would be kept (--accept ${level}).`
      : `${kept.size} kept (--accept ${level}).`,
  );
  const left = result.pieces.length - kept.size - twins;
  if (left > 0 && level !== 'all')
    lines.push(
      `The others wait to be looked at; --accept ${level === 'sure' ? 'likely or --accept all' : 'all'} keeps more.`,
    );
  return lines.join('\n');
}

const counted = (count: number, noun: string): string =>
  `${count} ${noun}${count === 1 ? '' : 's'}`;
