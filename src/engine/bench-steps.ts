/** What each step at the bench changes: the journal by an edit, the bench by a patch. Nothing is changed here. */
import { acceptEdit } from '../gather/accept';
import type { BookGathered, MeetingGathered } from '../gather/gathering';
import type { GatherPiece, PieceTie, TwinChoice } from '../gather/piece';
import type { Change, Edit } from '../journal/edits';
import { counted, nounOfKind, oneOf } from '../journal/labels';
import type { BesideChange } from '../keep/beside';
import { madeKey } from './bench-beside';
import { wordedAs, type BenchItem, type PieceItem } from './bench-items';
import { HEAD, itemKey, REVOKED, unsettled, type ItemHeld, type Patch } from './bench-ledger';
import { putBackChanges, RowsOf } from './bench-put-back';
import { gatheringOf, recordChanges } from './bench-record';
import { joined, split } from './bench-shapes';
import type { BenchStep, TieAsked } from './bench-types';
import { surelyAcceptable, type BenchParts } from './bench-view';
import { dateTyped } from './dates-typed';

/** Something that may be done, as it would be; or one sentence why not. */
export type Planned =
  | { ok: true; does: string; edit?: Edit; patch: Patch; touched?: string; settles?: number }
  | { ok: false; code: string; message: string };

const refused = (code: string, message: string): Planned => ({ ok: false, code, message });
const GONE = refused('gone', 'That piece is no longer here.');
const ACCEPTED = refused('accepted', 'It is in the journal already. Put it back first.');
const EMPTY = refused('empty', 'There would be nothing left of it: skip it instead.');

export function planStep(parts: BenchParts, step: BenchStep): Planned {
  const { items, ledger } = parts;
  // The journal has it as it is: what is done to it here would not reach there.
  if (step.do !== 'put-back' && idsOf(step).some((id) => ledger.item(id)?.as === 'accepted'))
    return ACCEPTED;
  switch (step.do) {
    case 'accept':
      return accept(parts, itemsOf(parts, step.ids), step.choice);
    case 'accept-sure':
      return accept(parts, surelyAcceptable(parts, step.ask));
    case 'skip':
      return settle(parts, itemsOf(parts, step.ids), 'skipped', 'Skip');
    case 'put-back':
      return putBack(parts, itemsOf(parts, step.ids));
    case 'kind': {
      const pieces = itemsOf(parts, step.ids).filter((item) => item.type === 'piece');
      if (pieces.length === 0) return GONE;
      const patch = pieces.map(({ id }) => altered(parts, id, { kind: step.kind }));
      const becomes =
        pieces.length === 1 ? oneOf(nounOfKind(step.kind)) : `${nounOfKind(step.kind)}s`;
      return planned(`Make ${saidOf(pieces)} ${becomes}`, patch, pieces[0]?.id);
    }
    case 'tie': {
      const pieces = itemsOf(parts, step.ids).filter((item) => item.type === 'piece');
      if (pieces.length === 0) return GONE;
      const patch = pieces.map(({ id }) => tieChange(parts, id, [step.tie], []));
      return planned(`Tie ${saidOf(pieces)} to ${step.tie.name}`, patch, pieces[0]?.id);
    }
    case 'untie': {
      const item = items.piece(step.id);
      if (!item) return GONE;
      const patch = [tieChange(parts, step.id, [], [step.tie])];
      return planned(`Untie ${saidOf([item])} from ${step.tie.name}`, patch, step.id);
    }
    case 'alter': {
      const item = items.piece(step.id);
      if (!item) return GONE;
      const { kind, words, tied = [], untied = [] } = step;
      const [key, held] = tieChange(parts, step.id, tied, untied);
      const before = ledger.item(step.id)?.words;
      const after: ItemHeld = { ...(held as ItemHeld) };
      if (kind && kind !== item.now.kind) after.kind = kind;
      if (words) after.words = { ...before, ...words };
      if (words?.written) {
        const date = dateTyped(words.written);
        if (!date.ok) return date;
        after.words = { ...after.words, written: date.edtf };
      }
      const { text, title = '', picture } = wordedAs(item.now, after);
      if (words && !picture && `${text}${title}`.trim() === '') return EMPTY;
      return planned(`Alter ${saidOf([item])}`, [[key, after]], step.id);
    }
    case 'alter-book': {
      const item = items.get(step.id);
      if (item?.type !== 'book') return GONE;
      const book = { ...ledger.item(step.id)?.book, ...step.book };
      return planned('Alter a book', [altered(parts, step.id, { book })], step.id);
    }
    case 'split':
      return split(parts, step.id, step.at);
    case 'join':
      return joined(parts, step.id);
    case 'revoke': {
      const revoked = [...new Set([...ledger.revoked, step.rule])];
      return planned('Revoke a learnt rule', [[REVOKED, revoked]]);
    }
    case 'name': {
      const { head } = ledger;
      const name = step.name.trim();
      if (!head || name === '') return refused('no-name', 'A gathering needs a name.');
      return planned('Name a gathering', [[HEAD, { ...head, name }]]);
    }
    case 'put-away':
      return planned(
        'Put a gathering away',
        ledger.keys().map((key): BesideChange => [key, undefined]),
      );
  }
}

