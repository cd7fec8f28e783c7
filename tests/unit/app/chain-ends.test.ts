import { describe, expect, it } from 'vitest';
import { ChainState } from '../../../src/app/weave/chain.svelte';
import { Engine } from '../../../src/engine/engine';
import { thingSaid } from '../../../src/engine/chains';
import { mergeHeadings, removeRow } from '../../../src/journal/make-edits';
import type { HeadingId } from '../../../src/journal/records';
import { book, entry, journalOf, theme, tieTo } from '../journal/few';
import { weaving } from './weave-demo';

const NOW = '2026-11-25T12:00:00Z';
const about = (id: string, ...headings: string[]): ReturnType<typeof entry> =>
  entry(id, { ties: headings.map((heading) => tieTo(heading)) });
const engine = (): Engine =>
  new Engine(
    journalOf(
      ...[book('b'), book('c'), book('d'), theme('t'), theme('u'), theme('wide')],
      theme('narrow', { broader: ['wide' as HeadingId] }),
      ...[about('e1', 'b', 't'), about('e2', 't', 'c'), about('e3', 'b', 'u')],
      ...[about('e4', 'u', 'c'), about('e5', 't', 'd'), about('e6', 'narrow', 'wide')],
    ),
    { now: () => new Date(NOW), newId: () => 'new' },
  );
async function connected(core: Engine, from: string, to: string): Promise<ChainState> {
  const chain = new ChainState(weaving(core));
  await chain.connect(thingSaid(core, from)!, thingSaid(core, to)!);
  return chain;
}

describe('an end that has gone from the journal', () => {
  it.each(['from', 'to'] as const)('is asked for anew, the other stays: %s', async (end) => {
    const core = engine();
    const chain = await connected(core, 'b', 'c');
    expect(chain.ways).toBeGreaterThan(0);
    const gone = chain[end]!.id as HeadingId;
    core.apply(removeRow(core.journal, 'headings', gone));
    await chain.ask(true);
    expect(chain[end]).toBeUndefined();
    expect(chain[end === 'from' ? 'to' : 'from']).toBeDefined();
    expect(chain.ways).toBe(0);
    await chain.set(end, thingSaid(core, 'd')!);
    expect(chain.ways).toBeGreaterThan(0);
  });

  it('is asked for anew when it was made one with another heading', async () => {
    const core = engine();
    const chain = await connected(core, 'b', 'c');
    core.apply(mergeHeadings(core.journal, 'd' as HeadingId, 'b' as HeadingId, NOW));
    await chain.ask(true);
    expect([chain.from, chain.to?.id]).toEqual([undefined, 'c']);
  });

  it('is not looked for again, and what it was connected with is known to have gone too', async () => {
    const core = engine();
    const chain = await connected(core, 'b', 'c');
    for (const id of ['b', 'c']) {
      core.apply(removeRow(core.journal, 'headings', id));
      await chain.ask(true);
    }
    expect([chain.from, chain.to]).toEqual([undefined, undefined]);
  });
});

describe('what is told of the ways', () => {
  it('is that the first of several is the nearest', async () => {
    const chain = await connected(engine(), 'b', 'c');
    expect(chain.told).toBe('nearest of 2 ways');
    chain.step(1);
    expect(chain.told).toBe('2nd of 2 ways');
  });

  it('is not that there is no other, where one alone was looked for or found', async () => {
    expect((await connected(engine(), 'narrow', 'wide')).told).toBe('joined directly');
    expect((await connected(engine(), 't', 'd')).told).toBe('one way found');
  });

  it('is nothing where nothing joins them', async () => {
    expect((await connected(engine(), 'b', 'wide')).told).toBe('');
  });
});
