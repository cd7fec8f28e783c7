/** What a command hands back: an answer for `--json`, the same told for people, and the exit code. */
export interface Told {
  answer: unknown;
  text: string;
  exit?: 0 | 1 | 2;
}

export type Command = (args: string[]) => Promise<Told>;
