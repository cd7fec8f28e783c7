import { Inflate } from 'fflate';
import { join, quadLow, wordLow } from './bytes';
import { MOST_UNPACKED_BYTES, MOST_ZIP_MEMBERS, megabytes } from './limits';
import { Unreadable, type Watch } from './watch';
import { windows1252 } from './windows-1252';

interface Member {
  name: string;
  method: number;
  locked: boolean;
  crc: number;
  packed: number;
  /** Bytes unpacked, as the zip says: not to be believed. */
  says: number;
  at: number;
}

/** How many bytes may still be unpacked; one for a zip and all zips inside it. */
export interface Budget {
  left: number;
}

export function newBudget(): Budget {
  return { left: MOST_UNPACKED_BYTES };
}

const END_OF_DIRECTORY = 0x06054b50;
const DIRECTORY_ENTRY = 0x02014b50;
const LOCAL_HEADER = 0x04034b50;
const PUSH_BYTES = 8 * 1024;

/**
 * A zip (PKWARE APPNOTE 6.3) whose members are unpacked one at a time, counted as they come out: a member is never believed in
 * what it says of its own size. Sums are checked, so that damage is told and not read as text.
 */
export class Zip {
  readonly #members = new Map<string, Member>();

  private constructor(
    private readonly bytes: Uint8Array,
    private readonly watch: Watch,
    private readonly budget: Budget,
    private readonly mostMembers: number,
  ) {}

  /** Throws `Unreadable` where the directory at the end of the zip is missing, damaged or too long. */
  static open(
    bytes: Uint8Array,
    watch: Watch,
    budget: Budget,
    mostMembers = MOST_ZIP_MEMBERS,
  ): Zip {
    const zip = new Zip(bytes, watch, budget, mostMembers);
    zip.#readDirectory();
    return zip;
  }

  /** Paths of files, folders left out, in the order of the directory. */
  get names(): string[] {
    return [...this.#members.keys()].filter((name) => !name.endsWith('/'));
  }

  has(name: string): boolean {
    return this.#members.has(name);
  }

  /** How many bytes the zip says a member unpacks to. */
  says(name: string): number {
    return this.#members.get(name)?.says ?? 0;
  }

  /** The bytes of a member. Throws `Unreadable` where it is missing, locked, damaged or longer than `most`. */
  async read(name: string, most = MOST_UNPACKED_BYTES): Promise<Uint8Array> {
    const member = this.#members.get(name);
    if (!member) throw damaged();
    if (member.locked) {
      throw new Unreadable(
        'locked',
        'This file is locked with a password. Open it where you made it, save it without one, and gather it again.',
      );
    }
    const at = member.at;
    if (quadLow(this.bytes, at) !== LOCAL_HEADER) throw damaged();
    const from = at + 30 + wordLow(this.bytes, at + 26) + wordLow(this.bytes, at + 28);
    const packed = this.bytes.subarray(from, from + member.packed);
    if (packed.length < member.packed) throw damaged();
    const whole = await this.#unpack(member, packed, most);
    if (crc32(whole) !== member.crc) throw damaged();
    return whole;
  }

  async #unpack(member: Member, packed: Uint8Array, most: number): Promise<Uint8Array> {
    if (member.method === 0) {
      this.#spend(packed.length, packed.length, most);
      return packed;
    }
    if (member.method !== 8) {
      throw new Unreadable(
        'unknown-format',
        'This file is packed in an unusual way. Unpack it on your computer and gather what was inside.',
      );
    }
    const chunks: Uint8Array[] = [];
    let total = 0;
    const inflate = new Inflate((chunk) => {
      total += chunk.length;
      this.#spend(chunk.length, total, most);
      chunks.push(chunk);
    });
    for (let at = 0; at < packed.length || at === 0; at += PUSH_BYTES) {
      try {
        inflate.push(packed.subarray(at, at + PUSH_BYTES), at + PUSH_BYTES >= packed.length);
      } catch (error) {
        if (error instanceof Unreadable) throw error;
        throw damaged();
      }
      await this.watch.rest();
    }
    return join(chunks);
  }

  #spend(bytes: number, total: number, most: number): void {
    this.budget.left -= bytes;
    if (total <= most && this.budget.left >= 0) return;
    const limit = megabytes(total > most ? most : MOST_UNPACKED_BYTES);
    throw new Unreadable(
      'too-large',
      `Unpacked, this comes to more than ${limit}, which is more than is read at once. Unpack it on your computer and gather its parts.`,
    );
  }

  #readDirectory(): void {
    const end = this.#findEnd();
    const count = wordLow(this.bytes, end + 10);
    const size = quadLow(this.bytes, end + 12);
    if (count > this.mostMembers) {
      throw new Unreadable(
        'too-many',
        `This zip holds more than ${this.mostMembers.toLocaleString('en-GB')} files. Unpack it and gather its folders one by one.`,
      );
    }
    // Whatever stands before the zip in the same file shifts every offset by as much.
    const shift = end - size - quadLow(this.bytes, end + 16);
    let at = end - size;
    if (at < 0 || shift < 0) throw damaged();
    for (let index = 0; index < count; index += 1) {
      if (quadLow(this.bytes, at) !== DIRECTORY_ENTRY) throw damaged();
      const nameLength = wordLow(this.bytes, at + 28);
      const flags = wordLow(this.bytes, at + 8);
      const name = memberName(this.bytes.subarray(at + 46, at + 46 + nameLength));
      this.#members.set(name, {
        name,
        method: wordLow(this.bytes, at + 10),
        locked: (flags & 1) === 1,
        crc: quadLow(this.bytes, at + 16),
        packed: quadLow(this.bytes, at + 20),
        says: quadLow(this.bytes, at + 24),
        at: quadLow(this.bytes, at + 42) + shift,
      });
      at += 46 + nameLength + wordLow(this.bytes, at + 30) + wordLow(this.bytes, at + 32);
    }
  }

  /** The end record is followed by a comment of up to 65,535 bytes. */
  #findEnd(): number {
    const last = this.bytes.length - 22;
    for (let at = last; at >= Math.max(0, last - 0xffff); at -= 1) {
      if (this.bytes[at] === 0x50 && quadLow(this.bytes, at) === END_OF_DIRECTORY) return at;
    }
    throw damaged();
  }
}

function damaged(): Unreadable {
  return new Unreadable(
    'damaged',
    'This file is damaged or cut short: what it holds cannot be unpacked. If you have another copy, gather that one.',
  );
}

function memberName(bytes: Uint8Array): string {
  let name: string;
  try {
    name = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    name = windows1252(bytes);
  }
  return name.replace(/\\/g, '/').replace(/^(?:\.{0,2}\/)+/, '');
}

let table: Uint32Array | undefined;

/** CRC-32 as in ISO 3309, reflected, polynomial 0xEDB88320. */
export function crc32(bytes: Uint8Array): number {
  table ??= Uint32Array.from({ length: 256 }, (_, index) => {
    let value = index;
    for (let bit = 0; bit < 8; bit += 1)
      value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
    return value;
  });
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (table[(crc ^ byte) & 0xff] ?? 0) ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}
