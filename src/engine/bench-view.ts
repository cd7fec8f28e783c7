/** The bench as a screen shows it: counts, files, and the rows asked for. */
import { acceptable } from '../gather/accept';
import { ENTRY_KINDS } from '../journal/records';
import { CERTAINTIES } from '../language/certainty';
import type { BenchItem, BenchItems } from './bench-items';
import type { BenchLedger } from './bench-ledger';
import { nameOf, rowOfItem } from './bench-rows';
import type { BenchStanding } from './bench-standing';
import type { BenchAsk, BenchCounts, BenchFile, BenchRow, BenchShow, Settled } from './bench-types';
import type { Core } from './core';

const MOST_ROWS = 200;

export interface BenchParts {
  core: Core;
  items: BenchItems;
  ledger: BenchLedger;
  standing: BenchStanding;
}

type Status = Settled | 'left';

export interface ListShown {
  counts: BenchCounts;
  sure: number;
  total: number;
  from: number;
  rows: BenchRow[];
  at: number;
  files: BenchFile[];
}

export function listShown(parts: BenchParts, ask: BenchAsk): ListShown {
  const { core, items, standing } = parts;
  const status = new Map<BenchItem, Status>(
    items.all.map((item) => [item, standing.statusOf(item)]),
  );
  const counts: BenchCounts = {
    found: items.all.length,
    accepted: 0,
    seen: 0,
    skipped: 0,
    left: 0,
  };
  for (const each of status.values()) counts[each] += 1;
  const shown = ordered(
    items.all.filter(
      (item) => item.id === ask.linger || belongs(parts, item, ask, status.get(item)!),
    ),
    ask.order,
  );
  const at = ask.around === undefined ? -1 : shown.findIndex(({ id }) => id === ask.around);
  const limit = Math.min(Math.max(1, ask.limit), MOST_ROWS);
  const from = fromRow(ask, at, limit);
  return {
    counts,
    sure: surelyAcceptable(parts, ask, (item) => status.get(item)!).length,
    total: shown.length,
    from,
    rows: shown.slice(from, from + limit).map((item) => rowOfItem(core, standing, item)),
    at,
    files: filesShown(parts, status),
  };
}

/** The part stays where it is while the row asked for lies well inside it, so that nothing moves on the screen. */
function fromRow({ from }: BenchAsk, at: number, limit: number): number {
  const edge = Math.floor(limit / 6);
  const inside = at >= from + (from > 0 ? edge : 0) && at < from + limit - edge;
  return Math.max(0, at < 0 || inside ? from : at - Math.floor(limit / 3));
}

function belongs(
  { standing }: BenchParts,
  item: BenchItem,
  { show, file }: Pick<BenchAsk, 'show' | 'file'>,
  status: Status,
): boolean {
  if (file !== undefined && item.file !== file) return false;
  if (show === 'accepted' || show === 'skipped' || show === 'seen') return status === show;
  if (status !== 'left') return false;
  if (show === 'left') return true;
  if (show === 'books') return item.type !== 'piece';
  if (show === 'twins') return item.type === 'piece' && standing.twinOf(item) !== undefined;
  if (isCertainty(show)) return certaintyOf(item) === show;
  return item.type === 'piece' && item.now.kind === show;
}

const isCertainty = (show: BenchShow): boolean => (CERTAINTIES as readonly string[]).includes(show);

const certaintyOf = (item: BenchItem): (typeof CERTAINTIES)[number] =>
  item.type === 'piece'
    ? item.now.certainty
    : item.type === 'book'
      ? item.now.tie.certainty
      : 'sure';

function ordered(items: BenchItem[], order: BenchAsk['order']): BenchItem[] {
  if (order === 'notebook') return items;
  const rank =
    order === 'certainty'
      ? (item: BenchItem): number => -CERTAINTIES.indexOf(certaintyOf(item))
      : (item: BenchItem): number =>
          item.type === 'piece' ? ENTRY_KINDS.indexOf(item.now.kind) : ENTRY_KINDS.length;
  return items.sort((a, b) => rank(a) - rank(b) || a.at - b.at);
}

/** What is left of what is shown and sure enough to be accepted unseen; near twins wait for the reader. */
export function surelyAcceptable(
  parts: BenchParts,
  ask: Pick<BenchAsk, 'show' | 'file'>,
  statusOf: (item: BenchItem) => Status = (item) => parts.standing.statusOf(item),
): BenchItem[] {
  const { items, standing } = parts;
  return items.all.filter((item) => {
    if (certaintyOf(item) !== 'sure') return false;
    const status = statusOf(item);
    if (status !== 'left' || !belongs(parts, item, ask, status)) return false;
    if (item.type !== 'piece' || !item.sorted.twinOf) return true;
    return acceptable([standing.toAccept(item)], 'sure').length > 0;
  });
}

function filesShown(
  { items, ledger }: BenchParts,
  status: ReadonlyMap<BenchItem, Status>,
): BenchFile[] {
  const settled = new Map<number, number>();
  const seen = new Map<number, number>();
  const total = new Map<number, number>();
  for (const item of items.all) {
    total.set(item.file, (total.get(item.file) ?? 0) + 1);
    const stands = status.get(item);
    if (stands !== 'left') settled.set(item.file, (settled.get(item.file) ?? 0) + 1);
    if (stands === 'seen') seen.set(item.file, (seen.get(item.file) ?? 0) + 1);
  }
  return ledger.files().map(([key, { told, columns }]) => ({
    key,
    path: told.path,
    name: nameOf(told.path),
    status: told.status,
    settled: settled.get(key) ?? 0,
    total: total.get(key) ?? 0,
    ...(told.reason ? { reason: told.reason } : {}),
    ...(told.before ? { before: seen.get(key) === total.get(key) ? 'whole' : 'partly' } : {}),
    ...(columns ? { table: true } : {}),
  }));
}
