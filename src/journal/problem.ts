/** A fault found in a journal: where (`entries/<id>/ties/0/heading`), a code to act on, a sentence to read. */
export interface Problem {
  path: string;
  code: string;
  message: string;
}

/** How many problems are told at most; a file with more is broken in one and the same way. */
export const MOST_PROBLEMS = 1000;

/**
 * Adds a problem unless enough are told already, so that a file made to be faulty costs no more memory than one that is.
 */
export function tell<P extends Problem>(problems: P[], problem: P): void {
  if (problems.length < MOST_PROBLEMS) problems.push(problem);
}
