/** Strands and chains as the command line tells them; apart from what every sitting needs, for what finds strands is heavy. */
import { plainText } from '../language/markdown';
import { chain } from '../weave/chain';
import { strands } from '../weave/strands';
import type { ChainResult, StrandsResult } from './answers';
import type { Core } from './core';
import { STRANDS_SEED } from './strands-held';

export function strandsResult(
  engine: Core,
  options: { seed?: number; resolution?: number } = {},
): StrandsResult {
  return strands(engine.weaveIndex, { seed: STRANDS_SEED, ...options });
}

/** The shortest chain told in words; no steps when nothing joins the two. */
export function chainResult(engine: Core, from: string, to: string): ChainResult {
  const { journal } = engine;
  const found = chain(engine.weaveIndex, from, to);
  if (!found) return { steps: [] };
  return {
    steps: found.steps.map(({ id, type, via }) => {
      const text =
        type === 'heading'
          ? (journal.tables.headings.get(id)?.name ?? '')
          : plainText(journal.tables.entries.get(id)?.text ?? '');
      return { id, type, text, ...(via === undefined ? {} : { via }) };
    }),
  };
}
