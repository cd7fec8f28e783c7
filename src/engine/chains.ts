/** How two things are connected, told in words; and where nothing joins them, what comes nearest to doing so. */
import type { EntryId, HeadingId } from '../journal/records';
import { plainText } from '../language/markdown';
import { chains, reachedFrom, type Chain } from '../weave/chain';
import { nearTo, type Seeds } from '../weave/near';
import type { Core } from './core';
import type { ChainSaid, ChainsView, ThingSaid } from './weave-answers';

/** How far down the list of what is near one end the other's side is looked for. */
const LOOKED_THROUGH = 120;

export function chainsView(core: Core, from: string, to: string): ChainsView {
  const [one, other] = [thingSaid(core, from), thingSaid(core, to)];
  if (!one || !other) {
    return { ...(one ? { from: one } : {}), ...(other ? { to: other } : {}), chains: [] };
  }
  const found = from === to ? [] : chains(core.weaveIndex, from, to);
  const ends = { from: one, to: other };
  if (found.length > 0) return { ...ends, chains: found.map((chain) => told(core, chain)) };
  const miss = from === to ? undefined : nearestMiss(core, from, to);
  return { ...ends, chains: [], ...(miss ? { miss } : {}) };
}

function told(core: Core, { steps }: Chain): ChainSaid {
  return {
    steps: steps.flatMap(({ id, via }) => {
      const thing = thingSaid(core, id);
      return thing ? [{ ...thing, ...(via === undefined ? {} : { via }) }] : [];
    }),
  };
}

/** What is shown of an entry or heading; undefined for what is not in the journal. */
export function thingSaid({ journal }: Core, id: string): ThingSaid | undefined {
  const heading = journal.tables.headings.get(id as HeadingId);
  if (heading) return { id, type: 'heading', kind: heading.kind, text: heading.name };
  const entry = journal.tables.entries.get(id as EntryId);
  if (!entry) return undefined;
  const text = entry.title ?? plainText(entry.text);
  return { id, type: 'entry', kind: entry.kind, text };
}

/** Of all that is near to one end, the first thing that ties lead to from the other; from the end that ties lead less far from. */
function nearestMiss(core: Core, from: string, to: string): ChainsView['miss'] {
  const ends = [from, to].map((id) => ({ id, reached: reachedFrom(core.weaveIndex, id) }));
  ends.sort((a, b) => a.reached.size - b.reached.size);
  const [less, more] = ends as [(typeof ends)[number], (typeof ends)[number]];
  const { entries, headings } = core.journal.tables;
  for (const { id, reached } of [
    { id: less.id, reached: more.reached },
    { id: more.id, reached: less.reached },
  ]) {
    const seeds: Seeds = headings.has(id as HeadingId)
      ? { headings: [id as HeadingId], text: headings.get(id as HeadingId)!.name }
      : { entries: [id as EntryId], text: plainText(entries.get(id as EntryId)?.text ?? '') };
    for (const near of nearTo(core.weaveIndex, seeds, { limit: LOOKED_THROUGH })) {
      const there = reached.has(near.id) && near.id !== id ? thingSaid(core, near.id) : undefined;
      const here = there && thingSaid(core, id);
      if (there && here) {
        return { here, there, reasons: near.reasons.map(({ text }) => text) };
      }
    }
  }
  return undefined;
}
