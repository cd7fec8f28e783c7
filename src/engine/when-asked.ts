/** A question of a part of the desk. */
type Question = (...args: unknown[]) => Promise<unknown>;

/** What is loaded when it is first asked for; a loading that fails is tried again at the next asking. */
export function once<T>(load: () => Promise<T>): () => Promise<T> {
  let loading: Promise<T> | undefined;
  return () =>
    (loading ??= load().catch((error: unknown) => {
      loading = undefined;
      throw error;
    }));
}

/** A part of the desk that is loaded {@link once} it is asked anything. */
export function whenAsked<Part extends object>(load: () => Promise<Part>): Part {
  const part = once(load);
  return new Proxy({} as Part, {
    get:
      (_, name: string): Question =>
      async (...args) =>
        ((await part()) as Record<string, Question>)[name]!(...args),
  });
}
