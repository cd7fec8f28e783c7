/** A question of a part of the desk. */
type Question = (...args: unknown[]) => Promise<unknown>;

/** A part of the desk that is loaded when it is first asked anything; a loading that fails is tried again at the next question. */
export function whenAsked<Part extends object>(load: () => Promise<Part>): Part {
  let loading: Promise<Part> | undefined;
  const part = (): Promise<Part> =>
    (loading ??= load().catch((error: unknown) => {
      loading = undefined;
      throw error;
    }));
  return new Proxy({} as Part, {
    get:
      (_, name: string): Question =>
      async (...args) =>
        ((await part()) as Record<string, Question>)[name]!(...args),
  });
}
