/** A piece made into two, and two made into one. */
import { safeText } from '../gather/readers/tools/safe-text';
import { TieList } from '../gather/ties';
import type { EntryMore, GatherPiece, PieceTie } from '../gather/piece';
import type { LessonDetail } from '../journal/records';
import { plainText } from '../language/markdown';
import { proposeKind } from '../language/kinds';
import { fold } from '../language/tokens';
import type { PieceItem } from './bench-items';
import { fileKey, itemKey, type Patch } from './bench-ledger';
import type { BenchParts } from './bench-view';

export type Shaped =
  | { ok: true; does: string; patch: Patch; touched: string }
  | { ok: false; code: string; message: string };

/**
 * The piece in two at an offset of its text. Each half is told its kind anew, unless the reader has told it; a tie goes with the half
 * that names it, and with both where neither does.
 */
export function split(parts: BenchParts, id: string, at: number): Shaped {
  const item = parts.items.piece(id);
  if (!item) return { ok: false, code: 'gone', message: 'That piece is no longer here.' };
  const { now } = item;
  const texts = [now.text.slice(0, at).trim(), now.text.slice(at).trim()];
  const [first, second] = texts;
  if (!first || !second) {
    const message = 'Put the cursor between two words, where the second piece begins.';
    return { ok: false, code: 'nothing-to-split', message };
  }
  const byHand = parts.ledger.item(id)?.kind !== undefined;
  const halves = [first, second].map((text, half): GatherPiece => {
    const { twinOf: _, title, answer, picture, ...rest } = now;
    const other = half === 0 ? second : first;
    return {
      ...rest,
      ...(half === 0 && title ? { title } : {}),
      ...(half === 1 && answer ? { answer } : {}),
      ...(half === 0 && picture ? { picture } : {}),
      ...(byHand ? {} : proposeKind(plainText(text))),
      id: `${id}.${half + 1}`,
      text,
      ties: now.ties.filter((tie) => names(text, tie) || !names(other, tie)),
    };
  });
  return reshaped(parts, [item], halves, 'Split a piece');
}

/** The piece that stands next in the same file and is not settled. */
export function nextOf({ items, standing }: BenchParts, id: string): PieceItem | undefined {
  const item = items.piece(id);
  const next = item && items.all[item.at + 1];
  if (!next || next.type !== 'piece' || next.file !== item.file) return undefined;
  return standing.statusOf(next) === 'left' ? next : undefined;
}

/** The piece and the next one of its file as one: words under one another, and all else of both together. */
export function joined(parts: BenchParts, id: string): Shaped {
  const item = parts.items.piece(id);
  const next = nextOf(parts, id);
  if (!item || !next) {
    const message = 'There is no piece after this one in its file that is still to be sorted.';
    return { ok: false, code: 'nothing-to-join', message };
  }
  if (item.now.picture && next.now.picture) {
    const message = 'Each of the two has a picture, and a piece can hold only one.';
    return { ok: false, code: 'two-pictures', message };
  }
  return reshaped(parts, [item, next], [asOne(item.now, next.now)], 'Join two pieces');
}

/** Of what there can be only one, the first piece's stands; a second title goes before the words it stood over. */
function asOne(a: GatherPiece, b: GatherPiece): GatherPiece {
  const ties = new TieList();
  for (const tie of [...a.ties, ...b.ties]) ties.add(tie);
  const { twinOf: _, ...rest } = a;
  const title = a.title ?? b.title;
  const second = b.title && b.title !== title ? safeText(b.title) : undefined;
  const answer = textsOf(a.answer, b.answer);
  const written = a.written ?? b.written;
  const picture = a.picture ?? b.picture;
  const materials = listOf(a.materials, b.materials);
  const more = moreOf(a.more, b.more);
  return {
    ...rest,
    id: `${a.id}+${b.id.slice(b.id.indexOf('-') + 1)}`,
    text: textsOf(a.text, second, b.text) ?? '',
    ties: ties.all(),
    ...(title ? { title } : {}),
    ...(written ? { written } : {}),
    ...(answer ? { answer } : {}),
    ...(picture ? { picture } : {}),
    ...(materials ? { materials } : {}),
    ...(more ? { more } : {}),
  };
}

function moreOf(a: EntryMore = {}, b: EntryMore = {}): EntryMore | undefined {
  const { level, levelBy } = a.level ? a : b;
  const minutes = (a.minutes ?? 0) + (b.minutes ?? 0);
  return filled<EntryMore>({
    level,
    levelBy,
    minutes: minutes || undefined,
    probes: listOf(a.probes, b.probes),
    cautions: listOf(a.cautions, b.cautions),
    ages: a.ages ?? b.ages,
    lesson: lessonOf(a.lesson, b.lesson),
  });
}

function lessonOf(a: LessonDetail = {}, b: LessonDetail = {}): LessonDetail | undefined {
  return filled<LessonDetail>({
    objective: textsOf(a.objective, b.objective),
    preparation: textsOf(a.preparation, b.preparation),
    object: textsOf(a.object, b.object),
    observations: stepsOf(a.observations, b.observations),
    idea: textsOf(a.idea, b.idea),
    steps: stepsOf(a.steps, b.steps),
    due: a.due ?? b.due,
  });
}

const textsOf = (...texts: (string | undefined)[]): string | undefined =>
  texts.filter((text) => text?.trim()).join('\n\n') || undefined;

const stepsOf = <T>(a: T[] = [], b: T[] = []): T[] | undefined =>
  a.length + b.length > 0 ? [...a, ...b] : undefined;

/** Nothing twice. */
const listOf = <T>(a?: T[], b?: T[]): T[] | undefined => {
  const all = stepsOf(a, b);
  return all && [...new Set(all)];
};

/** Only the fields that say something; undefined where none does. */
function filled<T extends object>(fields: { [K in keyof T]: T[K] | undefined }): T | undefined {
  const said = Object.entries(fields).filter(([, value]) => value !== undefined);
  return said.length > 0 ? (Object.fromEntries(said) as T) : undefined;
}

function reshaped(
  { ledger }: BenchParts,
  gone: readonly PieceItem[],
  made: readonly GatherPiece[],
  does: string,
): Shaped {
  const [first] = gone;
  const file = first && ledger.file(first.file);
  if (!first || !file) return { ok: false, code: 'gone', message: 'That piece is no longer here.' };
  const out = new Set(gone.map(({ id }) => id));
  const pieces = file.pieces.flatMap((piece) =>
    piece.id === first.id ? made : out.has(piece.id) ? [] : [piece],
  );
  // The rules that hold for a half are those that held for the whole: its kind, set by hand or not, goes along.
  const kind = ledger.item(first.id)?.kind;
  const patch: Patch = [
    ...gone.map(({ id }) => [itemKey(id), undefined] as const),
    ...made.flatMap(({ id }) => (kind ? [[itemKey(id), { kind }] as const] : [])),
    [fileKey(first.file), { ...file, pieces }],
  ];
  return { ok: true, does, patch, touched: made[0]?.id ?? first.id };
}

/** Whether the words name a heading: all of it, or the last word of a person's name. */
function names(text: string, { name, kind }: PieceTie): boolean {
  const words = ` ${fold(plainText(text)).replace(/[^\p{L}\p{N}]+/gu, ' ')} `;
  const said = fold(name)
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
  const last = said.split(' ').at(-1) ?? said;
  return words.includes(` ${said} `) || (kind === 'person' && words.includes(` ${last} `));
}
