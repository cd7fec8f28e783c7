/** What can be done to a guide by hand, as new guides. What is touched is marked as set by hand, so that composing again leaves it alone. */
import type { EntryId, Guide, GuideItem, GuidePart } from '../../journal/records';

export interface At {
  part: number;
  item: number;
}

function withParts(guide: Guide, alter: (parts: GuidePart[]) => void): Guide {
  const parts = guide.parts.map((part) => ({ ...part, items: [...part.items] }));
  alter(parts);
  return { ...guide, parts };
}

export const changeItem = (guide: Guide, at: At, change: Partial<GuideItem>): Guide =>
  withParts(guide, (parts) => {
    const items = parts[at.part]?.items;
    const item = items?.[at.item];
    if (items && item) items[at.item] = without({ ...item, ...change, fixed: true });
  });

/** Fields that are undefined are left out, as the journal has them. */
const without = (item: GuideItem): GuideItem =>
  Object.fromEntries(
    Object.entries(item).filter(([, value]) => value !== undefined),
  ) as unknown as GuideItem;

/** Where an item would come to stand one step on, over the edge of its part into the next; undefined at the ends. */
export function stepFrom(guide: Guide, at: At, step: number): At | undefined {
  const to = at.item + step;
  if (to >= 0 && to < (guide.parts[at.part]?.items.length ?? 0)) return { part: at.part, item: to };
  const next = guide.parts[at.part + step];
  if (!next) return undefined;
  return { part: at.part + step, item: step < 0 ? next.items.length : 0 };
}

export const moveItem = (guide: Guide, at: At, to: At): Guide =>
  withParts(guide, (parts) => {
    const [item] = parts[at.part]?.items.splice(at.item, 1) ?? [];
    if (item) parts[to.part]?.items.splice(to.item, 0, { ...item, fixed: true });
  });

export const putIn = (guide: Guide, at: At, item: GuideItem): Guide =>
  withParts(guide, (parts) => void parts[at.part]?.items.splice(at.item, 0, item));

/** Takes an item out: away, to the spares, or put aside so that it does not come back. */
export function takeOut(guide: Guide, at: At, how: 'away' | 'spare' | 'aside'): Guide {
  const item = guide.parts[at.part]?.items[at.item];
  if (!item) return guide;
  const left = withParts(guide, (parts) => void parts[at.part]?.items.splice(at.item, 1));
  if (how === 'spare') return asSpare(left, item);
  return how === 'aside' && item.entry ? putAside(left, item.entry) : left;
}

/** Holds an item ready, before the spares that were found by themselves. */
export function asSpare(guide: Guide, item: GuideItem): Guide {
  const others = (guide.spare ?? []).filter(({ entry }) => !entry || entry !== item.entry);
  const kept = others.filter(({ fixed }) => fixed);
  const found = others.filter(({ fixed }) => !fixed);
  const { ifTime: _ifTime, ...ready } = item;
  return { ...guide, spare: [...kept, { ...ready, must: false, fixed: true }, ...found] };
}

export function fromSpare(guide: Guide, index: number, at: At): Guide {
  const item = guide.spare?.[index];
  if (!item) return guide;
  const spare = guide.spare!.filter((_, number) => number !== index);
  return putIn({ ...guide, spare }, at, { ...item, fixed: true });
}

export const dropSpare = (guide: Guide, index: number): Guide => ({
  ...guide,
  spare: (guide.spare ?? []).filter((_, number) => number !== index),
});

/** Not this time: it is neither composed in, nor suggested, nor held ready. */
export const putAside = (guide: Guide, entry: EntryId): Guide => ({
  ...guide,
  refused: [...new Set([...(guide.refused ?? []), entry])],
  ...(guide.spare ? { spare: guide.spare.filter((item) => item.entry !== entry) } : {}),
});

export const letIn = (guide: Guide, entry: EntryId): Guide => ({
  ...guide,
  refused: (guide.refused ?? []).filter((one) => one !== entry),
});

export const changePart = (guide: Guide, index: number, change: Partial<GuidePart>): Guide =>
  withParts(guide, (parts) => {
    const part = parts[index];
    if (part) parts[index] = { ...part, ...change };
  });

/** A part of the leader's own before the last, which stays the closing. */
export const addPart = (guide: Guide, name: string, minutes: number): Guide =>
  withParts(guide, (parts) => {
    parts.splice(Math.max(0, parts.length - 1), 0, { name, minutes, items: [] });
  });

/** Takes a part out; what is left in it goes to the part before, or to the one after the first. */
export const removePart = (guide: Guide, index: number): Guide =>
  withParts(guide, (parts) => {
    const [part] = parts.length > 1 ? parts.splice(index, 1) : [];
    if (!part) return;
    const items = part.items.map((item) => ({ ...item, fixed: true }));
    if (index > 0) parts[index - 1]!.items.push(...items);
    else parts[0]!.items.unshift(...items);
  });

/** What of a guide decides its worth; the same for two guides that hold the same things for as long. */
export const worthKey = (guide: Guide): string =>
  JSON.stringify([
    guide.minutes,
    guide.circle,
    guide.restMonths,
    guide.aims,
    guide.focus,
    guide.refused,
    guide.parts.map(({ name, minutes, items }) => [
      name,
      minutes,
      items.map((item) => [item.entry ?? item.text, item.minutes, item.level, item.fixed]),
    ]),
  ]);
