/** Something the command line will not or cannot do, with one sentence for standard error. Ends the program with exit 2. */
export class Refusal extends Error {
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(message);
    this.name = 'Refusal';
  }
}
