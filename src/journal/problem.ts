/** A fault found in a journal: where (`entries/<id>/ties/0/heading`), a code to act on, a sentence to read. */
export interface Problem {
  path: string;
  code: string;
  message: string;
}

/** How many problems are told at most; a file with more is broken in one and the same way. */
export const MOST_PROBLEMS = 1000;
