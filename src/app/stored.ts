/** Things put by in this browser as JSON. A browser may store no more, or nothing at all: that is never an error here. */

/** What is put by under a name, as it was given; undefined where there is nothing that can be read. */
export function readStored<T>(name: string): T | undefined {
  try {
    return (JSON.parse(localStorage.getItem(name) ?? 'null') as T | null) ?? undefined;
  } catch {
    return undefined;
  }
}

/** The names that begin so under which something is put by. */
export function storedNames(begin: string): string[] {
  try {
    const names = Array.from({ length: localStorage.length }, (_, at) => localStorage.key(at));
    return names.filter((name) => name !== null).filter((name) => name.startsWith(begin));
  } catch {
    return [];
  }
}

/** Whether it could be put by. */
export function store(name: string, value: unknown): boolean {
  try {
    localStorage.setItem(name, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

export function forget(name: string): void {
  try {
    localStorage.removeItem(name);
  } catch {
    // Nothing was stored then.
  }
}
