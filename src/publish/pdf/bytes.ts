/** Reading and writing of big-endian bytes. */

/** Reading past the end throws, as damaged files must. */
export class Reader {
  at = 0;
  readonly #view: DataView;

  constructor(readonly source: Uint8Array) {
    this.#view = new DataView(source.buffer, source.byteOffset, source.byteLength);
  }

  skip(count: number): void {
    this.at += count;
  }

  u8(): number {
    return this.#view.getUint8(this.at++);
  }

  u16(): number {
    this.at += 2;
    return this.#view.getUint16(this.at - 2);
  }

  i16(): number {
    this.at += 2;
    return this.#view.getInt16(this.at - 2);
  }

  u32(): number {
    this.at += 4;
    return this.#view.getUint32(this.at - 4);
  }

  tag(): string {
    return String.fromCharCode(this.u8(), this.u8(), this.u8(), this.u8());
  }

  bytes(length: number): Uint8Array {
    if (this.at + length > this.source.length) throw new RangeError('The file ends too early.');
    this.at += length;
    return this.source.subarray(this.at - length, this.at);
  }

  /** UIntBase128 of WOFF2, section 4.1: seven bits a byte, highest first. */
  base128(): number {
    let value = 0;
    for (let count = 0; count < 5; count += 1) {
      const byte = this.u8();
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
    throw new RangeError('A number in the file is too long.');
  }

  /** 255UInt16 of WOFF2, section 4.1: one byte for what is small. */
  short(): number {
    const code = this.u8();
    if (code === 253) return this.u16();
    if (code === 255) return this.u8() + 253;
    if (code === 254) return this.u8() + 506;
    return code;
  }
}

export class Writer {
  #bytes = new Uint8Array(1024);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  #room(more: number): void {
    if (this.#length + more <= this.#bytes.length) return;
    const larger = new Uint8Array(Math.max(this.#bytes.length * 2, this.#length + more));
    larger.set(this.#bytes);
    this.#bytes = larger;
  }

  u8(value: number): void {
    this.#room(1);
    this.#bytes[this.#length++] = value;
  }

  u16(value: number): void {
    this.u8(value >> 8);
    this.u8(value);
  }

  i16(value: number): void {
    this.u16(value & 0xffff);
  }

  u32(value: number): void {
    this.u16(value >>> 16);
    this.u16(value);
  }

  bytes(more: Uint8Array): void {
    this.#room(more.length);
    this.#bytes.set(more, this.#length);
    this.#length += more.length;
  }

  /** Noughts up to a multiple of `unit`. */
  pad(unit: number): void {
    while (this.#length % unit !== 0) this.u8(0);
  }

  whole(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }
}
