/** A piece made into two, and two made into one. */
import { TieList } from '../gather/ties';
import type { GatherPiece, PieceTie } from '../gather/piece';
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

/** The piece and the next one of its file as one: words under one another, ties together. */
export function joined(parts: BenchParts, id: string): Shaped {
  const item = parts.items.piece(id);
  const next = nextOf(parts, id);
  if (!item || !next) {
    const message = 'There is no piece after this one in its file that is still to be sorted.';
    return { ok: false, code: 'nothing-to-join', message };
  }
  const [a, b] = [item.now, next.now];
  const ties = new TieList();
  for (const tie of [...a.ties, ...b.ties]) ties.add(tie);
  const { twinOf: _, ...rest } = a;
  const answer = [a.answer, b.answer].filter(Boolean).join('\n\n');
  const title = a.title ?? b.title;
  const picture = a.picture ?? b.picture;
  const piece: GatherPiece = {
    ...rest,
    id: `${a.id}+${b.id.slice(b.id.indexOf('-') + 1)}`,
    text: [a.text, b.text].filter((text) => text.trim()).join('\n\n'),
    ties: ties.all(),
    ...(title ? { title } : {}),
    ...(answer ? { answer } : {}),
    ...(picture ? { picture } : {}),
  };
  return reshaped(parts, [item, next], [piece], 'Join two pieces');
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