function planned(does: string, patch: Patch, touched?: string): Planned {
  return { ok: true, does, patch, ...(touched ? { touched } : {}) };
}

const idsOf = (step: BenchStep): readonly string[] =>
  'ids' in step ? step.ids : 'id' in step ? [step.id] : [];

const itemsOf = ({ items }: BenchParts, ids: readonly string[]): BenchItem[] =>
  ids.flatMap((id) => items.get(id) ?? []);

/** "a question", "3 pieces". */
function saidOf(items: readonly BenchItem[]): string {
  const [only] = items;
  if (items.length !== 1 || !only) return counted(items.length, 'piece');
  return only.type === 'piece' ? oneOf(nounOfKind(only.now.kind)) : oneOf(only.type);
}

const altered = ({ ledger }: BenchParts, id: string, change: Partial<ItemHeld>): BesideChange => [
  itemKey(id),
  { ...ledger.item(id), ...change },
];

const sameTie = (a: TieAsked, b: TieAsked): boolean =>
  a.kind === b.kind && (a.heading && b.heading ? a.heading === b.heading : a.name === b.name);

/** Ties put on and taken off: one put on is no longer taken off, and the other way round. */
function tieChange(
  parts: BenchParts,
  id: string,
  on: readonly TieAsked[],
  off: readonly TieAsked[],
): BesideChange {
  const { items, ledger } = parts;
  const held = ledger.item(id);
  const now = items.piece(id)?.now;
  const tied = (held?.tied ?? []).filter(
    (tie) => ![...on, ...off].some((one) => sameTie(one, tie)),
  );
  const untied = new Set(held?.untied ?? []);
  for (const tie of on) {
    untied.delete(tie.heading ?? tie.name);
    untied.delete(tie.name);
    const known = now?.ties.find((one) => sameTie(one, tie));
    tied.push(known ? { ...known, certainty: 'sure' } : newTie(tie, now));
  }
  for (const tie of off) untied.add(tie.heading ?? tie.name);
  const change: Partial<ItemHeld> = { tied, untied: [...untied] };
  return altered(parts, id, change);
}

function newTie({ name, kind, heading }: TieAsked, piece: GatherPiece | undefined): PieceTie {
  const from = piece?.kind === 'quote' && kind === 'book';
  return {
    name,
    kind,
    ...(heading ? { heading: heading as PieceTie['heading'] } : {}),
    role: from ? 'from' : 'about',
    certainty: 'sure',
    isNew: !heading,
  };
}

function settle(
  parts: BenchParts,
  items: readonly BenchItem[],
  as: 'skipped' | 'seen',
  verb: string,
): Planned {
  if (items.length === 0) return GONE;
  const patch = items.map(({ id }) => altered(parts, id, { as, entry: undefined }));
  const does = `${verb} ${saidOf(items)}`;
  const changes = recordChanges(parts, patch);
  return {
    ok: true,
    does,
    patch,
    ...(changes.length > 0 ? { edit: { does, changes } } : {}),
    settles: items.length,
    ...(items[0] ? { touched: items[0].id } : {}),
  };
}

