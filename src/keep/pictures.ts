/** Pictures by digest, wherever they lie. */
interface PicturesBeside {
  put: (digest: string, bytes: Uint8Array, type: string) => Promise<void>;
  get: (digest: string) => Promise<{ bytes: Uint8Array; type: string } | undefined>;
  list: () => Promise<string[]>;
}

/** Pictures for as long as the store is open. */
export class PicturesInMemory implements PicturesBeside {
  #held = new Map<string, { bytes: Uint8Array; type: string }>();

  async put(digest: string, bytes: Uint8Array, type: string): Promise<void> {
    this.#held.set(digest, { bytes: bytes.slice(), type });
  }

  async get(digest: string): Promise<{ bytes: Uint8Array; type: string } | undefined> {
    return this.#held.get(digest);
  }

  async list(): Promise<string[]> {
    return [...this.#held.keys()];
  }
}
