/** Boxes laid on pages: what must stay together does, and only what is higher than a page is cut. */
import type { Box } from './boxes';

export type Page = { box: Box; y: number }[];

/** Pages of `room` points of height, filled in order. There is at least one. */
export function pagesOf(boxes: readonly Box[], room: number): Page[] {
  const pages: Page[] = [[]];
  let used = 0;
  const page = (): Page => pages.at(-1)!;
  const turn = (): void => {
    pages.push([]);
    used = 0;
  };
  const put = (box: Box): void => {
    const white = page().length > 0 ? box.above : 0;
    page().push({ box, y: used + white });
    used += white + box.height;
  };
  const fits = (chain: readonly Box[]): boolean => {
    let height = used;
    chain.forEach((box, at) => {
      height += box.height + (at > 0 || page().length > 0 ? box.above : 0);
    });
    return height - (chain.at(-1)?.loose ?? 0) <= room + 0.01;
  };
  for (const chain of chains(boxes)) {
    if (fits(chain)) {
      chain.forEach(put);
      continue;
    }
    if (chain.every(({ ornament }) => ornament)) continue;
    const whole = chain.reduce((sum, box, at) => sum + box.height + (at > 0 ? box.above : 0), 0);
    if (whole - (chain.at(-1)?.loose ?? 0) <= room + 0.01) {
      turn();
      chain.forEach(put);
      continue;
    }
    for (const box of chain) putCut(box);
  }
  return pages;

  /** A chain higher than a page is laid box by box, each cut where it must be. */
  function putCut(box: Box): void {
    let rest: Box | undefined = box;
    while (rest) {
      if (fits([rest])) {
        put(rest);
        return;
      }
      const white: number = page().length > 0 ? rest.above : 0;
      const cut: [Box, Box] | undefined = rest.split?.(room - used - white);
      if (cut) {
        put(cut[0]);
        rest = cut[1];
        // White alone does not go overleaf.
        if (rest.height <= (rest.loose ?? 0)) {
          put(rest);
          return;
        }
      } else if (page().length === 0) {
        put(rest);
        return;
      }
      turn();
    }
  }
}

function chains(boxes: readonly Box[]): Box[][] {
  const found: Box[][] = [];
  let chain: Box[] = [];
  for (const box of boxes) {
    chain.push(box);
    if (!box.keep) {
      found.push(chain);
      chain = [];
    }
  }
  if (chain.length > 0) found.push(chain);
  return found;
}
