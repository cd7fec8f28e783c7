/** Which kind of heading a new name most likely is of: the order in which making one is offered. */
import type { HeadingKind } from '../../journal/records';

const SMALL = /^(?:a|an|and|at|by|for|from|in|of|on|or|the|to|with)$/i;
const CAPITAL = /^\p{Lu}/u;

/** Capitals with small words between, or after an article, are a title; two or three and nothing else a person; all others a theme. */
export function kindsByName(name: string): HeadingKind[] {
  const words = name.trim().split(/\s+/).filter(Boolean);
  const big = words.filter((word) => CAPITAL.test(word) && !SMALL.test(word));
  const rest = words.filter((word) => !big.includes(word));
  const titled = rest.every((word) => SMALL.test(word)) && big.length > 0;
  if (titled && rest.length > 0 && words.length > 1) return ['book', 'theme', 'person'];
  if (titled && (big.length === 2 || big.length === 3)) return ['person', 'book', 'theme'];
  return ['theme', 'book', 'person'];
}
