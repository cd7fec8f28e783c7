/** Making sure that everything the leader insists on stands somewhere, even where time is too short for it. */
import { Placement, type Instance } from './instance';

/** Ways of packing tried before it is taken that the musts do not fit. */
const MOST_TRIES = 5_000;

/**
 * A start with every must in it. Where they fit, they stay free to move between parts. Where they do not, each is
 * put where it is worth most and still fits, or else where it is worth most; the parts (and the whole) are widened
 * to hold them, and they are pinned there.
 */
export function settleMusts(instance: Instance): { instance: Instance; placement: Placement } {
  const pinned = new Set(instance.pinned.map(({ item }) => item));
  const musts: number[] = [];
  for (let item = 0; item < instance.items; item += 1) {
    if (instance.must[item] && !pinned.has(item)) musts.push(item);
  }
  musts.sort((a, b) => instance.minutes[b]! - instance.minutes[a]! || a - b);
  const placement = new Placement(instance);
  const tries = { left: MOST_TRIES };
  if (pack(placement, musts, 0, tries)) return { instance, placement };
  return overfull(instance, musts);
}

function pack(placement: Placement, musts: number[], at: number, tries: { left: number }): boolean {
  const item = musts[at];
  if (item === undefined) return true;
  for (const part of partsByWorth(placement.instance, item)) {
    if (!placement.fits(item, part)) continue;
    if ((tries.left -= 1) < 0) return false;
    placement.put(item, part);
    if (pack(placement, musts, at + 1, tries)) return true;
    placement.take(item);
  }
  return false;
}

function partsByWorth(instance: Instance, item: number): number[] {
  const own = (part: number): number => instance.own[item * instance.parts + part]!;
  return Array.from({ length: instance.parts }, (_, part) => part)
    .filter((part) => !Number.isNaN(own(part)))
    .sort((a, b) => own(b) - own(a) || a - b);
}

function overfull(
  instance: Instance,
  musts: number[],
): { instance: Instance; placement: Placement } {
  const room = Float64Array.from(instance.room);
  const used = new Float64Array(instance.parts);
  const pinned = [...instance.pinned];
  let sum = 0;
  const pin = (item: number, part: number): void => {
    used[part]! += instance.minutes[item]!;
    sum += instance.minutes[item]!;
    room[part] = Math.max(room[part]!, used[part]!);
  };
  for (const { item, part } of instance.pinned) pin(item, part);
  for (const item of musts) {
    const parts = partsByWorth(instance, item);
    const part =
      parts.find((p) => used[p]! + instance.minutes[item]! <= instance.room[p]!) ?? parts[0]!;
    pinned.push({ item, part });
    pin(item, part);
  }
  const widened = { ...instance, room, whole: Math.max(instance.whole, sum), pinned };
  return { instance: widened, placement: new Placement(widened) };
}
