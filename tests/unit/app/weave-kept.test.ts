import { expect, it } from 'vitest';
import { WeaveState } from '../../../src/app/weave/weave.svelte';
import { weaving, wovenEngine } from './weave-demo';

/** A weave, and what is to happen once while its next cloth is being laid. */
function laid(): { weave: WeaveState; during: (happens: () => void) => void } {
  let happens: (() => void) | undefined;
  const desk = weaving(wovenEngine(), (own) => ({
    cloth: async (ask) => {
      const cloth = await own.cloth(ask);
      const now = happens;
      happens = undefined;
      now?.();
      return cloth;
    },
  }));
  return { weave: new WeaveState(desk), during: (given) => (happens = given) };
}

it('shows and keeps the last number of strands asked for, though another was being found', async () => {
  const { weave, during } = laid();
  await weave.ask();
  during(() => void weave.setResolution(2));
  await weave.setResolution(0.5);
  expect(weave.cloth?.strands.resolution).toBe(2);
  expect(weave.kept).toMatchObject({ resolution: 2, chosen: true });
  expect(weave.kept.last).toHaveLength(weave.cloth!.strands.strands.length);
});

it('shows the number of strands asked for while the cloth was being laid for something else', async () => {
  const { weave, during } = laid();
  await weave.ask();
  during(() => void weave.setResolution(2));
  await weave.ask();
  expect(weave.cloth?.strands.resolution).toBe(2);
  expect(weave.kept).toMatchObject({ resolution: 2, chosen: true });
});

it('keeps nothing of one journal for another that was opened meanwhile', async () => {
  const { weave, during } = laid();
  weave.remember('one');
  let asked = weave.kept;
  during(() => {
    weave.remember('other');
    asked = weave.kept;
  });
  await weave.ask();
  expect(weave.kept).toBe(asked);
});
