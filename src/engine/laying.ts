/** Laying a large neighbourhood by forces; asked for from a worker of its own, because it takes seconds. */
import { forcePlaces, type ForceInput } from '../weave/force';
import type { Point } from '../weave/rings';

export type LayingInput = ForceInput;

/** Where each node comes to rest; the same input gives the same places. */
export function settledPlaces(input: LayingInput): [string, Point][] {
  return [...forcePlaces(input)];
}