/**
 * Accepts pieces, books and meetings together by one edit. What the journal says already becomes seen before. A near twin that is
 * accepted without a choice is kept beside the other; `take-wording` of a piece still left settles that other as seen.
 */
function accept(parts: BenchParts, items: readonly BenchItem[], choice?: TwinChoice): Planned {
  const { core, ledger, standing } = parts;
  if (items.length === 0) return refused('nothing', 'There is nothing here to accept.');
  if (choice === 'keep-ours') return settle(parts, items, 'seen', 'Leave out');
  const pieces: GatherPiece[] = [];
  const books: BookGathered[] = [];
  const meetings: MeetingGathered[] = [];
  const seen: PieceItem[] = [];
  for (const item of items) {
    if (item.type === 'book') books.push(item.now);
    else if (item.type === 'meeting') meetings.push(item.now);
    else {
      const piece = standing.toAccept(item);
      const { piece: here, brings } = standing.twinOf(item) ?? {};
      if (choice === 'take-wording' && here) seen.push(here);
      const again = !brings && (piece.twinOf !== undefined || standing.statusOf(item) === 'seen');
      const asked = choice ?? (again ? 'keep-both' : undefined);
      pieces.push(asked ? { ...piece, choice: asked } : piece);
    }
  }
  const accepted = acceptEdit(core.journal, pieces, {
    newId: core.around.newId,
    now: core.nowIso(),
    gathering: gatheringOf(parts, [
      ...items.map(({ id }): BesideChange => [itemKey(id), { as: 'accepted' }]),
      ...seen.map(({ id }): BesideChange => [itemKey(id), { as: 'seen' }]),
    ]),
    books,
    meetings,
  });
  const { edit } = accepted;
  const entryOf = new Map(accepted.pieces.map((id, at) => [id, accepted.entries[at]]));
  const rows = new RowsOf(parts, edit.changes);
  const madeOf = ({ id, type, now }: BenchItem): Pick<ItemHeld, 'made' | 'listed'> => {
    if (type === 'piece') return rows.wording(entryOf.get(id));
    if (type === 'meeting') return rows.meeting(accepted.meetings[meetings.indexOf(now)]);
    const kept = accepted.books[books.indexOf(now)];
    return kept ? rows.book(kept) : {};
  };
  const patch = items.map((item): BesideChange => {
    const { id, type } = item;
    const entry = entryOf.get(id);
    const nothing = type === 'piece' ? !entry : edit.changes.length === 0;
    if (nothing) return altered(parts, id, { as: 'seen', entry: undefined });
    const more = { ...(entry ? { entry } : {}), ...madeOf(item) };
    return altered(parts, id, { as: 'accepted', ...more, ...(choice ? { choice } : {}) });
  });
  for (const { id } of seen) patch.push(altered(parts, id, { as: 'seen' }));
  const gathering = ledger.head?.id ?? '';
  const made = edit.changes.filter(isMade);
  if (made.length > 0) patch.push([madeKey(gathering, core.around.newId()), made]);
  const does = `${choice === 'take-wording' ? 'Take the wording of' : 'Accept'} ${saidOf(items)}`;
  return {
    ok: true,
    does,
    edit: { ...edit, does },
    patch,
    settles: items.length,
    ...(items[0] ? { touched: items[0].id } : {}),
  };
}

/** What taking the gathering back must find again: everything but its own entries, which name it. */
const isMade = ({ table, before, after }: Change): boolean =>
  table !== 'gatherings' && (table !== 'entries' || before !== undefined) && before !== after;

/** What was settled is left again, and what accepting it made is taken out of the journal. */
function putBack(parts: BenchParts, items: readonly BenchItem[]): Planned {
  if (items.length === 0) return GONE;
  const patch = items.map(({ id }): BesideChange => {
    const { choice: _, ...rest } = unsettled(parts.ledger.item(id) ?? {});
    return [itemKey(id), Object.keys(rest).length > 0 ? rest : undefined];
  });
  const does = `Put back ${saidOf(items)}`;
  const changes = [...putBackChanges(parts, items), ...recordChanges(parts, patch)];
  return {
    ok: true,
    does,
    patch,
    ...(changes.length > 0 ? { edit: { does, changes } } : {}),
    ...(items[0] ? { touched: items[0].id } : {}),
  };
}
